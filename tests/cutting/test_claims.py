"""Which printers may print a part, and whether it must stay whole."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from tests.conftest import TINY_ROOM

from nookwright.build import plan_and_design
from nookwright.cutting.claims import Claim, claim_of, lots_of, wish_faults
from nookwright.cutting.cut import cut_all
from nookwright.ground.errors import RoomError
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent
from nookwright.making.jobs import make
from nookwright.parts.model import Kind
from nookwright.parts.workshop import TraySpec, Workshop
from nookwright.survey.cutting_wishes import PartWord, PrintedOn
from nookwright.survey.load import load_room
from nookwright.survey.models import Printer

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.build import Designed
    from nookwright.layout.place import Effort
    from nookwright.parts.design import Copy
    from nookwright.survey.models import Room

SMALL = Printer(id="small", bed_width=120, bed_depth=130, bed_height=100, materials=("white", "red"))
LARGE = Printer(id="large", bed_width=300, bed_depth=300, bed_height=300, materials=("white", "red"))


@pytest.fixture
def wide(tiny: Designed) -> Copy:
    """A tray of 179 x 71 of the dice: too wide for the small printer."""
    spec = TraySpec(10, 4, 36.0, smooth=False, pockets=None)
    some = next(copy for copy in tiny.copies if "dice" in lots_of(copy))
    return replace(some, spec=spec, part=Workshop(tiny.plan.module).part(spec))


def with_wishes(room: Room, *wishes: PrintedOn, printers: tuple[Printer, ...] = (SMALL, LARGE)) -> Room:
    """A room with these wishes and printers."""
    making = room.making.model_copy(update={"printed_on": wishes})
    return room.model_copy(update={"making": making, "printer": printers})


def pieces_of(copies: list[Copy], tiny: Designed, room: Room) -> tuple[list[int], list[str]]:
    """How many pieces each part has, and the codes of what is said."""
    cut, findings = cut_all(copies, tiny.plan.module, room.printer, room=room)
    return [len(part.pieces) for part in cut.values()], [found.code for found in findings]


def test_a_wish_is_about_what_all_of_it_fits(wide: Copy) -> None:
    """The lot, the space and the kind; the first that names a printer counts, and one word of whole is enough."""
    wishes = [
        PrintedOn(lot="dice", kind=PartWord.LID, printer="large"),
        PrintedOn(space="drawer", kind=PartWord.TRAY, printer="small"),
        PrintedOn(lot="dice", printer="large"),
    ]
    assert claim_of(wide, wishes, [SMALL, LARGE]) == Claim("red", ("small",))
    assert claim_of(replace(wide, space="other"), wishes, [SMALL, LARGE]) == Claim("red", ("large",))
    assert claim_of(replace(wide, space="other", contents=None), wishes, [SMALL, LARGE]) == Claim("red")
    assert claim_of(wide, [*wishes, PrintedOn(kind=PartWord.TRAY, whole=True)], [SMALL, LARGE]).whole


def test_a_lot_stands_for_the_lid_of_its_tray_too(wide: Copy) -> None:
    """Which holds nothing itself."""
    lid = replace(wide, contents=None, made_for=("dice",))
    assert claim_of(lid, [PrintedOn(lot="dice", printer="large")], [SMALL, LARGE]).printers == ("large",)


def test_an_order_is_named_by_its_id(wide: Copy) -> None:
    """It has no place; a part with a place and the same words on it is another one."""
    wishes = [PrintedOn(part="stand", printer="large")]
    assert claim_of(replace(wide, space="", label="stand"), wishes, [SMALL, LARGE]).printers == ("large",)
    assert claim_of(replace(wide, label="stand"), wishes, [SMALL, LARGE]).printers == ()
    assert claim_of(replace(wide, space="", label="shelf"), wishes, [SMALL, LARGE]).printers == ()


def test_a_part_is_cut_to_the_printer_that_it_is_meant_for(tiny: Designed, wide: Copy) -> None:
    """Though another one could take it whole."""
    assert pieces_of([wide], tiny, with_wishes(tiny.room)) == ([1], [])
    wish = PrintedOn(lot="dice", printer="small")
    assert pieces_of([wide], tiny, with_wishes(tiny.room, wish)) == ([2], ["part-in-pieces"])


def test_a_part_that_is_to_stay_whole_goes_to_another_printer(tiny: Designed, wide: Copy) -> None:
    """Rather than be cut; where no other can take it, it is refused and the reason is said."""
    wish = PrintedOn(lot="dice", printer="small", whole=True)
    room = with_wishes(tiny.room, wish)
    assert pieces_of([wide], tiny, room) == ([1], [])
    assert claim_of(wide, room.making.printed_on, room.printer) == Claim("red", (), whole=True)
    _, (found,) = cut_all([wide], tiny.plan.module, [SMALL], room=room)
    assert (found.code, found.severity) == ("part-too-large", Severity.STOP)
    assert "it is to stay whole" in found.text


def test_a_part_with_two_claims_is_cut_alike_for_both(tiny: Designed, wide: Copy) -> None:
    """One copy for the small printer, one for any: the pieces are the same, so that one can replace the other."""
    wishes = [PrintedOn(lot="dice", printer="small")]
    free = replace(wide, contents=None)
    assert pieces_of([wide, free], tiny, with_wishes(tiny.room, *wishes)) == ([2], ["part-in-pieces"])


def test_each_copy_is_printed_where_it_is_meant_to_be(tiny: Designed, wide: Copy) -> None:
    """Two of three alike go to the large printer as wished, and no printer is named for the third."""
    low = TraySpec(3, 3, 24.0, smooth=False, pockets=None)
    small = replace(wide, spec=low, part=Workshop(tiny.plan.module).part(low))
    copies = [small, small, replace(small, contents=None)]
    for printer in ("small", "large"):
        room = with_wishes(tiny.room, PrintedOn(lot="dice", printer=printer))
        cut, _ = cut_all(copies, tiny.plan.module, room.printer, room=room)
        made = make(room, copies, cut, lambda piece: piece.plastic.body_mm3)
        on = [load.printer for load in made.loads for _ in load.items]
        assert len(on) == 3
        assert on.count(printer) >= 2
    assert {one.count for one in made.pieces} == {3}


def test_wishes_that_nothing_fits_are_faults_of_the_room_file(tmp_path: Path, quick: Effort) -> None:
    """With the line; and so is a printer without the material of some part of a space."""
    more = """
