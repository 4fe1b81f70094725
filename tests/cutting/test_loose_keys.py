from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.cutting.loose_keys import loose_keys
from nookwright.parts.model import Kind

if TYPE_CHECKING:
    from nookwright.build import Designed


def test_every_joint_of_a_panel_gets_a_key(tiny: Designed) -> None:
    """One copy of one small part each, in the liner's material, on the floor."""
    joints = sum(len(tiny.cut[copy.part.recipe.digest].keys) for copy in tiny.copies)
    keys = [copy for copy in tiny.copies if copy.part.kind is Kind.KEY]
    assert len(keys) == joints > 0
    assert len({copy.part.recipe.digest for copy in keys}) == 1
    assert {(copy.material, copy.z, copy.contents) for copy in keys} == {("white", 0.0, None)}


def test_keys_lie_across_the_borders_of_cells(tiny: Designed) -> None:
    """The middle of each is a corner of cells of its space."""
    floor, pitch = tiny.plan.spaces[0].floor, tiny.plan.module.pitch
    for copy in tiny.copies:
        if copy.part.kind is Kind.KEY:
            width, depth, _ = copy.part.size
            if copy.quarter_turns:
                width, depth = depth, width
            col = (copy.x + width / 2 - floor.x0) / pitch
            row = (copy.y + depth / 2 - floor.y0) / pitch
            assert (col, row) == pytest.approx((round(col), round(row)))


def test_what_is_not_cut_needs_no_key(tiny: Designed) -> None:
    """Trays and fillers have none."""
    whole = [copy for copy in tiny.copies if copy.part.kind not in {Kind.PANEL, Kind.KEY}]
    assert loose_keys(whole, tiny.cut, tiny.plan.module) == ()
