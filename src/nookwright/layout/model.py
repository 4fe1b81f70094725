"""What the layout stage takes and gives: plain frozen data in cells.

Promise: a ``Placed`` never overlaps another, a blocked cell or the edge of its grid, in any turn; a lot that could not
be placed is in ``left_out`` with the reason. What it does not know: shapes, beds, colours.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from nookwright.layout.liner_model import Side
    from nookwright.sizing.ways import Way

OPEN = Fact(
    40,
    unit="cost",
    kind=Kind.CHOICE,
    source="One more space in use: its liner costs about an evening of printing.",
)


@dataclass(frozen=True)
class Grid:
    """The cells of one space.

    Attributes:
        space: id of the space.
        cols: cells along x.
        rows: cells along y.
        blocked: cells that nothing may cover, as (col, row), sorted.
        height: clear height above the liner, mm.
        load_g: what the space may still carry, g (liner already taken off).
        reach: cost of reaching into it once, 0 for the handiest space.
        children: children can reach it.
        fill: whether lots may be put here at all (a spot under a shelf has no floor to put a tray on).
        smallest: footprint of the smallest part that may stand here, cells, the shorter side first.
        open_cost: cost of using the space at all.
        opening: clear width and height that a part must pass on its way in, mm; ``None`` for none.
        warm, wet: it gets warm, it may get wet.
        behind: rows at the back that stay inside when a drawer is pulled out.
        drawer: whether it moves, so that what stands in it is thrown to the back and to the front.
        coned: whether its liner has its cones all over, not only in strips or nowhere.
    """

    space: str
    cols: int
    rows: int
    blocked: tuple[tuple[int, int], ...]
    height: float
    load_g: float
    reach: float
    children: bool
    fill: bool
    smallest: tuple[int, int] = (1, 1)
    open_cost: float = float(OPEN)
    opening: tuple[float, float] | None = None
    warm: bool = False
    wet: bool = False
    behind: int = 0
    drawer: bool = False
    coned: bool = True


@dataclass(frozen=True)
class Candidate:
    """One part that could hold one lot, in cells. Carries every parameter that its part needs.

    Attributes:
        lot: id of the lot.
        way: how the things stand.
        cols: cells along x, unturned.
        rows: cells along y, unturned.
        height: outer height of the part, a whole number of rises, mm.
        tall: height needed above the liner with the things in, mm.
        mass_g: part and things together.
        cost: what it costs more than the best candidate of its lot, 0 or more.
        may_turn: whether it may lie turned by 90 degrees; not if it has a front that must face the front.
        size: outer width and depth, unturned, mm.
        part_g, time_s: of the part alone, in closed form.
        price: of what has to be bought for it, in the person's currency.
    """

    lot: str
    way: Way
    cols: int
    rows: int
    height: float
    tall: float
    mass_g: float
    cost: float
    may_turn: bool = True
    size: tuple[float, float] = (0.0, 0.0)
    part_g: float = 0.0
    time_s: float = 0.0
    price: float = 0.0

    @property
    def least(self) -> tuple[int, int]:
        """Footprint of its smallest part, the shorter side first, cells: a rest stands on several."""
        if self.way.long:
            return (1, 2) if self.way.long.bladed else (2, 2)  # a guard, a support
        return min(self.cols, self.rows), max(self.cols, self.rows)


@dataclass(frozen=True)
class Ask:
    """One lot as the solver sees it: its candidates, never empty, and what it wishes.

    Attributes:
        lot: id of the lot.
        candidates: non-dominated, cheapest first.
        use: weight of reach (how often it is taken out).
        bonds: ids of lots that should be in the same space, and what it costs if they are not.
        out_of_reach: never in a space that children can reach.
        spaces: ids of the spaces that it may go to; any when empty.
        leaning: ids of spaces and what it costs more to be there, 0 or more; nothing in all others.
        cool, dry: never in a warm, never in a wet space.
        group: lots of one group are alike; none when empty.
    """

    lot: str
    candidates: tuple[Candidate, ...]
    use: float
    bonds: tuple[tuple[str, float], ...]
    out_of_reach: bool
    spaces: tuple[str, ...] = ()
    leaning: tuple[tuple[str, float], ...] = ()
    cool: bool = False
    dry: bool = False
    group: str = ""


@dataclass(frozen=True)
class FenceForm:
    """How a fence stands in its cells.

    Attributes:
        wall: the side of its cells that its wall stands on; its base and buttresses lie away from it.
        slot: whether it is set down over the tongue of the fence before it, seen with its wall at the back.
        tongue: whether the next one is set down over its own.
    """

    wall: Side
    slot: bool = False
    tongue: bool = False


@dataclass(frozen=True)
class Placed:
    """A part in its place, in cells.

    Attributes:
        space: id of the space.
        col, row: its front left cell.
        cols, rows: its footprint as it lies (already turned).
        turned: whether the candidate was turned by 90 degrees to lie so.
        candidate: what it is; ``None`` for a part without a lot.
        height: outer height of the part, mm.
        label: what people call a part without a lot; a spare tray when empty.
        fence: how a fence stands; ``None`` for all else.
        level: 0 on the liner, 1 on the deck lid of the part below.
        raised: its underside above the liner, mm.
        decked: whether it is closed by a deck lid that carries the part above it.
        pinned: whether the person said that it stays where it is.
    """

    space: str
    col: int
    row: int
    cols: int
    rows: int
    turned: bool
    candidate: Candidate | None
    height: float
    label: str = ""
    fence: FenceForm | None = None
    level: int = 0
    raised: float = 0.0
    decked: bool = False
    pinned: bool = False


@dataclass(frozen=True)
class LeftOut:
    """A lot that has no place, and why, in words a person can act on."""

    lot: str
    reason: str
    remedy: str


@dataclass(frozen=True)
class CostPart:
    """One part of the cost of a layout."""

    name: str
    value: float


COUNTED = ("footprint", "reach", "split", "open")  # parts of the cost that the search counts


@dataclass(frozen=True)
class SpacePrice:
    """What a space is worth at the margin, from the relaxed problem; 0 where there is enough.

    Attributes:
        space: its id.
        cell: of one cell more, cost.
        gram: of one gram of load more, cost/g.
    """

    space: str
    cell: float
    gram: float


@dataclass(frozen=True)
class Layout:
    """A layout of a whole room.

    Attributes:
        placed: sorted by space, row, col.
        left_out: lots without a place, sorted by id.
        cost: parts of the cost: footprint, reach, split, open, then what is judged besides.
        bound: proven lower bound of the sum of these four (for the lots that are placed and left out as they are).
        gap: (that sum - bound) / bound, 0 where both are 0.
        proven: whether the bound was proven to the stated gap, not stopped by a limit.
        by_clock: whether the clock stopped the search (then the result may differ on another machine).
        seed, iterations: what repeats it.
        prices: what every space is worth at the margin, in the order of the room; empty before that is known.
        stopped: whether somebody stopped the search before its end.
        bound_nodes: how far the work on the bound went: nodes of the solver's search tree.
    """

    placed: tuple[Placed, ...]
    left_out: tuple[LeftOut, ...]
    cost: tuple[CostPart, ...]
    bound: float
    gap: float
    proven: bool
    by_clock: bool
    seed: int
    iterations: int
    prices: tuple[SpacePrice, ...] = ()
    stopped: bool = False
    bound_nodes: int = 0

    @property
    def counted(self) -> float:
        """What the search counts of its cost, and the bound bounds."""
        return sum(part.value for part in self.cost if part.name in COUNTED)

    def in_space(self, space: str) -> tuple[Placed, ...]:
        """What is placed in a space.

        Args:
            space: its id.
        """
        return tuple(one for one in self.placed if one.space == space)
