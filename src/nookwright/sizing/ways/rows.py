"""Things in rows and layers, in rows that are staggered, and in piles of nested ones: every useful count of them.

Round things that stand may be staggered: every second row is moved on by half a thing, so rows lie sin 60 times as far
apart, and the share of the floor that is covered grows from pi/4 towards pi/sqrt(12).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.tray_needs import PLAIN
from nookwright.sizing.ways.clearances import HAND_WIDTH, capacity, edge_of, floor_for, is_small, pitches_of
from nookwright.sizing.ways.handling import lifting_trouble, trouble_of
from nookwright.sizing.ways.walls import TALL, wall_height
from nookwright.sizing.ways.way import Arrangement, PartKind, ThingSize, Way
from nookwright.survey.models import FloorStyle, Lot, Shape, Stance

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.sizing.things import Standing
    from nookwright.sizing.tray_needs import TrayNeeds
    from nookwright.sizing.ways.way import Limits

HEAP = Fact(
    36.0,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="Small loose things are not heaped higher: the lower ones are never seen.",
)
MOST_LAYERS = Fact(3, unit="1", kind=Kind.COMMON_PRACTICE, source="Larger things are not stacked higher in one tray.")
HIGHEST_PILE = Fact(
    2.5, unit="1", kind=Kind.CHOICE, source="Piles of nested things higher than this many of their widths sway."
)
ROW_STEP = Fact(
    math.sqrt(3) / 2, unit="1", kind=Kind.CALCULATED, source="From row to row of staggered things, in things: sin 60."
)
_HAIR = 1e-9


class Sketch(NamedTuple):
    """A way in so many rows as bare numbers, mm and cost units; most are dropped before a ``Way`` is made of them."""

    kept: Kept
    columns: int
    rows: int
    layers: int
    each: int
    high: float
    short: bool | None
    inner_width: float
    inner_depth: float
    stack_height: float
    wall_height: float
    trouble: float

    @property
    def way(self) -> Way:
        """The way itself."""
        return _way(self)


@dataclass(frozen=True)
class Kept:
    """A lot's things as they stand in one kind of part: everything about them that does not hang on their number.

    Attributes:
        lot: a loaded lot.
        standing: one thing, as it stands.
        kind: of the part.
        limits: the largest insides of the room.
        needs: what the options of its tray take.
    """

    lot: Lot
    standing: Standing
    kind: PartKind
    limits: Limits
    needs: TrayNeeds = PLAIN

    @cached_property
    def pitch(self) -> tuple[float, float]:
        """From thing to thing along x and y, in rows, mm."""
        return pitches_of(self.lot, self.standing, self.kind, self.limits)

    @cached_property
    def edge(self) -> float:
        """What the first and last thing need besides, mm."""
        return edge_of(self.lot, self.standing, self.kind, self.limits)

    @cached_property
    def floor(self) -> FloorStyle:
        """The floor of the part."""
        return floor_for(self.lot, self.standing, self.kind, self.limits)

    @cached_property
    def clear_height(self) -> float:
        """Over an inlay, mm."""
        return self.limits.height - self.needs.inlay

    @cached_property
    def storeys(self) -> tuple[tuple[int, int, int, float], ...]:
        """Layers, places needed in each, things in a place and height of a place: those that the height allows."""
        room = capacity(self.lot)
        if self.lot.nests_by is not None and self.kind is PartKind.TRAY:
            found = tuple(_piles(self, room))
        else:
            high = self.standing.height
            found = tuple((n, math.ceil(room / n), 1, high) for n in _layer_counts(room, _most_layers(self)))
        return tuple(one for one in found if one[0] * one[3] <= self.clear_height)


def in_rows(kept: Kept) -> Iterator[Sketch]:
    """Every useful number of columns for every useful number of layers.

    Args:
        kept: things as they stand in one kind of part.
    """
    needs, most, edge = kept.needs, kept.limits.length, kept.edge
    seen: set[tuple[int, int]] = set()
    for layers, places, each, high in kept.storeys:
        for columns, rows in _grids(places):
            if columns * kept.pitch[0] + edge > most or rows * kept.pitch[1] + edge > most or (columns, rows) in seen:
                continue
            if columns < needs.columns.compartments or rows < needs.rows.compartments:
                continue
            sketch = _sketch(kept, (columns, rows, layers), (each, high), None)
            if needs == PLAIN or max(sketch.inner_width, sketch.inner_depth) <= most:
                seen.add((columns, rows))
                yield sketch


def _grids(places: int) -> Iterator[tuple[int, int]]:
    """Columns and rows for so many places, fewest columns first, none with a row or a column too many.

    >>> list(_grids(7))
    [(1, 7), (2, 4), (3, 3), (4, 2), (7, 1)]
    """
    columns = 1
    while columns <= places:
        rows = math.ceil(places / columns)
        yield columns, rows
        if rows == 1:
            return
        columns = math.ceil(places / (rows - 1))


def staggered(kept: Kept) -> Iterator[Sketch]:
    """The same in staggered rows, for round things that stand in one undivided part.

    Args:
        kept: things as they stand in one kind of part.
    """
    needs, most = kept.needs, kept.limits.length
    if kept.standing.round_axis != "z" or not (needs.columns.plain and needs.rows.plain):
        return
    for layers, places, each, high in kept.storeys:
        for columns, rows, short in _staggers(places):
            sketch = _sketch(kept, (columns, rows, layers), (each, high), short)
            if max(sketch.inner_width, sketch.inner_depth) <= most:
                yield sketch


def _staggers(places: int) -> Iterator[tuple[int, int, bool]]:
    """Columns, rows of two or more, and whether every second row has a place less, for so many places.

    >>> list(_staggers(4))
    [(1, 4, False), (2, 2, False), (2, 3, True), (3, 2, True)]
    """
    last = 0
    for columns in range(1, places):
        rows = math.ceil(places / columns)
        if rows == 1:
            return
        if rows != last:
            yield columns, rows, False
        last = rows
        pair = 2 * columns - 1
        fewest = 2 * (places // pair) + min(2, math.ceil(places % pair / columns))
        if columns > 1 and fewest > 1:
            yield columns, fewest, True


def _sketch(kept: Kept, counts: tuple[int, int, int], pile: tuple[int, float], short: bool | None) -> Sketch:  # noqa: FBT001 - three answers: in rows, staggered, staggered and short
    """The numbers of a way in rows, or where ``short`` says how, in staggered rows."""
    needs, (pitch_x, pitch_y), (columns, rows, layers), (each, high) = kept.needs, _pitch(kept, short), counts, pile
    across = kept.edge + (pitch_x / 2 if short is False else 0.0)
    back = kept.edge + (0.0 if short is None else pitch_x - pitch_y)
    stack = layers * high
    width = max(needs.columns.least(columns, pitch_x, across), HAND_WIDTH, needs.least_width)
    depth = max(needs.rows.least(rows, pitch_y, back), HAND_WIDTH, needs.least_depth)
    arrangement = Arrangement.ROWS if short is None else Arrangement.STAGGERED
    return Sketch(
        kept, columns, rows, layers, each, high, short,
        inner_width=width,
        inner_depth=depth,
        stack_height=stack + needs.inlay,
        wall_height=max(wall_height(kept.standing.stance, kept.kind, high, layers) + needs.inlay, needs.least_wall),
        trouble=trouble_of(
            kept.lot, kept.standing, kept.kind, counts, pitch=(pitch_x, pitch_y), arrangement=arrangement
        )
        + lifting_trouble(width, depth),
    )  # fmt: skip


def _pitch(kept: Kept, short: bool | None) -> tuple[float, float]:  # noqa: FBT001 - as above
    pitch_x, pitch_y = kept.pitch
    return (pitch_x, pitch_y) if short is None else (pitch_x, pitch_x * ROW_STEP)


def _way(one: Sketch) -> Way:
    kept, standing = one.kept, one.kept.standing
    pitch_x, pitch_y = _pitch(kept, one.short)
    return Way(
        kind=kept.kind,
        stance=standing.stance,
        thing=ThingSize(standing.width, standing.depth, one.high, standing.round_axis),
        columns=one.columns,
        rows=one.rows,
        layers=one.layers,
        pitch_x=pitch_x,
        pitch_y=pitch_y,
        inner_width=one.inner_width,
        inner_depth=one.inner_depth,
        stack_height=one.stack_height,
        wall_height=one.wall_height,
        floor=kept.floor,
        trouble=one.trouble,
        edge=kept.edge,
        needs=kept.needs,
        pocket=standing.pocket,
        arrangement=Arrangement.ROWS if one.short is None else Arrangement.STAGGERED,
        short=bool(one.short),
        each=one.each,
        nest=(kept.lot.nests_by or 0.0) if one.each > 1 else 0.0,
    )


def _most_layers(kept: Kept) -> int:
    """How many things may lie on top of each other; never more than the height allows."""
    lot, standing = kept.lot, kept.standing
    fit = max(1, int((kept.clear_height + _HAIR) // standing.height))
    if kept.kind is PartKind.CRADLE or standing.stance is Stance.ON_EDGE:
        return 1
    if lot.shape is Shape.FLAT:
        return min(capacity(lot), fit)
    if is_small(standing):
        return min(max(1, int(HEAP // standing.height)), fit)
    standing_tall = standing.stance is Stance.UPRIGHT and standing.round_axis == "z" and standing.height > TALL
    return 1 if standing_tall else min(int(MOST_LAYERS), fit)


def _layer_counts(room: int, most: int) -> tuple[int, ...]:
    """Numbers of layers that lead to different numbers of piles, fewest first; thinned out where there are many."""
    counts = sorted({math.ceil(room / math.ceil(room / layers)) for layers in range(1, min(room, most) + 1)})
    few = int(MOST_LAYERS) * 2
    return tuple(counts) if len(counts) <= few else tuple(counts[-few:])


def _piles(kept: Kept, room: int) -> Iterator[tuple[int, int, int, float]]:
    """Piles of nested things: one layer of them, so many things in each, and how high that is; the lowest first."""
    first, more = kept.standing.height, kept.lot.nests_by or 0.0
    highest = min(kept.clear_height, max(first, HIGHEST_PILE * min(kept.standing.width, kept.standing.depth)))
    most = room if not more else min(room, 1 + int((highest - first + _HAIR) // more))
    for each in _layer_counts(room, max(1, most)):
        yield 1, math.ceil(room / each), each, first + (each - 1) * more
