"""Parts on the printers that the room file names for them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.checks.meant_for import check_meant_for
from nookwright.survey.cutting_wishes import PartWord, PrintedOn

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit
    from nookwright.survey.models import Printer, Room

    from .conftest import Trial


def wished(room: Room, *wishes: PrintedOn, bed: float = 300.0) -> Room:
    """The room with these wishes, and a second printer, ``other``, of the same kind."""
    own = room.printer[0]
    other: Printer = own.model_copy(update={"id": "other", "bed_width": bed, "bed_depth": bed, "bed_height": 300.0})
    making = room.making.model_copy(update={"printed_on": wishes})
    return room.model_copy(update={"making": making, "printer": (own, other)})


def codes(kit: Kit, room: Room) -> list[tuple[str, str]]:
    """What is found, with what it is about."""
    return [(one.code, one.subject) for one in check_meant_for(kit, room)]


@pytest.fixture
def where(trial: Trial) -> tuple[Kit, str, str]:
    """A kit, the id of its tray's printer, and that of a piece of the tray."""
    piece = next(piece for piece in trial.kit.pieces if piece.part == "tray")
    bedful = next(one for one in trial.kit.bedfuls if piece.id in {item.piece for item in one.items})
    return trial.kit, bedful.printer, piece.id


def test_parts_where_they_are_meant_to_be_are_sound(trial: Trial, where: tuple[Kit, str, str]) -> None:
    """By kind; and without any wish nothing is found."""
    kit, printer, _ = where
    assert codes(kit, trial.room) == []
    assert codes(kit, wished(trial.room, PrintedOn(kind=PartWord.TRAY, printer=printer))) == []


def test_a_part_on_another_printer_is_found(trial: Trial, where: tuple[Kit, str, str]) -> None:
    """By kind, by space and by the lot in it; the first wish that names a printer counts."""
    kit, printer, piece = where
    space = next(one.space for one in kit.placements if one.part == "tray")
    lot = next(lot.id for lot in kit.lots if any(place.part == "tray" for place in lot.places))
    for wish in (
        PrintedOn(kind=PartWord.TRAY, printer="other"),
        PrintedOn(space=space, kind=PartWord.TRAY, printer="other"),
        PrintedOn(lot=lot, printer="other"),
    ):
        assert ("printed-elsewhere", piece) in codes(kit, wished(trial.room, wish))
        first = PrintedOn(kind=PartWord.TRAY, printer=printer)
        assert ("printed-elsewhere", piece) not in codes(kit, wished(trial.room, first, wish))
    assert codes(kit, wished(trial.room, PrintedOn(space="nowhere", printer="other"))) == []


def test_a_whole_part_may_be_on_another_printer_where_the_named_one_is_too_small(
    trial: Trial, where: tuple[Kit, str, str]
) -> None:
    """Only then; and one that is to stay whole is not in pieces."""
    kit, _, piece = where
    wish = PrintedOn(kind=PartWord.TRAY, printer="other", whole=True)
    assert codes(kit, wished(trial.room, wish, bed=15.0)) == []
    assert codes(kit, wished(trial.room, wish)) == [("printed-elsewhere", piece)]
    half = next(one for one in kit.pieces if one.part == "tray").model_copy(update={"id": "half", "recipe": "0" * 64})
    cut = kit.model_copy(update={"pieces": (*kit.pieces, half)})
    assert ("not-whole", "tray") in codes(cut, wished(trial.room, wish, bed=15.0))
