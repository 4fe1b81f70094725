from __future__ import annotations

from typing import Any

from nookwright.sizing.things import Standing, stances_of, standings_of
from nookwright.survey.models import Lot, Stance
from nookwright.survey.readings import Published


def lot(**keys: Any) -> Lot:  # noqa: ANN401 - any key of a lot
    """A lot of one."""
    found = Lot.model_validate({"id": "a", "count": 1} | keys)
    sides = ("width", "depth", "diameter", "height", "thickness") if found.standard else ()
    return found.model_copy(update={side: Published(floor=(float(keys[side]),)) for side in sides if side in keys})


def test_a_published_size_gets_no_allowance() -> None:
    """The greatest size of a standard is a limit already."""
    published = lot(standard="any", shape="round", diameter=14.5, height=50.5)
    assert {(s.width, s.height) for s in standings_of(published) if s.stance is Stance.UPRIGHT} == {(14.5, 50.5)}


def test_a_box_lies_on_either_side() -> None:
    """Upright as measured; lying with its depth or its width upwards."""
    found = standings_of(lot(standard="any", shape="box", width=30, depth=20, height=10))
    assert [(s.width, s.depth, s.height) for s in found] == [(30, 20, 10), (30, 10, 20), (10, 20, 30)]
    assert all(s.round_axis == "" for s in found)


def test_a_cube_stands_one_way() -> None:
    """Ways that are the same size and stance are said once."""
    found = standings_of(lot(standard="any", shape="box", width=10, depth=10, height=10))
    assert len(found) == 2
    assert {s.stance for s in found} == {Stance.UPRIGHT, Stance.LYING}


def test_round_things_stand_or_lie_by_their_slenderness() -> None:
    """Four diameters and less may stand; a taller one is laid down unless the person says otherwise."""
    jar = lot(shape="round", diameter=50, height=120)
    pen = lot(shape="round", diameter=10, height=140)
    assert stances_of(jar) == (Stance.UPRIGHT, Stance.LYING)
    assert stances_of(pen) == (Stance.LYING,)
    assert stances_of(pen.model_copy(update={"stands": (Stance.UPRIGHT,)})) == (Stance.UPRIGHT,)


def test_a_lying_round_thing_has_its_axis_along_x() -> None:
    """Its length lies along x, and it is as high as it is deep."""
    found = standings_of(lot(standard="any", shape="round", diameter=10, height=140))
    assert found == (Standing(Stance.LYING, 140, 10, 10, "x"),)


def test_sheets_lie_in_a_pile_or_stand_on_either_edge() -> None:
    """Lying they are as high as they are thick; on edge the other side of the sheet is upwards."""
    found = standings_of(lot(standard="any", shape="flat", width=90, depth=60, thickness=2))
    assert [(s.width, s.depth, s.height) for s in found] == [(90, 60, 2), (90, 2, 60), (60, 2, 90)]
