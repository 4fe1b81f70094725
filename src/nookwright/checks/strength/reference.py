"""The table of plastics in the docs, made from the one that the checks use.

``python -m nookwright.checks.strength.reference docs`` renews the table in ``docs/strength.md``; a test fails while it
is not current.
"""

from __future__ import annotations

import sys
from dataclasses import fields
from pathlib import Path

from nookwright.checks.strength.plastics import TABLE, Plastic
from nookwright.ground.sources import Fact

PAGE_FILE = "strength.md"
_START, _END = "<!-- plastics -->", "<!-- end -->"
_HEADS = {
    "modulus_mpa": ("modulus", 1.0, "MPa"),
    "strength_mpa": ("strength along the layers", 1.0, "MPa"),
    "across": ("of it across the layers", 100.0, "%"),
    "years": ("of it for years", 100.0, "%"),
    "creep": ("modulus left after years", 100.0, "%"),
    "strain": ("stretch, once", 100.0, "%"),
    "expansion_per_k": ("growth", 1e6, "um/(m K)"),
    "softens_c": ("softens at", 1.0, "deg C"),
    "most_c": ("may stay at", 1.0, "deg C"),
    "density_g_cm3": ("density", 1.0, "g/cm3"),
}


def plastics_table() -> str:
    """All figures of all kinds as a table in Markdown, and where each is from."""
    kinds = tuple(TABLE.values())
    lines = ["| | unit | " + " | ".join(one.name for one in kinds) + " |", "| --- | --- |" + " --- |" * len(kinds)]
    for key, (head, times, unit) in _HEADS.items():
        lines.append(f"| {head} | {unit} | " + " | ".join(f"{getattr(one, key) * times:.4g}" for one in kinds) + " |")
    lines += ["", *(line for one in kinds for line in _sources(one))]
    return "\n".join(lines)


def _sources(plastic: Plastic) -> list[str]:
    """Where the figures of one kind are from, each once."""
    found = [f"* **{plastic.name}**"]
    for field in fields(plastic):
        value = getattr(plastic, field.name)
        if isinstance(value, Fact):
            found.append(f"    * {_HEADS[field.name][0]}: {value.kind.value}. {value.source}")
    return found


def renewed(page: str) -> str:
    """A page with the table between its marks made anew."""
    head, start, rest = page.partition(f"{_START}\n")
    _, end, tail = rest.partition(_END)
    return f"{head}{start}\n{plastics_table()}\n\n{end}{tail}" if start and end else page


def renew(folder: Path) -> Path:
    """Write the table of the page anew.

    Args:
        folder: of the docs.
    """
    page = folder / PAGE_FILE
    page.write_text(renewed(page.read_text(encoding="utf-8")), encoding="utf-8")
    return page


if __name__ == "__main__":
    sys.stdout.write(f"{renew(Path(sys.argv[1]))}\n")
