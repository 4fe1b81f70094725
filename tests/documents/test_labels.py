"""Lettering of parts."""

from __future__ import annotations

import itertools

from hypothesis import given
from hypothesis import strategies as st

from nookwright.documents import labels, lettering, style
from nookwright.exchange.svg import Box

SIDES = st.floats(0.5, 120)


@given(SIDES, SIDES, st.text(max_size=30), st.sampled_from(["tray 107x143 h48", "cradle 71x71 h30", ""]))
def test_all_lies_inside_and_apart(width: float, height: float, text: str, name: str) -> None:
    """Ring and lines lie inside the part's box and none of them on another."""
    box = Box(10, 20, width, height)
    label = labels.label_in(box, text, name)
    boxes = [labels.line_box(line) for line in label.lines]
    boxes += [labels.ring_box(label.ring)] if label.ring else []
    for one in boxes:
        assert box.inset(-1e-6).holds(one)
    for one, other in itertools.combinations(boxes, 2):
        overlap = lettering.LEADING_EM - lettering.ASCENT_EM - lettering.DESCENT_EM
        assert not one.inset(max(0.0, -overlap) * style.NORMAL + 1e-6).meets(other)


def test_a_large_part_says_all() -> None:
    """Where there is room, the label stands in bold above the name, both unbroken."""
    lines = labels.label_in(Box(0, 0, 60, 40), "cable reels", "tray 107x143 h48").lines
    assert [(line.text, line.bold) for line in lines] == [("cable reels", True), ("tray 107x143 h48", False)]
    assert not any(line.upwards for line in lines)


def test_a_narrow_part_reads_upwards() -> None:
    """Where nothing fits across, the lettering reads from the right of the sheet."""
    lines = labels.label_in(Box(0, 0, 7, 60), "screwdrivers", "tray 35x300 h48").lines
    assert lines
    assert all(line.upwards for line in lines)


def test_a_small_part_has_its_ring_alone() -> None:
    """Where only the ring fits it stands in the middle; where not even that, there is nothing."""
    small = labels.label_in(Box(0, 0, 5.8, 5.8), "screwdrivers", "tray 35x35 h48")
    assert small == labels.Label((2.9, 2.9), ())
    assert labels.label_in(Box(0, 0, 4, 30), "screwdrivers", "tray") == labels.Label(None, ())
