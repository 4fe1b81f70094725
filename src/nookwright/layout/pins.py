"""Parts that stay where they are: ``[[place]]`` tables in cells, or why one cannot be kept, with its line.

A place may give a corner (then the part stays there), a size, or neither (then its lot only goes to that space). What
is printed may move, if that gains more than its plastic. What it does not know: what else is in the room.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.module.seat import outer_size
from nookwright.survey.load import read_toml
from nookwright.survey.typed import MISSING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from pathlib import Path

    from nookwright.ground.errors import Fault
    from nookwright.layout.model import Ask
    from nookwright.layout.spaces import SpacePlan
    from nookwright.module.module import Module
    from nookwright.survey.layout_wishes import Place
    from nookwright.survey.models import Room

SNAP = Fact(
    2.0, unit="mm", kind=Kind.CHOICE, source="A tape read over a rim is out by this much; cells are ten times as wide."
)


@dataclass(frozen=True)
class Pin:
    """One part that stays.

    Attributes:
        number: of its ``[[place]]`` in the room file.
        lot: id of its lot.
        space: id of its space.
        at: column and row of its front left cell; ``None`` for anywhere in the space.
        size: columns and rows as it lies; ``None`` for what the tool finds best.
        printed: whether it is there already, so that changing it costs its plastic and nothing more.
        height: of the part, mm; ``None`` for what the tool finds best.
    """

    number: int
    lot: str
    space: str
    at: tuple[int, int] | None = None
    size: tuple[int, int] | None = None
    printed: bool = False
    height: float | None = None


@dataclass(frozen=True, order=True)
class Slip:
    """Why a place cannot be kept.

    Attributes:
        number: of its ``[[place]]``.
        lot: id of its lot.
        key: of the table.
        found: what stands there.
        allowed: what may stand there.
        remedy: what to do.
    """

    number: int
    lot: str
    key: str
    found: str
    allowed: str
    remedy: str


def read_pins(
    room: Room, spaces: Sequence[SpacePlan], asks: Iterable[Ask], module: Module
) -> tuple[tuple[Pin, ...], tuple[Slip, ...]]:
    """The places of a room in cells, and those that lie between cells.

    Args:
        room: as surveyed.
        spaces: its spaces in cells.
        asks: its lots; places of lots that fit nowhere are passed over.
        module: the household's module.
    """
    plans = {plan.space.id: plan for plan in spaces}
    asked = {ask.lot for ask in asks}
    hosts = {lot.id: lot.shares for lot in room.lot if lot.shares}
    pins: list[Pin] = []
    slips: list[Slip] = []
    for number, place in enumerate(room.place):
        if place.lot in hosts:
            slips.append(_shares(number, place, hosts))
        elif place.lot in asked:
            found = _pin(number, place, plans[place.space], module)
            if isinstance(found, Pin):
                pins.append(found)
            else:
                slips += found
    return tuple(pins), tuple(slips)


def _shares(number: int, place: Place, hosts: Mapping[str, str]) -> Slip:
    host = hosts[place.lot]
    return Slip(
        number, place.lot, "lot", f'"{place.lot}", which shares the tray of "{host}"', "a lot with a tray of its own",
        f'Write "{host}"; the other one goes with it.',
    )  # fmt: skip


def _pin(number: int, place: Place, plan: SpacePlan, module: Module) -> Pin | list[Slip]:
    """One place in cells, or all that lies between cells in it."""
    slips: list[Slip] = []
    size = None
    if place.width is not None and place.depth is not None:
        size = _cells(place.width, module.pitch), _cells(place.depth, module.pitch)
        for key, cells, length in (("width", size[0], place.width), ("depth", size[1], place.depth)):
            if abs(outer_size(cells, module.pitch) - length) > SNAP:
                slips.append(_between_sizes(number, place, key, length, module.pitch))
    height = None
    if place.height is not None:
        height = round(place.height / module.rise) * module.rise
        if not height or abs(height - place.height) > SNAP:
            slips.append(_between_rises(number, place, place.height, module.rise))
    at = None
    if place.x is not None and place.y is not None:
        cols, rows = size or (1, 1)
        across = _Side("x", place.x, plan.floor.x0, plan.grid.cols, cols)
        back = _Side("y", place.y, plan.floor.y0, plan.grid.rows, rows)
        slips += [_between_cells(number, place, one, module) for one in (across, back) if one.off(module) > SNAP]
        at = across.cell(module), back.cell(module)
    return slips or Pin(number, place.lot, place.space, at, size, place.printed, height)


class _Side(NamedTuple):
    """Where a part lies along one side of its space: as said, where cells begin, how many there are and it takes."""

    key: str
    along: float
    origin: float
    most: int
    cells: int

    def start(self, cell: int, module: Module) -> float:
        """Where a part that begins in a cell has its edge, mm."""
        inset = (self.cells * module.pitch - outer_size(self.cells, module.pitch)) / 2
        return self.origin + inset + cell * module.pitch

    def cell(self, module: Module) -> int:
        """The nearest cell that it can begin in."""
        return min(max(0, round((self.along - self.start(0, module)) / module.pitch)), self.last)

    @property
    def last(self) -> int:
        """The last cell that it can begin in."""
        return max(0, self.most - self.cells)

    def off(self, module: Module) -> float:
        """How far it lies from there, mm."""
        return abs(self.start(self.cell(module), module) - self.along)


def _cells(length: float, pitch: float) -> int:
    """The cells of a part whose outer size comes nearest."""
    near = max(1, int(length // pitch))
    return min((near, near + 1), key=lambda cells: abs(outer_size(cells, pitch) - length))


def _between_sizes(number: int, place: Place, key: str, length: float, pitch: float) -> Slip:
    near = max(1, int(length // pitch))
    sizes = [outer_size(cells, pitch) for cells in (near, near + 1)]
    return Slip(
        number, place.lot, key, f"{length:g} mm", _or([f"{size:.1f} mm" for size in sizes]),
        "Measure it again, outside; parts of this module have no other size.",
    )  # fmt: skip


def _between_rises(number: int, place: Place, height: float, rise: float) -> Slip:
    low = max(1, int(height // rise)) * rise
    return Slip(
        number, place.lot, "height", f"{height:g} mm", _or([f"{low:g} mm", f"{low + rise:g} mm"]),
        "Measure it again, outside; parts of this module have no other height.",
    )  # fmt: skip


def _between_cells(number: int, place: Place, side: _Side, module: Module) -> Slip:
    starts = (side.start(cell, module) for cell in range(side.last + 1))
    near = sorted(sorted(starts, key=lambda start: abs(start - side.along))[:2])
    wall = "left" if side.key == "x" else "front"
    return Slip(
        number, place.lot, side.key, f"{side.along:g} mm", _or([f"{start:.1f} mm" for start in near]),
        f"Measure it again from the {wall} wall; parts stand on cones, nowhere between.",
    )  # fmt: skip


def _or(words: Sequence[str]) -> str:
    return " or ".join(dict.fromkeys(words))


def pin_faults(path: Path, slips: Iterable[Slip]) -> tuple[Fault, ...]:
    """Places that cannot be kept, as faults of the room file with their lines.

    Args:
        path: the room file.
        slips: what was found.
    """
    typed, faults = read_toml(path)
    if typed is None:
        return faults
    found = []
    for slip in slips:
        where = ("place", slip.number, slip.key)
        there = where if typed.at(where) is not MISSING else ("place", slip.number, "lot")
        found.append(typed.fault(there, found=slip.found, allowed=slip.allowed, remedy=slip.remedy))
    return tuple(sorted(found))


def about_slips(slips: Iterable[Slip]) -> tuple[Finding, ...]:
    """The same as findings, for a room without a file."""
    return tuple(
        Finding(
            "place-impossible",
            Severity.STOP,
            slip.lot,
            f"Its place cannot be kept: {slip.key} is {slip.found}; allowed: {slip.allowed}.",
            slip.remedy,
        )
        for slip in slips
    )
