"""The writer of drawings."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.exchange import svg
from nookwright.exchange.svg import Anchor, Box, Font, Pen

if TYPE_CHECKING:
    from nookwright.exchange.svg import Canvas

NUMBERS = st.floats(-1e6, 1e6)
SVG = "{http://www.w3.org/2000/svg}"


def sheet() -> Canvas:
    """An empty drawing."""
    return svg.drawing(100, 50, title="T", description="D", family="sans-serif")


@given(NUMBERS)
def test_numbers_are_near_and_short(value: float) -> None:
    """A number is written to half a hundredth, without exponent, minus nought or trailing noughts."""
    text = svg.number(value)
    assert abs(float(text) - value) <= 0.0051
    assert "e" not in text
    assert text != "-0"
    assert not ("." in text and text.endswith(("0", ".")))


@pytest.mark.parametrize("value", [math.inf, -math.inf, math.nan])
def test_numbers_must_be_finite(value: float) -> None:
    """What no viewer could draw is refused, with the value."""
    with pytest.raises(ValueError, match="finite"):
        svg.number(value)


@given(st.text(max_size=50))
def test_any_text_gives_valid_xml(text: str) -> None:
    """Whatever a name holds, the file can be parsed and holds the name, less what XML cannot hold."""
    canvas = svg.drawing(10, 10, title=text, description=text, family="serif")
    canvas.text((1, 1), text, Font(3, "#000000"))
    root = ET.fromstring(svg.to_text(canvas).encode("utf-8"))  # noqa: S314 - our own file
    found = root.findtext(f"{SVG}text") or ""
    assert found.replace("\n", "\r") == svg.clean(text).replace("\r\n", "\r").replace("\n", "\r")


def test_the_sheet_has_its_size_in_mm() -> None:
    """One unit of the drawing is a millimetre of paper."""
    root = ET.fromstring(svg.to_text(sheet()))  # noqa: S314 - our own file
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("100mm", "50mm", "0 0 100 50")


def test_attributes_stand_in_a_fixed_order() -> None:
    """The text of an element is always the same, letter by letter."""
    canvas = sheet()
    canvas.rect(Box(1, 2, 3, 4), pen=Pen("#123456", 0.25, (1, 0.5)), fill="#ffffff", radius=9, name="n")
    canvas.text((1, 2), "x", Font(3, "#000000", bold=True), anchor=Anchor.END, upwards=True)
    text = svg.to_text(canvas)
    assert (
        '<rect class="n" x="1" y="2" width="3" height="4" rx="1.5" fill="#ffffff"'
        ' stroke="#123456" stroke-width="0.25" stroke-dasharray="1 0.5" />' in text
    )
    assert (
        '<text x="1" y="2" font-size="3" fill="#000000" font-weight="bold" text-anchor="end"'
        ' transform="rotate(-90 1 2)">x</text>' in text
    )


def test_no_lines_give_no_path() -> None:
    """An empty hatching writes nothing."""
    canvas = sheet()
    canvas.lines([], Pen("#000000", 1))
    assert "path" not in svg.to_text(canvas)


def test_boxes_that_only_touch_do_not_meet() -> None:
    """Shared edges are no shared area; a box holds itself."""
    one, beside, over = Box(0, 0, 2, 2), Box(2, 0, 2, 2), Box(1, 1, 2, 2)
    assert not one.meets(beside)
    assert one.meets(over)
    assert one.holds(one)
    assert not one.holds(over)
    assert one.inset(0.5) == Box(0.5, 0.5, 1, 1)