[[printer]]
id = "red-one"
bed_width = 200
bed_depth = 200
bed_height = 200
materials = ["red"]

[[making.printed_on]]
lot = "dice"
kind = "rack"
whole = true

[[making.printed_on]]
space = "drawer"
printer = "red-one"
"""
    file = tmp_path / "room.toml"
    file.write_text(TINY_ROOM + more, encoding="utf-8")
    with pytest.raises(RoomError) as caught:
        plan_and_design(load_room(file), room_file=file, effort=quick, progress=Silent())
    first, second = caught.value.faults
    lines = file.read_text(encoding="utf-8").splitlines()
    assert (first.key, lines[first.line - 1]) == ("making.printed_on[1].lot", 'lot = "dice"')
    assert "some part of this kit" in first.allowed
    assert (second.key, lines[second.line - 1]) == ("making.printed_on[2].printer", 'printer = "red-one"')
    assert 'may print "white"' in second.allowed


def test_wishes_that_fit_are_no_faults(tiny: Designed, tiny_file: Path) -> None:
    """All parts of the drawer on its one printer."""
    room = with_wishes(tiny.room, PrintedOn(space="drawer", printer="small"), printers=(SMALL,))
    assert wish_faults(tiny_file, room, tiny.copies) == ()


def test_a_printer_may_be_named_for_every_kind_of_part_of_a_kit() -> None:
    """The words of the room file are the kinds of part, but for coupons and gauges, which belong to a printer."""
    assert {str(one) for one in PartWord} == {str(one) for one in Kind} - {Kind.COUPON, Kind.GAUGE}
