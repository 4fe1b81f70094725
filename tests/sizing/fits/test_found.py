"""What trials said, as sizes of the next build."""

from __future__ import annotations

import pytest

from nookwright.sizing.fits.found import piloted, seat_move, tried_of
from nookwright.sizing.lot_sizes import Terms, pocket_of
from nookwright.sizing.usable import usable_of
from nookwright.survey.models import Lot, Space
from nookwright.survey.origins import Says
from nookwright.survey.trials import Axis, Found

JARS = Lot.model_validate({"id": "jars", "count": 12, "shape": "round", "diameter": 60, "height": 80, "mass_g": 100})
DRAWER = Space.model_validate(
    {"id": "d", "kind": "drawer", "width": 400, "depth": 300, "height": 90, "floor_height": 0, "load_kg": 20}
)
TIGHT, GOES_IN, LOOSE = Says


def gauged(*says: Says, lot: str = "jars") -> Found:
    """One print of gauges."""
    return Found(gauge=lot, sizes=(60.2, 60.6, 61.0), says=says)


def test_a_pocket_follows_what_its_gauges_showed() -> None:
    """Smaller than by one sample alone, the larger the more was tight; the sum says by how much."""
    plain = pocket_of(JARS, Terms(), pockets=12)
    small, large = (
        pocket_of(JARS, Terms(found=(gauged(*says),)), pockets=12)
        for says in ((GOES_IN, GOES_IN, LOOSE), (TIGHT, TIGHT, TIGHT))
    )
    assert small.pocket < large.pocket < plain.pocket
    assert plain.found == 0
    assert small.pocket == pytest.approx(plain.pocket + small.found)
    assert small.thing <= small.pocket


def test_findings_of_another_lot_change_nothing() -> None:
    """Each lot has gauges of its own."""
    other = Terms(found=(gauged(TIGHT, TIGHT, TIGHT, lot="cups"),))
    assert pocket_of(JARS, other, pockets=12) == pocket_of(JARS, Terms(), pockets=12)


def test_each_table_is_one_print() -> None:
    """Gauges of one table share that print's shift."""
    found = (gauged(TIGHT, GOES_IN, LOOSE), Found(seat=Says.TIGHT), gauged(TIGHT, TIGHT, GOES_IN))
    assert [one.print_number for one in tried_of(found, "jars")] == [0, 0, 0, 1, 1, 1]


@pytest.mark.parametrize(("axis", "side"), [(Axis.WIDTH, "width"), (Axis.DEPTH, "depth"), (Axis.HEIGHT, "height")])
def test_a_tight_pilot_makes_a_space_smaller_by_what_it_was_tight(axis: Axis, side: str) -> None:
    """Less what a gap is misread by; the other sides stay."""
    before = usable_of(DRAWER)
    pilot = getattr(before, side) - 1.6
    after = usable_of(DRAWER, (Found(space="d", axis=axis, pilot=pilot, tight=0.5),))
    assert getattr(after, side) == pytest.approx(pilot - 0.5 - 1.645 * 0.25, abs=0.01)
    others = {"width", "depth", "height"} - {side}
    assert all(getattr(after, other) == getattr(before, other) for other in others)


def test_a_loose_pilot_gives_back_the_margin_of_the_tape_but_no_more_than_the_reading() -> None:
    """It was laid at one place: another may be as narrow as the smallest reading."""
    before = usable_of(DRAWER)
    wider, widest = (
        usable_of(DRAWER, (Found(space="d", axis=Axis.WIDTH, pilot=397.0, loose=gap),)) for gap in (2.8, 9.0)
    )
    assert before.width < wider.width < 400
    assert widest.width == 400
    assert widest.margins[0] == 0


def test_of_several_pilots_the_tightest_counts() -> None:
    """And one of another space not at all."""
    some = (
        Found(space="d", axis=Axis.WIDTH, pilot=397.0, loose=2.0),
        Found(space="d", axis=Axis.WIDTH, pilot=397.0, loose=1.0),
        Found(space="e", axis=Axis.WIDTH, pilot=100.0, loose=0.0),
    )
    assert piloted(396.0, 400.0, some, "d", Axis.WIDTH) == pytest.approx(398 - 1.645 * 0.25, abs=0.01)


def test_a_tight_seat_gets_more_clearance_and_a_loose_one_less() -> None:
    """The tightest that was found decides; nothing found moves nothing."""
    assert seat_move(()) == 0
    assert seat_move((Found(seat=Says.LOOSE),)) < 0 < seat_move((Found(seat=Says.LOOSE), Found(seat=Says.TIGHT)))
