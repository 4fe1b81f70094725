"""Renew what the docs take from the program: the table of facts, the references, the schemas, the demo's plans.

::

    python -m uv run python scripts/renew_docs.py
"""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

import nookwright
from nookwright.build import build
from nookwright.ground.progress import Silent
from nookwright.ground.sources import FactRow, facts_of
from nookwright.survey.rooms import demo_path

ROOT = Path(__file__).resolve().parent.parent
DOCS = ROOT / "docs"

FACTS_HEAD = """# Numbers that decide something

Made from the program by `scripts/renew_docs.py`. Kinds of source: a standard, a handbook, calculated (the calculation
stands in the reason or in a test), measured, common practice without a source, from memory, our own choice.
"""


TABLE_HEAD = "| name | value | unit | kind | why |\n|---|---|---|---|---|"


def facts_page() -> str:
    """The table of all facts, one section a module."""
    lines, module = [FACTS_HEAD], ""
    for row in facts_of(nookwright):
        if row.module != module:
            module = row.module
            lines.append(f"\n## {module.removeprefix('nookwright.')}\n\n{TABLE_HEAD}")
        lines.append(_line(row))
    return "\n".join(lines) + "\n"


def _line(row: FactRow) -> str:
    return f"| `{row.name}` | {row.value:g} | {row.unit} | {row.kind} | {row.source} |"


def demo_plans() -> None:
    """The demo's plans, as the tool draws them."""
    pictures = DOCS / "pictures"
    pictures.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, demo_path() as room:
        kit = Path(folder) / "kit"
        build(room, kit, progress=Silent())
        for old in pictures.glob("plan-*.svg"):
            old.unlink()
        for plan in sorted((kit / "plans").glob("*.svg")):
            shutil.copy(plan, pictures / f"plan-{plan.name}")


def main() -> None:
    """Renew all of it."""
    (DOCS / "facts.md").write_text(facts_page(), encoding="utf-8")
    demo_plans()
    print("renewed docs/facts.md and docs/pictures")


if __name__ == "__main__":
    main()
