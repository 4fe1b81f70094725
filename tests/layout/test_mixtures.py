"""What mixes: every figure that is promised comes true when the key is written."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from nookwright.layout.candidates import candidates_of
from nookwright.layout.mixtures import Household, about_mixtures, settling, sharing
from nookwright.sizing.lot_sizes import Terms
from nookwright.sizing.ways import Limits
from nookwright.sizing.ways.household import ways_of_room
from nookwright.survey.models import FloorStyle, Lot

if TYPE_CHECKING:
    from nookwright.layout.model import Candidate
    from nookwright.module.module import Module
    from nookwright.survey.models import Room

LIMITS = Limits(length=450.0, height=140.0, wall=1.2, floor=FloorStyle.SHELL)
CANS = {"shape": "round", "height": 90, "count": 6, "group": "tea", "keep": "cradle"}

SMALL = {
    "shape": "box", "width": 38, "depth": 38, "height": 30, "count": 9, "grow_percent": 0, "group": "desk",
    "keep": "tray",
}  # fmt: skip


def room(base: Room, *lots: dict[str, Any]) -> Room:
    """The tiny room with other lots."""
    made = [Lot.model_validate({"id": "abcdefg"[number], "mass_g": 10} | one) for number, one in enumerate(lots)]
    return base.model_copy(update={"lot": tuple(made)})


def household(one: Room, module: Module) -> Household:
    """What its candidates are made with."""
    return Household(one, module, LIMITS, {}, ways_of_room(one, LIMITS, {}), Terms())


def best(one: Room, module: Module) -> list[Candidate]:
    """The cheapest part of every lot that has one of its own."""
    ways = ways_of_room(one, LIMITS, {})
    return [candidates_of(lot.id, ways[lot.id], module, 0.0)[0] for lot in one.lot if ways[lot.id]]


def test_seven_cans_of_five_sizes_would_do_with_one(tiny_room: Room, module: Module) -> None:
    """Sizes of 60 to 72: all in the commonest they save what planning them so saves, and parts that differ."""
    sizes = (62, 60, 66, 66, 70, 62, 72)
    cans = [CANS | {"diameter": size, "count": 20 if size == 60 else 6} for size in sizes]
    one = room(tiny_room, *cans)
    (found,) = settling(household(one, module))
    assert found.lots[0].id == "b"
    assert {lot.id for lot in found.lots} == set("abcdefg")
    then = room(tiny_room, *(can | {"diameter": 60} for can in cans))
    now, later = best(one, module), best(then, module)
    assert found.saved_g == pytest.approx(sum(c.part_g for c in now) - sum(c.part_g for c in later))
    cells = sum(c.cols * c.rows for c in now) - sum(c.cols * c.rows for c in later)
    assert found.saved_dm2 == pytest.approx(cells * module.pitch**2 / 1e4)
    assert found.fewer_parts >= 2
    note = next(each for each in about_mixtures(household(one, module)) if each.code == "sizes-mix")
    assert f"{found.saved_g:.0f} g" in note.text
    assert "60 x 90 mm" in note.text


@pytest.mark.parametrize(
    "other",
    [{"diameter": 60.2}, {"diameter": 66, "group": "bench"}, {"diameter": 90}, {"diameter": 66, "keep": "tray"}],
)
def test_what_is_one_size_or_another_kind_does_not_mix(tiny_room: Room, module: Module, other: dict[str, Any]) -> None:
    """Read twice, of another group, half as wide again, or kept otherwise: nothing to settle."""
    few, many = CANS | {"diameter": 60, "count": 20}, {"count": 12}
    assert settling(household(room(tiny_room, few, CANS | many | other), module)) == []
    assert settling(household(room(tiny_room, few, CANS | many | {"diameter": 66}), module))


def test_a_shared_tray_saves_what_the_note_says(tiny_room: Room, module: Module) -> None:
    """Written into the file, `shares` gives the grams and the floor that were promised."""
    one = room(tiny_room, SMALL, SMALL | {"count": 8}, SMALL | {"width": 50})
    found = sharing(household(one, module))
    assert found
    for mixture in found:
        host = mixture.lots[0].id
        names = {lot.id for lot in mixture.lots}
        then = one.model_copy(
            update={
                "lot": tuple(
                    lot.model_copy(update={"shares": host}) if lot.id in names - {host} else lot for lot in one.lot
                )
            }
        )
        now, later = best(one, module), best(then, module)
        assert mixture.saved_g == pytest.approx(sum(c.part_g for c in now) - sum(c.part_g for c in later))
    note = next(each for each in about_mixtures(household(one, module)) if each.code == "tray-shared")
    assert 'shares = "' in note.remedy


def test_lots_that_must_not_lie_together_are_not_proposed(tiny_room: Room, module: Module) -> None:
    """Of other groups, used otherwise, out of children's reach or with a blade."""
    for other in (
        {"group": "tea"},
        {"use": "daily"},
        {"out_of_reach": True},
        {"hazard": "blade"},
        {"tray": {"inlay": 2}},
    ):
        assert sharing(household(room(tiny_room, SMALL, SMALL | other), module)) == []
    assert sharing(household(room(tiny_room, SMALL, SMALL), module))
