"""Dimension lines."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.documents import dimensions
from nookwright.documents.sheet import View
from nookwright.exchange import svg

SVG = "{http://www.w3.org/2000/svg}"


def drawn(segments: list[tuple[float, float]], *, upwards: bool) -> ET.Element:
    """The drawing of some dimensions at 1 : 5."""
    canvas = svg.drawing(200, 200, title="", description="", family="serif")
    draw = dimensions.draw_upwards if upwards else dimensions.draw_across
    draw(canvas, View(50, 150, 5), segments, 7)
    return ET.fromstring(svg.to_text(canvas))  # noqa: S314 - our own file


@given(st.lists(st.tuples(st.floats(0, 30), st.floats(5, 200)), max_size=8), st.floats(0, 50))
def test_a_chain_covers_the_space(steps: list[tuple[float, float]], rest: float) -> None:
    """Parts and wide gaps follow each other from wall to wall; what is left out is play, under 2 mm a gap."""
    at, segments = 0.0, []
    for gap, length in steps:
        segments.append((at + gap, at + gap + length))
        at += gap + length
    chain = dimensions.chain(segments, end=at + rest)
    assert set(segments) <= set(chain)
    assert all(start < stop for start, stop in chain)
    assert all(one[1] <= other[0] + 1e-9 for one, other in pairwise(chain))
    if segments:
        missing = at + rest - sum(stop - start for start, stop in chain)
        assert -1e-6 <= missing < 2 * (len(segments) + 1)


@pytest.mark.parametrize("upwards", [False, True])
def test_the_figure_is_the_length(upwards: bool) -> None:  # noqa: FBT001 - a case, not an option
    """A dimension of 107.4 mm is 21.48 of paper long at 1 : 5 and says 107.4 in its middle."""
    root = drawn([(10, 117.4)], upwards=upwards)
    line = root.find(f"{SVG}line")
    text = root.find(f"{SVG}text")
    assert line is not None
    assert text is not None
    along = ("y1", "y2") if upwards else ("x1", "x2")
    ends = [float(line.get(key, "")) for key in along]
    assert abs(ends[1] - ends[0]) == pytest.approx(21.48)
    assert text.text == "107.4"
    assert float(text.get(along[0][0], "")) == pytest.approx(sum(ends) / 2, abs=0.01)
    assert ("rotate(-90" in text.get("transform", "")) is upwards


def test_arrows_point_outwards() -> None:
    """The tip of each arrow head is at its end of the line, the rest between them."""
    root = drawn([(0, 100)], upwards=False)
    heads = [polygon.get("points", "").split() for polygon in root.iter(f"{SVG}polygon")]
    tips = [float(head[0].split(",")[0]) for head in heads]
    assert tips == [50, 70]
    for head in heads:
        assert all(50 < float(point.split(",")[0]) < 70 for point in head[1:])


def test_what_is_too_short_is_left_out() -> None:
    """A gap of 12 mm, 2.4 on paper, has no room for its figure and gets no line."""
    assert len(drawn([(0, 12)], upwards=False)) == 2  # title and description only
