"""Ways to keep a lot: how its things stand, in columns, rows and layers, and how much room that takes. No cells yet."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.lot_sizes import Terms, drawn, pocket_of
from nookwright.sizing.things import Standing, standings_of
from nookwright.sizing.tray_needs import CORNER_ROOM, PLAIN, ROLLED_CORNER_ROOM, TrayNeeds
from nookwright.survey.models import FloorStyle, Keep, Lot, Shape, Stance
from nookwright.survey.tray_wishes import TrayWishes

if TYPE_CHECKING:
    from collections.abc import Iterator

TRAY_CLEARANCE = Fact(
    1.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="From thing to thing and to the wall, to fall in easily."
)
FINGER_ROOM = Fact(
    4.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Beside a pile of sheets, to get a fingertip behind it."
)
SHELL_FILLET = Fact(
    1.0,
    unit="mm",
    kind=Kind.CHOICE,
    source="Between walls and a shell floor: no crumbs in the corner; the domes give the strength.",
)
SMOOTH_FILLET = Fact(
    3.0,
    unit="mm",
    kind=Kind.CHOICE,
    source="Between walls and a smooth floor: a fingertip rolls small things up the wall.",
)
HAND_WIDTH = Fact(
    28.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Least inside of a tray that things are picked from by hand."
)
SMALL = Fact(
    36.0,
    unit="mm",
    kind=Kind.CHOICE,
    source="Things no longer than this lie loose and catch on the domes of a shell floor.",
)
HEAP = Fact(
    36.0,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="Small loose things are not heaped higher: the lower ones are never seen.",
)
MOST_LAYERS = Fact(3, unit="1", kind=Kind.COMMON_PRACTICE, source="Larger things are not stacked higher in one tray.")
LAYER_TROUBLE = Fact(
    2.0, unit="cost", kind=Kind.CHOICE, source="Each layer above the first: one thing more to lift off."
)
LOOSE_TROUBLE = Fact(
    3.0, unit="cost", kind=Kind.CHOICE, source="Tall round things fall against each other without a pocket."
)
TALL = Fact(40.0, unit="mm", kind=Kind.CHOICE, source="Standing things above this need no wall as high as they are.")
HELD_SHARE = Fact(
    0.45, unit="1", kind=Kind.COMMON_PRACTICE, source="Share of a standing thing's height that a tray's wall holds."
)
POCKET_SHARE = Fact(0.4, unit="1", kind=Kind.COMMON_PRACTICE, source="The same for the pocket of a cradle.")
LEAST_WALL = Fact(12.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Lower walls let things climb out in a slam.")
MOST_WALL = Fact(56.0, unit="mm", kind=Kind.CHOICE, source="Walls held higher than this are only plastic.")
RIM_OVER = Fact(2.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="A wall stands over what lies in the tray by this.")


class PartKind(StrEnum):
    """The kind of part that holds a lot."""

    TRAY = "tray"
    CRADLE = "cradle"


@dataclass(frozen=True)
class ThingSize:
    """One thing at its largest, as it stands, in mm.

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
class Way:
    """One way to keep a lot in one part.

    Attributes:
        kind: tray or cradle.
        stance: how the things stand.
        thing: one thing at its largest, as it stands.
        columns: things side by side along x.
        rows: things one behind the other along y.
        layers: things on top of each other.
        pitch_x: from thing to thing along x (the thing and the clearance, for a cradle also its wall).
        pitch_y: the same along y.
        inner_width: inside that this takes along x, room to grow included.
        inner_depth: the same along y.
        stack_height: height of the things above the floor of the part, an inlay included.
        wall_height: height of the part's wall above its floor, enough to keep the things in.
        floor: floor style that the things need.
        trouble: how much more trouble one thing is to get out than the handiest way, in cost units, 0 or more.
        edge: what the first and last thing of a compartment need besides along one side, mm.
        needs: what the options of the tray take of its inside.
        pocket: diameter of a cradle's pockets as drawn, mm; 0 for a tray.
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


def ways_of(lot: Lot, limits: Limits, needs: TrayNeeds = PLAIN, terms: Terms | None = None) -> tuple[Way, ...]:
    """All sensible ways to keep a lot within the limits, in a fixed order; empty where it fits nowhere.

    Args:
        lot: a loaded lot.
        limits: the largest insides of the room.
        needs: what the options of its tray take; a cradle has none.
        terms: what holds for all lots; the usual when left out.
    """
    terms = terms or Terms()
    ways: list[Way] = []
    for standing in standings_of(lot, terms):
        for kind in _kinds(lot, standing):
            if kind is PartKind.TRAY:
                ways += _arrangements(lot, standing, kind, limits, needs)
            else:
                ways += _arrangements(lot, _in_pocket(lot, standing, terms), kind, limits, PLAIN)
    return tuple(ways)


def _in_pocket(lot: Lot, standing: Standing, terms: Terms) -> Standing:
    """A thing that stands in a pocket: the pocket goes by its diameter alone, at the confidence of the room."""
    pocket = pocket_of(lot, terms, pockets=capacity(lot))
    across = round(pocket.thing, 6)
    return replace(standing, width=across, depth=across, pocket=max(drawn(pocket), math.ceil(across * 100) / 100))


def capacity(lot: Lot) -> int:
    """How many things there should be room for: the count and its growth, rounded up."""
    return math.ceil(round(lot.count * (1 + lot.grow_percent / 100), 6))


def _kinds(lot: Lot, standing: Standing) -> tuple[PartKind, ...]:
    """Kinds of part that can hold a thing standing so: cradles hold round things that stand."""
    can_cradle = standing.round_axis == "z" and not _small(standing)
    if lot.keep is Keep.CRADLE:
        return (PartKind.CRADLE,) if standing.round_axis == "z" else ()
    if lot.keep is Keep.TRAY or lot.tray != TrayWishes() or not can_cradle:
        return (PartKind.TRAY,)
    return (PartKind.CRADLE, PartKind.TRAY)


def _small(standing: Standing) -> bool:
    return max(standing.width, standing.depth, standing.height) <= SMALL


def _most_layers(lot: Lot, standing: Standing, kind: PartKind, height: float) -> int:
    """How many things may lie on top of each other; never more than the height allows."""
    fit = max(1, int(height // standing.height))
    if kind is PartKind.CRADLE or standing.stance is Stance.ON_EDGE:
        return 1
    if lot.shape is Shape.FLAT:
        return min(capacity(lot), fit)
    if _small(standing):
        return min(max(1, int(HEAP // standing.height)), fit)
    standing_tall = standing.stance is Stance.UPRIGHT and standing.round_axis == "z" and standing.height > TALL
    return 1 if standing_tall else min(int(MOST_LAYERS), fit)


def _arrangements(lot: Lot, standing: Standing, kind: PartKind, limits: Limits, needs: TrayNeeds) -> Iterator[Way]:
    """Every useful number of columns for every useful number of layers."""
    pitch_x, pitch_y = _pitches(lot, standing, kind, limits)
    room = capacity(lot)
    seen: set[tuple[int, int]] = set()
    clear_height = limits.height - needs.inlay
    for layers in _layer_counts(room, _most_layers(lot, standing, kind, clear_height)):
        if layers * standing.height > clear_height:
            continue
        per_layer = math.ceil(room / layers)
        edge = _edge(lot, standing, kind, limits)
        most = max(0, min(per_layer, int((limits.length - edge) / pitch_x)))
        for wanted in range(1, most + 1):
            rows = math.ceil(per_layer / wanted)
            columns = math.ceil(per_layer / rows)
            if columns != wanted or (columns, rows) in seen or rows * pitch_y + edge > limits.length:
                continue
            if columns < needs.columns.compartments or rows < needs.rows.compartments:
                continue
            way = _way(lot, standing, kind, limits, (columns, rows, layers), needs=needs)
            if needs == PLAIN or max(way.inner_width, way.inner_depth) <= limits.length:
                seen.add((columns, rows))
                yield way


def _layer_counts(room: int, most: int) -> tuple[int, ...]:
    """Numbers of layers that lead to different numbers of piles, fewest first; thinned out where there are many."""
    counts = sorted({math.ceil(room / math.ceil(room / layers)) for layers in range(1, min(room, most) + 1)})
    few = int(MOST_LAYERS) * 2
    return tuple(counts) if len(counts) <= few else tuple(counts[-few:])


def _pitches(lot: Lot, standing: Standing, kind: PartKind, limits: Limits) -> tuple[float, float]:
    """From thing to thing along x and y, mm."""
    if kind is PartKind.CRADLE:
        pitch = standing.pocket + limits.wall
        return pitch, pitch
    if standing.stance is Stance.ON_EDGE:
        return standing.width + TRAY_CLEARANCE, standing.depth
    if lot.shape is Shape.FLAT:
        return standing.width + FINGER_ROOM, standing.depth + FINGER_ROOM
    return standing.width + TRAY_CLEARANCE, standing.depth + TRAY_CLEARANCE


def _edge(lot: Lot, standing: Standing, kind: PartKind, limits: Limits) -> float:
    """What the first and last thing need besides, along one side, mm: with half their clearance, fillet and corners."""
    if kind is PartKind.CRADLE:
        return limits.wall
    if lot.shape is Shape.FLAT and standing.stance is not Stance.ON_EDGE:
        return float(FINGER_ROOM)
    smooth = _floor(lot, standing, kind, limits) is FloorStyle.SMOOTH
    clear = 0.0 if standing.stance is Stance.ON_EDGE else float(TRAY_CLEARANCE)
    fillet = SMOOTH_FILLET if smooth else SHELL_FILLET
    corner = fillet if standing.round_axis == "z" else ROLLED_CORNER_ROOM if smooth else CORNER_ROOM
    return max(float(TRAY_CLEARANCE), 2 * max(fillet, corner) - clear)


def _way(
    lot: Lot, standing: Standing, kind: PartKind, limits: Limits, counts: tuple[int, int, int], *, needs: TrayNeeds
) -> Way:
    columns, rows, layers = counts
    pitch_x, pitch_y = _pitches(lot, standing, kind, limits)
    edge = _edge(lot, standing, kind, limits)
    stack = layers * standing.height
    return Way(
        kind=kind,
        stance=standing.stance,
        thing=ThingSize(standing.width, standing.depth, standing.height, standing.round_axis),
        columns=columns,
        rows=rows,
        layers=layers,
        pitch_x=pitch_x,
        pitch_y=pitch_y,
        inner_width=max(needs.columns.least(columns, pitch_x, edge), HAND_WIDTH, needs.least_width),
        inner_depth=max(needs.rows.least(rows, pitch_y, edge), HAND_WIDTH, needs.least_depth),
        stack_height=stack + needs.inlay,
        wall_height=max(_wall_height(standing, kind, stack) + needs.inlay, needs.least_wall),
        floor=_floor(lot, standing, kind, limits),
        trouble=_trouble(lot, standing, kind, layers),
        edge=edge,
        needs=needs,
        pocket=standing.pocket,
    )


def _wall_height(standing: Standing, kind: PartKind, stack: float) -> float:
    """Height of the wall above the floor that keeps the things in, mm."""
    if kind is PartKind.CRADLE:
        return min(max(POCKET_SHARE * stack, LEAST_WALL), MOST_WALL)
    if standing.stance is not Stance.LYING and stack > TALL:
        return min(max(HELD_SHARE * stack, LEAST_WALL), MOST_WALL)
    return max(min(stack + RIM_OVER, MOST_WALL), LEAST_WALL)


def _floor(lot: Lot, standing: Standing, kind: PartKind, limits: Limits) -> FloorStyle:
    """Smooth where the things are small, flat or in pockets; else as the room prefers."""
    if lot.floor is not None and kind is PartKind.TRAY:
        return lot.floor
    needs = kind is PartKind.CRADLE or lot.shape is Shape.FLAT or _small(standing)
    return FloorStyle.SMOOTH if needs else limits.floor


def _trouble(lot: Lot, standing: Standing, kind: PartKind, layers: int) -> float:
    heaped = _small(standing) or lot.shape is Shape.FLAT
    over = 0.0 if heaped else LAYER_TROUBLE * (layers - 1)
    falls = kind is PartKind.TRAY and standing.round_axis == "z" and standing.height > standing.width
    return over + (LOOSE_TROUBLE if falls else 0.0)
