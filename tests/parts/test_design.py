from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nookwright.layout.model import Placed
from nookwright.parts.design import LINER_GROUP, design, material_of
from nookwright.parts.model import Kind
from nookwright.parts.trays.tray_options import Grip
from nookwright.parts.workshop import TraySpec, Workshop
from nookwright.survey.models import GripWish

if TYPE_CHECKING:
    import manifold3d

    from nookwright.build import Designed
    from nookwright.parts.design import Copy

    from .conftest import Bench


def in_place(bench: Bench, one: Copy) -> manifold3d.Manifold:
    """A copy in its space."""
    return bench.solid(one.part, x=one.x, y=one.y, z=one.z, turns=one.quarter_turns)


def test_all_copies_of_a_space_are_disjoint(bench: Bench, tiny: Designed) -> None:
    """Panels, fillers, trays, cradles and keys, all pairs, by boolean."""
    bodies = [(one.label, in_place(bench, one)) for one in tiny.copies]
    for number, (label, body) in enumerate(bodies):
        for other, before in bodies[:number]:
            kinds = {label, other}
            if kinds == {"key", "liner panel"}:  # the whole panel has no slots; its pieces have
                continue
            assert bench.shared_mm3(body, before) < 0.001, kinds


def test_all_copies_lie_in_the_usable_space(tiny: Designed) -> None:
    """With room to the walls: half of 1 mm and 0.15 %."""
    usable = tiny.plan.spaces[0].usable
    for one in tiny.copies:
        width, depth, height = one.part.size
        if one.quarter_turns % 2:
            width, depth = depth, width
        assert one.x >= 0.5
        assert one.x + width <= usable.width - 0.5
        assert one.y >= 0.5
        assert one.y + depth <= usable.depth - 0.5
        assert one.z + height <= usable.height


def test_things_stay_below_the_clear_height(tiny: Designed) -> None:
    """Every lot in its part; each in one part, with as many places as things."""
    for one in tiny.copies:
        if one.contents:
            assert len(one.contents.places) == one.contents.lot.count
            top = max(z for _, _, z in one.contents.places) + one.contents.way.thing.height
            assert one.z + top <= tiny.plan.spaces[0].usable.height
    assert sorted(one.contents.lot.id for one in tiny.copies if one.contents) == ["corks", "dice", "notes"]


def test_seated_parts_stand_in_the_middle_of_their_cells(tiny: Designed) -> None:
    """The same gap on both sides, on top of the panel."""
    floor, pitch = tiny.plan.spaces[0].floor, tiny.plan.module.pitch
    seated = [one for one in tiny.copies if one.part.seated]
    assert len(seated) == len(tiny.plan.layout.placed)
    for one, placed in zip(seated, tiny.plan.layout.placed, strict=True):
        width, depth = (one.part.size[1], one.part.size[0]) if placed.turned else one.part.size[:2]
        assert one.x + width / 2 == pytest.approx(floor.x0 + (placed.col + placed.cols / 2) * pitch)
        assert one.y + depth / 2 == pytest.approx(floor.y0 + (placed.row + placed.rows / 2) * pitch)
        assert one.z == tiny.plan.module.seat.panel
        assert one.quarter_turns == (1 if placed.turned else 0)


def test_a_turned_part_is_the_same_part(tiny: Designed) -> None:
    """Turning happens in the space; the part that is printed is the unturned one."""
    placed = next(one for one in tiny.plan.layout.placed if one.candidate)
    other = replace(placed, cols=placed.rows, rows=placed.cols, turned=not placed.turned)
    parts = [
        next(
            one.part
            for one in design(tiny.room, replace(tiny.plan, layout=replace(tiny.plan.layout, placed=(p,))))
            if one.part.seated
        )
        for p in (placed, other)
    ]
    assert parts[0] == parts[1]


def test_a_spare_tray_holds_nothing(tiny: Designed) -> None:
    """It is called spare, and its floor is that of the room."""
    spare = Placed("drawer", 0, 0, 3, 2, turned=False, candidate=None, height=30.0)
    plan = replace(tiny.plan, layout=replace(tiny.plan.layout, placed=(spare,)))
    copy = design(tiny.room, plan)[-1]
    assert (copy.label, copy.contents, copy.part.kind) == ("spare", None, Kind.TRAY)
    assert copy.spec == TraySpec(3, 2, 30.0, smooth=False, pockets=None, grip=Grip.NOTCH)


def test_each_distinct_part_is_made_once(tiny: Designed) -> None:
    """The same spec gives the same object."""
    workshop = Workshop(tiny.plan.module)
    spec = TraySpec(3, 2, 30.0, smooth=False, pockets=None)
    assert workshop.part(spec) is workshop.part(replace(spec))


def test_materials_follow_the_groups(tiny: Designed) -> None:
    """The liner and the dice as chosen, the rest in the first material of the first printer."""
    by_label = {one.label: one.material for one in tiny.copies}
    assert by_label["dice"] == "red"
    assert by_label["liner panel"] == "white"
    assert by_label["notes"] == "white"
    assert material_of(tiny.room, LINER_GROUP) == "white"
    assert material_of(tiny.room, "unheard-of") == "white"


def test_without_a_liner_parts_stand_on_the_floor(tiny: Designed) -> None:
    """At z = 0, and say so."""
    bare = replace(tiny.plan.spaces[0], liner=replace(tiny.plan.spaces[0].liner, panels=(), fillers=()))
    copies = design(tiny.room, replace(tiny.plan, spaces=(bare,)))
    assert copies
    assert all(one.z == 0 and not one.lined for one in copies)


def test_trays_get_the_grip_of_the_room_and_keep_their_plain_name(tiny: Designed) -> None:
    """Notches by default, none where the room says so; people call a tray by its size either way."""
    bare = tiny.room.model_copy(update={"choices": tiny.room.choices.model_copy(update={"grip": GripWish.NONE})})
    trays = [
        [copy.part for copy in design(room, tiny.plan) if copy.part.kind is Kind.TRAY] for room in (tiny.room, bare)
    ]
    assert [part.name for part in trays[0]] == [part.name for part in trays[1]]
    assert any(one.recipe != other.recipe for one, other in zip(*trays, strict=True))
    assert all(dict(part.parameters)["grip"] in {"notch", "spread", "none"} for part in trays[0])
    assert all("grip" not in dict(part.parameters) for part in trays[1])
