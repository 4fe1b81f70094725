from __future__ import annotations

from itertools import combinations, pairwise
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.cutting.model import Bed
from nookwright.cutting.places import LEAST_SHARE, UNEVEN, Places, borders, cheapest
from nookwright.cutting.sections import Sections
from nookwright.parts.cradles.cradle import cradle, pockets_of
from nookwright.parts.liner.fence import End, FenceSpec, fence
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_options import Grip, TrayOptions

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.model import Part

COSTS = st.dictionaries(st.integers(3, 29).map(lambda n: n * 10.0), st.floats(0, 5), min_size=1, max_size=9)


@given(costs=COSTS, count=st.integers(2, 4), most=st.floats(60, 200))
def test_the_cheapest_cuts_are_those_of_trying_all(costs: dict[float, float], count: int, most: float) -> None:
    """Dynamic programming against every combination: cost of the places and of uneven shares."""
    size, mean = 300.0, 300.0 / count
    ways = []
    for cuts in combinations(sorted(costs), count - 1):
        shares = [b - a for a, b in pairwise((0.0, *cuts, size))]
        if all(LEAST_SHARE <= share <= most for share in shares):
            uneven = sum(UNEVEN * (share / mean - 1) ** 2 for share in shares)
            ways.append(sum(costs[cut] for cut in cuts) + uneven)
    found = cheapest(size, costs, count, most)
    assert (found is None) is (not ways)
    if found:
        assert found[0] == pytest.approx(min(ways), abs=1e-6)


def cuts_of(part: Part, bed: Bed) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Where a part is cut."""
    found = Places(part, Sections(part.recipe)).cuts(bed, 6.0)
    assert found is not None
    return found.along_x, found.along_y


def test_a_plain_tray_is_cut_in_equal_shares_across_its_long_side(module: Module) -> None:
    """On the border of cells nearest the middle, no sliver left."""
    assert cuts_of(tray(module, cols=12, rows=5, height=36, smooth=False), Bed(150, 150, 200)) == ((107.65,), ())


def test_a_cut_misses_a_grip(module: Module) -> None:
    """The notches in the middle of both long sides stay whole; without them the middle is cut."""
    options = TrayOptions(grip=Grip.NOTCH)
    gripped = tray(module, cols=14, rows=10, height=96, options=options)
    named = dict(gripped.parameters)
    ((at,), _) = cuts_of(gripped, Bed(170, 190, 200))
    assert named["grip_sides"] == "front back"
    assert named["notch"] == (22.0, 12.0)
    assert abs(at - gripped.size[0] / 2) > 11


def test_a_cut_goes_between_pockets(module: Module) -> None:
    """Of a cradle, where no sleeve is met, though the middle would be more even."""
    pockets = pockets_of(module, cols=10, rows=4, diameter=31, columns=5, lines=2, pitch=35.4)
    part = cradle(module, cols=10, rows=4, height=36, pockets=pockets)
    ((at,), _) = cuts_of(part, Bed(130, 130, 200))
    middles = [part.size[0] / 2 + step * 35.4 for step in range(-2, 3)]
    assert all(abs(at - middle) > 31 / 2 for middle in middles)


def test_a_seam_does_not_show_in_front_where_it_need_not(module: Module) -> None:
    """A square tray for a bed of half its size is cut across y: its front stays whole."""
    along_x, along_y = cuts_of(tray(module, cols=10, rows=10, height=36, smooth=False), Bed(185, 110, 200))
    assert along_x == ()
    assert len(along_y) == 1


def test_borders_of_a_fence_with_a_tongue_are_those_of_its_cells(module: Module) -> None:
    """The tongue makes it longer on one side only; its sockets stay where they are."""
    plain, joined = (fence(module, FenceSpec(8, 18.0, right=end)) for end in (End.PLAIN, End.TONGUE))
    assert joined.size[0] > plain.size[0]
    assert borders(joined, 0) == borders(plain, 0)
    assert len(borders(plain, 0)) == 7
