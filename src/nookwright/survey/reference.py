"""The parts of the docs that follow from the models: the schema, the tables of keys, the list of published sizes.

``python -m nookwright.survey.reference docs`` renews ``docs/room.schema.json`` and the tables in
``docs/room-file.md``; a test fails while they are not current.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from nookwright.survey.schema import Node, in_words, node_at, room_schema
from nookwright.survey.standards import all_standards

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.survey.locate import Path as KeyPath

SCHEMA_FILE = "room.schema.json"
PAGE_FILE = "room-file.md"

_TABLES: dict[str, KeyPath] = {
    "file": (),
    "room": ("room",),
    "module": ("module",),
    "choices": ("choices",),
    "space": ("space", 0),
    "blocked": ("space", 0, "blocked", 0),
    "lean": ("space", 0, "lean"),
    "lump": ("space", 0, "lump", 0),
    "passes under": ("space", 0, "passes_under", 0),
    "furniture": ("furniture", 0),
    "bottom": ("space", 0, "bottom"),
    "lot": ("lot", 0),
    "tray": ("lot", 0, "tray"),
    "blade": ("lot", 0, "blade"),
    "pull": ("lot", 0, "pull"),
    "tray defaults": ("choices", "tray"),
    "process": ("process", 0),
    "standard": ("standard", 0),
    "printer": ("printer", 0),
    "profile": ("printer", 0, "profile"),
    "skirt": ("printer", 0, "profile", "skirt"),
    "coupon": ("coupon", 0),
    "material": ("material", 0),
    "sheet": ("material", 0, "sheet"),
    "found": ("found", 0),
    "weights": ("choices", "weights"),
    "place": ("place", 0),
    "box": ("box", 0),
    "making": ("making",),
    "week": ("making", "there"),
    "running": ("printer", 0, "running"),
    "keep out": ("printer", 0, "keep_out", 0),
    "one by one": ("printer", 0, "one_by_one"),
    "printed on": ("making", "printed_on", 0),
    "sawing": ("making", "sawing"),
    "spool": ("spool", 0),
    "costs": ("costs",),
}


def schema_text() -> str:
    """The JSON Schema as a file."""
    return json.dumps(room_schema(), indent=2, ensure_ascii=False) + "\n"


def key_table(path: KeyPath) -> str:
    """The keys of one table as a table in Markdown: key, what it may be, default, meaning."""
    node = node_at(path) or {}
    needed = set(node.get("required", ()))
    rows = [
        (f"`{key}`", in_words(part), _default(part, needed=key in needed), str(part.get("description", "")))
        for key, part in node["properties"].items()
    ]
    return _markdown(("key", "what it may be", "default", "meaning"), rows)


def _default(part: Node, *, needed: bool) -> str:
    """The default of a key in words."""
    if needed:
        return "must be given"
    value = part.get("default")
    return "left out" if value in (None, "", [], {}) else f"`{json.dumps(value, ensure_ascii=False)}`"


def standards_table() -> str:
    """The list of published sizes as a table in Markdown."""
    rows = []
    for size in all_standards():
        name = " or ".join(f"`{one}`" for one in (size.designation, *size.aliases))
        sides = ", ".join(f"{side} {limits.largest:g}" for side, limits in size.dimensions.items())
        mass = f"{size.mass_g:g}" if size.mass_g is not None else "give `mass_g`"
        rows.append((name, size.what, sides, mass, f"{size.source}: {size.sureness}"))
    return _markdown(("designation", "what", "largest, mm", "mass, g", "source"), rows)


def _markdown(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """A table in Markdown."""
    lines = [head, ["---"] * len(head), *rows]
    return "\n".join("| " + " | ".join(cell.replace("|", "\\|") for cell in line) + " |" for line in lines)


def renewed(page: str) -> str:
    """A page with all of its tables made anew between ``<!-- name -->`` and ``<!-- end -->``."""
    tables = {name: key_table(path) for name, path in _TABLES.items()} | {"standards": standards_table()}
    for name, table in tables.items():
        head, mark, rest = page.partition(f"<!-- {name} -->\n")
        _, end, tail = rest.partition("<!-- end -->")
        if mark and end:
            page = f"{head}{mark}\n{table}\n\n{end}{tail}"
    return page


def _missing_tables(page: str) -> Iterator[str]:
    """Tables that a page has no place for."""
    return (name for name in (*_TABLES, "standards") if f"<!-- {name} -->\n" not in page)


def renew(folder: Path) -> tuple[Path, ...]:
    """Write the schema and the tables of the page anew; returns the files written.

    Raises:
        ValueError: if the page has no place for one of the tables.
    """
    page = folder / PAGE_FILE
    text = page.read_text(encoding="utf-8")
    for name in _missing_tables(text):
        raise ValueError(f"{page} has no line <!-- {name} -->; add it and a line <!-- end --> below it")
    page.write_text(renewed(text), encoding="utf-8")
    (folder / SCHEMA_FILE).write_text(schema_text(), encoding="utf-8")
    return (folder / SCHEMA_FILE, page)


if __name__ == "__main__":
    for written in renew(Path(sys.argv[1])):
        sys.stdout.write(f"{written}\n")
