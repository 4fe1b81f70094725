"""What a way to keep a lot is, as plain data in mm. No cells, no shapes.

A place of a way holds one thing, or several that are handled as one body: a pile of nested things, a heap, a box.
Everything that follows draws and checks that body; ``each`` says how many things it stands for.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.sizing.tray_needs import PLAIN, TrayNeeds
from nookwright.sizing.ways.words import HEAPED, IN_A_BOX, IN_A_DISPENSER, IN_A_REST, NESTED

if TYPE_CHECKING:
    from nookwright.survey.dispensed import Dispensed
    from nookwright.survey.layout_wishes import OwnBox
    from nookwright.survey.models import FloorStyle, Stance


class PartKind(StrEnum):
    """The kind of part that holds a lot."""

    TRAY = "tray"
    CRADLE = "cradle"
    SHOE = "shoe"
    REST = "rest"
    DISPENSER = "dispenser"


class Arrangement(StrEnum):
    """How the places of a part lie to each other."""

    ROWS = "in rows"
    STAGGERED = "staggered"  # round things, every second row moved on by half a thing
    HEAP = "in a heap"  # poured in, no places


@dataclass(frozen=True)
class ThingSize:
    """The body in one place at its largest, as it stands, in mm: one thing, a pile, a heap, a box.

    Attributes:
        width: along x in the part.
        depth: along y in the part.
        height: upwards.
        round_axis: ``"z"`` for a round thing standing, ``"x"`` or ``"y"`` for one lying, ``""`` for a box.
    """

    width: float
    depth: float
    height: float
    round_axis: str


@dataclass(frozen=True)
class LongThings:
    """Long things in a rest, side by side: blades on their edge, or shafts; all of one size, mm.

    Attributes:
        count: how many there is room for.
        length: of a blade without its handle, or of a shaft.
        across: thickness of a blade's back, or diameter of a shaft.
        high: from edge to back of a blade, or diameter of a shaft.
        bladed: whether they are blades.
        drop: how far a handle reaches below the edge.
        handle_length, handle_thick, handle_high: of a handle; 0 where there is none.
    """

    count: int
    length: float
    across: float
    high: float
    bladed: bool
    drop: float = 0.0
    handle_length: float = 0.0
    handle_thick: float = 0.0
    handle_high: float = 0.0


@dataclass(frozen=True)
class Way:
    """One way to keep a lot in one part.

    Attributes:
        kind: which kind of part.
        stance: how the things stand.
        thing: the body in one place, as it stands.
        columns: places side by side along x, in the first row.
        rows: places one behind the other along y.
        layers: places on top of each other.
        pitch_x: from place to place along x (the thing and the clearance, for a cradle also its wall).
        pitch_y: from row to row along y.
        inner_width: inside that this takes along x, room to grow included; of a shoe, its sleeve less two walls, so
            that its cells follow in the same way.
        inner_depth: the same along y.
        stack_height: height of the things above the floor of the part, an inlay included.
        wall_height: height of the part's wall above its floor, enough to keep the things in.
        floor: floor style that the things need.
        trouble: how much more trouble one thing is to get out than the handiest way, in cost units, 0 or more.
        edge: what the first and last thing of a compartment need besides along one side, mm.
        needs: what the options of the tray take of its inside.
        pocket: diameter of a cradle's pockets as drawn, mm; 0 for a tray.
        arrangement: how the places lie to each other.
        short: of staggered rows, every second one has a place less.
        each: how many things one place holds.
        nest: by how much a pile of nested things grows with each more, mm; 0 where they are not nested.
        box: the person's own box that the things are in.
        compartments: of a tray that several lots share, the way of each, from the left; ``lots`` names them.
        lots: ids of the lots that share it, in the order of ``compartments``; empty for one lot alone.
        long: what lies in a rest.
        drawn: what is drawn from a dispenser.
    """

    kind: PartKind
    stance: Stance
    thing: ThingSize
    columns: int
    rows: int
    layers: int
    pitch_x: float
    pitch_y: float
    inner_width: float
    inner_depth: float
    stack_height: float
    wall_height: float
    floor: FloorStyle
    trouble: float
    edge: float = 0.0
    needs: TrayNeeds = PLAIN
    pocket: float = 0.0
    arrangement: Arrangement = Arrangement.ROWS
    short: bool = False
    each: int = 1
    nest: float = 0.0
    box: OwnBox | None = None
    compartments: tuple[Way, ...] = ()
    lots: tuple[str, ...] = ()
    long: LongThings | None = None
    drawn: Dispensed | None = None

    @property
    def places(self) -> int:
        """How many places it has."""
        return self.layers * (self.columns * self.rows - (self.rows // 2 if self.short else 0))

    @property
    def room(self) -> int:
        """How many things it takes."""
        return self.places * self.each

    @property
    def edge_x(self) -> float:
        """What a row needs beyond its things, along x, mm."""
        moved = self.arrangement is Arrangement.STAGGERED and not self.short and self.rows > 1
        return self.edge + (self.pitch_x / 2 if moved else 0.0)

    @property
    def edge_y(self) -> float:
        """What a column needs beyond its rows, along y, mm: staggered rows lie closer than one thing is deep."""
        return self.edge + (self.pitch_x - self.pitch_y if self.arrangement is Arrangement.STAGGERED else 0.0)

    @property
    def by_size(self) -> bool:
        """Whether the part follows from the size of one thing, so that a better reading of it would change the part."""
        own = self.kind in (PartKind.SHOE, PartKind.REST)
        return not (self.arrangement is Arrangement.HEAP or own or self.compartments)

    @property
    def words(self) -> str:
        """How the things are kept, for people."""
        if self.box:
            return IN_A_BOX
        if self.long:
            return IN_A_REST
        if self.drawn:
            return IN_A_DISPENSER
        if self.arrangement is Arrangement.HEAP:
            return HEAPED
        return NESTED if self.nest and self.each > 1 else self.stance.value


@dataclass(frozen=True)
class Limits:
    """What a way may need at most, mm, and the room's defaults.

    Attributes:
        length: the longest inside of any space.
        height: the greatest clear height of any space.
        wall: thickness of a cradle's wall between two pockets.
        floor: floor style where the things do not ask for one.
    """

    length: float
    height: float
    wall: float
    floor: FloorStyle
