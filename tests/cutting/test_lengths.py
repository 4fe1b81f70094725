"""How long a flat part may be in one piece, by its plastic."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nookwright.cutting.cut import cut_all, longest_strip_in
from nookwright.cutting.lengths import LONGEST, LONGEST_SHRINKING, is_flat, longest_of
from nookwright.ground.findings import Severity
from nookwright.parts.lids.lid import LidSpec, lid
from nookwright.parts.trays.tray import tray
from nookwright.survey.cutting_wishes import PartWord, PrintedOn
from nookwright.survey.models import Material, Printer
from nookwright.survey.plastic_sheet import PlasticKind

if TYPE_CHECKING:
    from nookwright.build import Designed
    from nookwright.module.module import Module
    from nookwright.survey.models import Room

BIG = Printer(id="big", bed_width=500, bed_depth=500, bed_height=300, materials=("white",))


def material(density: float = 1.24, plastic: PlasticKind | None = None, longest: float | None = None) -> Material:
    """A white one."""
    return Material(id="white", colour="#ffffff", density_g_cm3=density, plastic=plastic, longest=longest)


def room_of(tiny: Designed, one: Material, *wishes: PrintedOn) -> Room:
    """A room with one material, one large printer and wishes."""
    making = tiny.room.making.model_copy(update={"printed_on": wishes})
    return tiny.room.model_copy(update={"material": (one,), "printer": (BIG,), "making": making})


@pytest.mark.parametrize(
    ("one", "longest"),
    [
        (material(), LONGEST),
        (material(1.27), LONGEST),
        (material(1.04), LONGEST_SHRINKING),
        (material(1.24, PlasticKind.ASA), LONGEST_SHRINKING),
        (material(1.04, PlasticKind.PLA), LONGEST),
        (material(1.04, longest=250), 250),
    ],
)
def test_what_shrinks_is_kept_short(one: Material, longest: float) -> None:
    """As said, or by its plastic, or by its density where that is not said."""
    assert longest_of(one) == longest


def test_high_walls_hold_a_floor_down(module: Module) -> None:
    """Only what is lower than a tenth of its length is flat."""
    assert is_flat(lid(module, LidSpec(14, 9)))
    assert not is_flat(tray(module, cols=14, rows=9, height=48))


def test_a_long_flat_part_of_abs_is_cut_and_one_of_pla_is_not(tiny: Designed, module: Module) -> None:
    """A lid of 251 mm on a bed of half a metre; its pieces are no longer than 180."""
    copy = replace(tiny.copies[0], part=lid(module, LidSpec(14, 9)), spec=None, material="white")
    for one, count in ((material(), 1), (material(1.04), 2)):
        room = room_of(tiny, one)
        cut, _ = cut_all([copy], module, room.printer, room=room)
        (done,) = cut.values()
        assert len(done.pieces) == count
        assert all(max(piece.size[:2]) <= longest_of(one) for piece in done.pieces)


def test_a_long_flat_part_that_is_to_stay_whole_is_warned_of(tiny: Designed, module: Module) -> None:
    """With its length against what stays down."""
    copy = replace(tiny.copies[0], part=lid(module, LidSpec(14, 9)), spec=None, material="white")
    room = room_of(tiny, material(1.04), PrintedOn(kind=PartWord.LID, whole=True))
    cut, (found,) = cut_all([copy], module, room.printer, room=room)
    assert [len(done.pieces) for done in cut.values()] == [1]
    assert (found.code, found.severity) == ("long-flat-part", Severity.WARN)
    assert found.against is not None
    assert found.against.computed == pytest.approx(251.4, abs=1)
    assert found.against.limit == 180
    assert "251 mm" in found.text
    assert "180 mm" in found.text


def test_panels_and_strips_keep_to_it_too(tiny: Designed) -> None:
    """The panel of the drawer, 180 x 144, is cut at 120, and no filler is planned longer."""
    room = room_of(tiny, material(longest=120))
    panel = next(copy for copy in tiny.copies if copy.label == "liner panel")
    cut, findings = cut_all([panel], tiny.plan.module, room.printer, room=room)
    (done,) = cut.values()
    assert len(done.pieces) == 4
    assert all(max(piece.size[:2]) <= 120 for piece in done.pieces)
    assert findings == ()
    assert longest_strip_in(room, "white") == 120
    assert longest_strip_in(room_of(tiny, material()), "white") == LONGEST
