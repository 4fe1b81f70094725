"""Which printers may print a part, and whether it must stay whole: as the room file says, part by part.

A *claim* is what one copy of a part asks of its making: its material, the printers that may print it, whether it is
never cut. Copies of one part may have several claims; the part is cut so that all of them are met.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.cutting.bed_space import beds_of
from nookwright.survey.load import read_toml
from nookwright.survey.typed import show

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from pathlib import Path

    from nookwright.ground.errors import Fault
    from nookwright.parts.design import Copy
    from nookwright.survey.cutting_wishes import PrintedOn
    from nookwright.survey.models import Printer, Room
    from nookwright.survey.typed import Typed


@dataclass(frozen=True, order=True)
class Claim:
    """What a copy asks of its making.

    Attributes:
        material: id of its material.
        printers: ids of those that may print it; empty for all that have its material.
        whole: whether it is never cut.
    """

    material: str
    printers: tuple[str, ...] = ()
    whole: bool = False

    def able(self, printers: Iterable[Printer]) -> tuple[Printer, ...]:
        """The printers that may print it.

        Args:
            printers: of the household.
        """
        loaded = (one for one in printers if self.material in one.materials)
        return tuple(one for one in loaded if not self.printers or one.id in self.printers)


def claim_of(copy: Copy, wishes: Sequence[PrintedOn], printers: Sequence[Printer]) -> Claim:
    """The claim of one copy.

    A part that must stay whole and is too large for the printer that is named for it may go to any.

    Args:
        copy: of a part.
        wishes: of the room file; of those that name a printer the first counts.
        printers: of the household.
    """
    about = [wish for wish in wishes if is_about(wish, copy)]
    named = next((wish.printer for wish in about if wish.printer is not None), None)
    claim = Claim(copy.material, (named,) if named else (), any(wish.whole for wish in about))
    if claim.whole and claim.printers and not any(lies_on(one, copy) for one in claim.able(printers)):
        return Claim(copy.material, whole=True)
    return claim


def lies_on(printer: Printer, copy: Copy) -> bool:
    """Whether a part lies on a printer's bed as one piece."""
    return any(bed.holds(*copy.part.size) for bed in beds_of(printer))


def is_about(wish: PrintedOn, copy: Copy) -> bool:
    """Whether a wish is about a copy: all that it names fits."""
    return (
        (wish.kind is None or wish.kind.value == copy.part.kind.value)
        and (wish.space is None or wish.space == copy.space)
        and (wish.part is None or (not copy.space and wish.part == copy.label))
        and (wish.lot is None or wish.lot in lots_of(copy))
    )


def lots_of(copy: Copy) -> frozenset[str]:
    """The lots, by id, that a copy was made for: those in it, or in the tray that it belongs to."""
    return frozenset((*(one.lot.id for one in copy.holds), *copy.made_for)) - {""}


def wish_faults(path: Path, room: Room, copies: Sequence[Copy]) -> tuple[Fault, ...]:
    """Wishes of printers that are about nothing, or whose printer lacks a material, with their lines.

    Args:
        path: the room file.
        room: as loaded from it.
        copies: of all parts, ordered ones too.
    """
    typed, faults = read_toml(path)
    if typed is None:
        return faults
    return tuple(
        fault
        for number, wish in enumerate(room.making.printed_on)
        for fault in _faults(typed, number, wish, [copy for copy in copies if is_about(wish, copy)], room)
    )


def _faults(typed: Typed, number: int, wish: PrintedOn, about: list[Copy], room: Room) -> Iterator[Fault]:
    """What is wrong with one wish."""
    where = ("making", "printed_on", number)
    key = next(key for key in ("lot", "part", "space", "kind") if getattr(wish, key) is not None)
    if not about:
        yield typed.fault(
            (*where, key),
            allowed="what some part of this kit fits: nothing that is printed is for it",
            remedy="Delete the table, or name less in it: all that it names must fit a part.",
        )
    printer = next((one for one in room.printer if one.id == wish.printer), None)
    lacking = sorted({copy.material for copy in about} - set(printer.materials)) if printer else []
    if printer and lacking:
        yield typed.fault(
            (*where, "printer"),
            allowed=f"a printer that may print {' and '.join(map(show, lacking))}, in which some of these parts are",
            remedy="Name another printer, add the material to this one, or name the kinds of part that it is to print.",
        )
