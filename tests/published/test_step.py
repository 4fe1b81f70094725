"""STEP files against the grammar of ISO 10303-21:2016, clear text encoding of the exchange structure."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from nookwright.exchange.step import write_step
from nookwright.shapes.regions import Circle, Rect
from nookwright.shapes.solids import Bowl, Difference, Move, Prism, Taper

if TYPE_CHECKING:
    from pathlib import Path

TRAY = Difference(
    Prism(Rect(36, 36, 5), 20),
    (Move(Bowl(33.6, 33.6, 3.8, 3, 20), 1.2, 1.2, 4), Move(Taper(Circle(4), 3.5, 0.9), 9, 9, -0.5)),
)


@pytest.fixture(scope="module")
def text(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A STEP file of ours, without its line breaks."""
    path: Path = tmp_path_factory.mktemp("step") / "part.step"
    write_step(path, TRAY, "tray")
    return path.read_bytes().decode("ascii").replace("\n", "")


def test_sections_stand_in_the_order_of_clause_5(text: str) -> None:
    """Exchange structure: the magic words, one header, one data section, the end."""
    assert re.fullmatch(r"ISO-10303-21;HEADER;.*?ENDSEC;DATA;.*?ENDSEC;END-ISO-10303-21;\s*", text)


def test_the_header_has_its_three_entities_in_order(text: str) -> None:
    """Clause 8.2: FILE_DESCRIPTION, FILE_NAME, FILE_SCHEMA, the schema with AP242's object identifier."""
    head = text[: text.index("ENDSEC;")]
    order = [head.index(f"{entity}(") for entity in ("FILE_DESCRIPTION", "FILE_NAME", "FILE_SCHEMA")]
    assert order == sorted(order)
    assert re.search(r"\{\s*1 0 10303 442 ", head)


def test_every_instance_is_there_once_and_every_reference_has_one(text: str) -> None:
    """Clause 6.4: an entity instance name is unique, and what is referred to exists."""
    data = re.sub(r"'(?:[^']|'')*'", "''", text[text.index("DATA;") :])
    names = re.findall(r"(?:^|;)\s*(#\d+)\s*=", data.removeprefix("DATA"))
    assert len(names) == len(set(names))
    assert set(re.findall(r"#\d+", data)) == set(names)


def test_the_solid_is_a_closed_shell_of_advanced_faces(text: str) -> None:
    """One manifold_solid_brep, as ISO 10303-514 (advanced boundary representation) has it, with elementary surfaces."""
    assert len(re.findall(r"=\s*MANIFOLD_SOLID_BREP\(", text)) == 1
    assert len(re.findall(r"=\s*CLOSED_SHELL\(", text)) == 1
    shell = re.search(r"=\s*CLOSED_SHELL\('',\(([^)]*)\)", text)
    assert shell is not None
    assert len(shell[1].split(",")) == len(re.findall(r"=\s*ADVANCED_FACE\(", text))
    assert {"PLANE", "CYLINDRICAL_SURFACE", "CONICAL_SURFACE"} <= set(re.findall(r"=\s*([A-Z_]+)\(", text))
