from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.exchange.dxf import dxf
from nookwright.parts.trays.bent_plan import BentPlan, Missing
from nookwright.parts.trays.inlay import bent_inlay_outline, inlay_outline
from nookwright.shapes.regions import Path

if TYPE_CHECKING:
    from nookwright.module.module import Module

Vertex = tuple[float, float, float]


def pairs(text: str) -> list[tuple[int, str]]:
    """A file as group codes and values: two lines each, as the format has it."""
    lines = text.split("\r\n")
    assert lines.pop() == ""
    assert len(lines) % 2 == 0
    return [(int(code), value) for code, value in zip(lines[::2], lines[1::2], strict=True)]


def read(text: str) -> tuple[dict[str, list[str]], list[list[Vertex]]]:
    """Header variables and closed polylines: a reader of its own, made after the format's reference alone."""
    header: dict[str, list[str]] = {}
    outlines: list[list[Vertex]] = []
    section, entity, variable = "", "", ""
    vertex: dict[int, float] = {}
    stream = iter([*pairs(text), (0, "end of file")])
    for code, value in stream:
        if code == 0:
            if entity == "VERTEX":
                outlines[-1].append((vertex[10], vertex[20], vertex.get(42, 0.0)))
            entity, vertex = value, {}
            if value == "POLYLINE":
                outlines.append([])
        elif code == 2 and entity == "SECTION":
            section = value
        elif section == "HEADER":
            variable = value if code == 9 else variable
            header.setdefault(variable, []).extend([value] if code != 9 else [])
        elif entity == "POLYLINE" and code == 70:
            assert int(value) & 1
        elif entity == "VERTEX" and code in (10, 20, 42):
            vertex[code] = float(value)
    return header, outlines


def area(outline: list[Vertex]) -> float:
    """Area inside lines and arcs: corners by the shoelace rule, a segment r^2 (a - sin a) / 2 for each arc."""
    total = 0.0
    for (x0, y0, bulge), (x1, y1, _) in zip(outline, [*outline[1:], outline[0]], strict=True):
        total += (x0 * y1 - x1 * y0) / 2
        if bulge:
            angle = 4 * math.atan(bulge)
            radius = math.dist((x0, y0), (x1, y1)) / 2 / math.sin(angle / 2)
            total += radius**2 / 2 * (angle - math.sin(angle))
    return total


def test_an_inlay_is_read_back(module: Module) -> None:
    """One closed polyline of 8 corners with round ones of 1.8: 101 x 137 less what the corners lack."""
    header, (outline,) = read(dxf([inlay_outline(module, 6, 8)]))
    assert area(outline) == pytest.approx(101 * 137 - (4 - math.pi) * 1.8**2, rel=1e-6)
    assert [round(bulge, 6) for _, _, bulge in outline if bulge] == [round(math.tan(math.pi / 8), 6)] * 4
    assert (min(x for x, _, _ in outline), max(y for _, y, _ in outline)) == (0, 137)
    assert (header["$EXTMIN"], header["$EXTMAX"]) == (["0.0", "0.0", "0.0"], ["101.0", "137.0", "0.0"])


def test_the_file_says_its_unit_and_release() -> None:
    """Millimetres, and the release whose polylines every cutter reads; it opens with a comment and ends with EOF."""
    text = dxf([Path(((0, 0, 0), (9, 0, 0), (9, 5, 0)))])
    header, _ = read(text)
    assert (header["$INSUNITS"], header["$ACADVER"]) == (["4"], ["AC1009"])
    assert pairs(text)[0] == (999, "outlines to cut, scale 1:1, units: millimetres")
    assert pairs(text)[-1] == (0, "EOF")


@given(
    st.lists(
        st.tuples(st.floats(1, 900), st.floats(1, 900), st.just(0.0) | st.floats(0.01, 0.4), st.floats(-500, 500)),
        min_size=1,
        max_size=4,
    )
)
def test_any_outlines_come_back_as_they_were(sizes: list[tuple[float, float, float, float]]) -> None:
    """Corners and bulges to a micron, each outline in its place and order."""
    paths = [Path(((x, x, bulge), (x + wide, x, 0), (x + wide, x + deep, 0))) for wide, deep, bulge, x in sizes]
    _, outlines = read(dxf(paths))
    assert len(outlines) == len(paths)
    for path, outline in zip(paths, outlines, strict=True):
        assert [number for corner in outline for number in corner] == pytest.approx(
            [number for corner in path.points for number in corner], abs=1e-6
        )


def test_every_entity_lies_on_a_layer_that_is_declared(module: Module) -> None:
    """Readers of release 12 refuse names that no table holds."""
    found = pairs(dxf([bent_inlay_outline(BentPlan(module, 6, 5, Missing(3, 3, 3, 2)))]))
    entities = found[found.index((2, "ENTITIES")) :]
    tables = found[: found.index((2, "ENTITIES"))]
    layers = {value for code, value in entities if code == 8}
    assert layers == {"CUT"}
    assert all((2, layer) in tables for layer in layers)
    assert (6, "CONTINUOUS") in tables
    assert (2, "CONTINUOUS") in tables
    assert entities.count((0, "POLYLINE")) == entities.count((0, "SEQEND")) == 1


def test_the_same_outlines_give_the_same_bytes_and_none_are_an_error(module: Module) -> None:
    """No date, no handle, no minus zero."""
    outline = inlay_outline(module, 3, 4)
    assert dxf([outline]) == dxf([inlay_outline(module, 3, 4)])
    assert "-0.0\r\n" not in dxf([Path(((-0.00001, 0, 0), (9, 0, 0), (9, 5, 0)))])
    with pytest.raises(ValueError, match="one outline or more"):
        dxf([])
