"""Renew the tables of docs/proving.md: the faults that are sown on purpose, and every code that proving may find.

::

    python -m uv run python scripts/renew_proving.py

What stands between two marks is made here, all else in the page is written by hand. The plot and the table of growth
are made from docs/proving-growth.json, which ``benchmarks/proving/growth.py`` writes.
"""

from __future__ import annotations

import json
import re
import sys
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.append(str(ROOT))

from benchmarks.proving.growth_page import growth_plot, growth_table  # noqa: E402 - the root must be known first
from tests.faults.codes import codes_said, load_faults  # noqa: E402
from tests.faults.table import FAULTS, TWICE, Fault  # noqa: E402

PAGE = ROOT / "docs" / "proving.md"
PLOT = ROOT / "docs" / "pictures" / "proving-growth.svg"
GROWTH = ROOT / "docs" / "proving-growth.json"


def faults_table() -> str:
    """The table of faults, by where they are."""
    load_faults()
    rows = ["| what is wrong | found as | severity | size | limit | twin |", "|---|---|---|---|---|---|"]
    area = ""
    for fault in sorted(FAULTS, key=lambda one: (one.area, one.name)):
        if fault.area != area:
            area = fault.area
            rows.append(f"| **{area}** | | | | | |")
        rows.append(_row(fault))
    return "\n".join(rows)


def _row(fault: Fault) -> str:
    size, twin = (f"{TWICE:g}", f"{fault.twin:g}") if fault.twin else ("", "")
    return f"| {fault.name} | `{fault.code}` | {fault.severity.value} | {size} | {fault.limit} | {twin} |"


def codes_table() -> str:
    """The table of codes: where each is said, how severe it may be, and how many faults of the table come to it."""
    load_faults()
    sown = Counter(fault.code for fault in FAULTS)
    limits = {fault.code: fault.limit for fault in FAULTS if fault.limit}
    rows = ["| code | severity | said in | faults | limit |", "|---|---|---|---|---|"]
    for said in codes_said():
        severities = ", ".join(said.severities)
        count = sown[said.code] or ""
        rows.append(f"| `{said.code}` | {severities} | `{said.module}` | {count} | {limits.get(said.code, '')} |")
    return "\n".join(rows)


def renewed(page: str) -> str:
    """The page with everything between marks made anew.

    Args:
        page: as it is.
    """
    load_faults()
    made = {
        "faults": faults_table(),
        "codes": codes_table(),
        "growth": growth_table(GROWTH),
        "count": f"{len(FAULTS)} faults, {sum(fault.twin > 0 for fault in FAULTS)} of them with a size and a twin.",
    }
    for name, text in made.items():
        mark = re.compile(rf"(<!-- {name} -->\n).*?(<!-- end of {name} -->)", re.DOTALL)
        page = mark.sub(lambda found, text=text: f"{found[1]}{text}\n{found[2]}", page)  # type: ignore[misc]
    return page


def main() -> None:
    """Renew the page."""
    found = json.loads(GROWTH.read_text(encoding="utf-8"))
    PLOT.write_text(growth_plot(found["rows"], found["slope"]), encoding="utf-8", newline="\n")
    PAGE.write_text(renewed(PAGE.read_text(encoding="utf-8")), encoding="utf-8", newline="\n")
    print(f"renewed {PAGE.relative_to(ROOT)} and its plot")


if __name__ == "__main__":
    main()
