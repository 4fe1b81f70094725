"""Which printed parts strips of wood may stand for, as long as they run on."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nookwright.layout.liner_model import FillerForm, FillerSpec
from nookwright.making.sawn import FENCE_WIDTH, LONG_STRIP, fence_width, may_be_sawn, strips
from nookwright.module.choice import module_of
from nookwright.module.seat import outer_size
from nookwright.parts.liner.fence import End, FenceSpec, fence
from nookwright.parts.liner.filler import filler

if TYPE_CHECKING:
    from nookwright.build import Designed
    from nookwright.module.module import Module
    from nookwright.parts.design import Copy

GAP = 0.4


@pytest.fixture
def some(tiny: Designed) -> Copy:
    """Any copy, to be made another part of."""
    return tiny.copies[0]


def fillers(some: Copy, module: Module, *lengths: float, width: float = 7.2, turns: int = 0) -> list[Copy]:
    """Fillers in one line, a gap between two of them."""
    found, start = [], 10.0
    for length in lengths:
        spec = FillerSpec(length, width, (length / 2,))
        part, (x, y) = filler(module, spec), (start, 3.0) if turns % 2 == 0 else (3.0, start)
        found.append(replace(some, part=part, spec=spec, x=x, y=y, quarter_turns=turns))
        start += length + GAP
    return found


@pytest.mark.parametrize("turns", [0, 1, 2, 3])
def test_fillers_that_run_on_are_one_strip(some: Copy, module: Module, turns: int) -> None:
    """As long as all of them with their gaps, as wide as each; which way they are turned does not matter."""
    line = fillers(some, module, 107.6, 107.6, 71.6, turns=turns)
    (found,) = strips(line[::-1], module, 1000)
    assert found.length == pytest.approx(107.6 + 107.6 + 71.6 + 2 * GAP)
    assert found.width == 7.2
    assert found.copies == tuple(line)
    assert found.holes is None


def test_short_ones_other_widths_and_other_walls_are_strips_of_their_own(some: Copy, module: Module) -> None:
    """Below 200 mm nothing is offered; fillers of two widths, or at two walls, do not make one strip."""
    assert strips(fillers(some, module, 107.6, LONG_STRIP - 107.6 - GAP - 0.1), module, 1000) == ()
    wide, narrow = fillers(some, module, 215.6), fillers(some, module, 215.6, width=5.0)
    far = [replace(copy, y=300.0) for copy in wide]
    assert len(strips([*wide, *narrow, *far], module, 1000)) == 3
    apart = fillers(some, module, 215.6, 215.6)
    moved = [apart[0], replace(apart[1], x=apart[1].x + 5)]
    assert len(strips(moved, module, 1000)) == 2


def test_no_strip_is_longer_than_a_bar(some: Copy, module: Module) -> None:
    """Four of 215.6 go on bars of half a metre two by two; on shorter bars than one of them none does."""
    line = fillers(some, module, 215.6, 215.6, 215.6, 215.6)
    assert [len(one.copies) for one in strips(line, module, 500)] == [2, 2]
    assert strips(line, module, 210) == ()


def test_tall_and_sprung_fillers_are_printed(some: Copy, module: Module) -> None:
    """Wood is no spring, and a strip of 3 keeps nothing from falling down beside the trays."""
    (copy,) = fillers(some, module, 215.6)
    assert may_be_sawn(copy)
    for form in (FillerForm.TALL, FillerForm.SPRUNG):
        assert isinstance(copy.spec, FillerSpec)
        assert not may_be_sawn(replace(copy, spec=replace(copy.spec, form=form)))
    assert not may_be_sawn(replace(copy, space=""))


def test_a_fence_of_wood_stands_on_the_same_cones(some: Copy, module: Module) -> None:
    """As long as its cells without the tongue between two, with a hole over the middle of each cell."""
    specs = (FenceSpec(8, 18.0, right=End.TONGUE), FenceSpec(7, 18.0, left=End.SLOT))
    line, x = [], 20.0
    for spec in specs:
        line.append(replace(some, part=fence(module, spec), spec=spec, x=x, y=40.0, quarter_turns=0, lined=True))
        x += spec.cells * module.pitch
    (found,) = strips(line, module, 1000)
    assert found.fence
    assert (found.length, found.width, found.height) == (outer_size(15, module.pitch), FENCE_WIDTH, 18.0)
    holes = found.holes
    assert holes is not None
    assert holes.count == 15
    middles = [holes.first + number * holes.apart for number in range(holes.count)]
    assert middles[0] == pytest.approx(found.length - middles[-1], abs=0.1)
    assert holes.depth > module.seat.cone_height
    assert holes.from_face - holes.diameter / 2 < module.pitch / 2 - module.seat.cone_base
    assert holes.from_face + holes.diameter / 2 < FENCE_WIDTH
    assert strips([replace(copy, lined=False) for copy in line], module, 1000)[0].holes is None


@pytest.mark.parametrize(("pitch", "wide"), [(14.0, 13.0), (15.5, 14.0), (18.0, 15.0), (24.0, 18.0)])
def test_a_batten_stays_in_its_cells_and_has_wood_behind_its_holes(pitch: float, wide: float) -> None:
    """By hand: cones of 5 take holes of 7; 13.4 / 2 + 3.5 + 2.8 is 13, and 23.4 / 2 + 3.5 + 2.8 is 18."""
    module = module_of(pitch, 6.0, 0.2, "")
    assert fence_width(module) == wide <= outer_size(1, pitch)
    assert wide - outer_size(1, pitch) / 2 - 3.5 >= 2.8 - 1e-9 or wide == outer_size(1, pitch) // 1
