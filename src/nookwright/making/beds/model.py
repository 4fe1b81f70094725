"""What is put on beds, and what comes of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    import numpy as np
    from numpy.typing import NDArray

    Contours: TypeAlias = Sequence[NDArray[np.float64]]  # outer ones counter-clockwise, holes clockwise, mm
    Outlines: TypeAlias = Callable[[str], Contours | None]  # of a piece seen from above, by its id

SLENDER = Fact(
    4.0,
    unit="1",
    kind=Kind.COMMON_PRACTICE,
    source="Height by the shorter side of the box: what the nozzle knocks over.",
)
TALL = Fact(30.0, unit="mm", kind=Kind.CHOICE, source="Below, nothing is knocked over, however thin it is.")


@dataclass(frozen=True)
class Job:
    """Copies of one piece to be printed in one material.

    Attributes:
        piece: id of the piece.
        count: copies.
        width, depth, height: outer size, mm.
        material: id of the material.
        mass_g, time_s: of one copy.
        spaces: that wait for its copies, one a copy, the first to be ready first; none for what no space waits for.
        pads: whether it is held down by pads at its corners, where a bed has room for them.
        printers: ids of those that it is meant for; empty for any that can.
    """

    piece: str
    count: int
    width: float
    depth: float
    height: float
    material: str
    mass_g: float
    time_s: float
    spaces: tuple[str, ...] = ()
    pads: bool = False
    printers: tuple[str, ...] = ()

    @property
    def slender(self) -> bool:
        """Whether it is so tall and thin that the nozzle may knock it over."""
        return self.height > max(float(TALL), SLENDER * min(self.width, self.depth))


@dataclass(frozen=True)
class Item:
    """One copy on a bed: the front left corner of its box, from that of the printable area, and its quarter turns."""

    piece: str
    x: float
    y: float
    turns: int = 0

    @property
    def turned(self) -> bool:
        """Whether width and depth of its box are exchanged."""
        return bool(self.turns % 2)


@dataclass(frozen=True)
class ColourChange:
    """A change of filament by hand on the way: someone must be there.

    Attributes:
        material: id of the new one.
        layer: the first that is printed with it, counted from 1.
        height: where that begins, mm.
        after_s: about so long after the start.
        purge_g: what it costs.
    """

    material: str
    layer: int
    height: float
    after_s: float
    purge_g: float


@dataclass(frozen=True)
class Load:
    """One bedful.

    Attributes:
        printer, material: ids.
        items: in the order in which they are printed where that is one by one, else in order of the piece.
        mass_g, time_s: of all, heating up included.
        night: whether it may run with nobody looking; not where something tall and thin may be knocked over.
        one_by_one: whether each piece is finished before the next is begun.
        skirt: whether there are lines round all pieces.
        pads: by id, the pieces on it that have pads, and how far these reach, mm.
        also_on: other printers that could print it as it is, by id, and what it takes there, s.
        change: of the filament at a height; ``None`` where there is none.
    """

    printer: str
    material: str
    items: tuple[Item, ...]
    mass_g: float
    time_s: float
    night: bool = True
    one_by_one: bool = False
    skirt: bool = False
    pads: tuple[tuple[str, float], ...] = ()
    also_on: tuple[tuple[str, float], ...] = ()
    change: ColourChange | None = None


@dataclass(frozen=True)
class Group:
    """The bedfuls of one printer and material, held against the fewest that the pieces need there."""

    printer: str
    material: str
    bedfuls: int
    bound: int

    @property
    def gap(self) -> int:
        """How many more there are than the bound."""
        return self.bedfuls - self.bound


@dataclass(frozen=True)
class Filled:
    """All copies on beds: the bedfuls in order of printer and material, and how good they are, group by group."""

    loads: tuple[Load, ...]
    groups: tuple[Group, ...]
