"""One tray for several lots, side by side with dividers between them.

Each lot keeps the ways that it has alone; a shared tray takes one of each, so that all go into the same depth. Depths
are those that some lot needs: between two of them nothing changes but air.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.sizing.ways.way import PartKind, Way
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.sizing.tray_needs import TrayNeeds


@dataclass(frozen=True)
class Part:
    """One lot of a shared tray: its id, and its ways in a tray of its own."""

    lot: str
    ways: tuple[Way, ...]


def shared_ways(parts: Sequence[Part], needs: TrayNeeds, *, length: float, wall: float) -> tuple[Way, ...]:
    """The ways of a shared tray; empty where the lots do not go into one.

    Args:
        parts: its lots from the left, each with ways that have the same floor and the same front.
        needs: what the options of the tray take.
        length: the longest inside of any space, mm.
        wall: thickness of a divider where the options do not say it, mm.
    """
    between = (len(parts) - 1) * divider_room(needs, wall)
    found: dict[tuple[float, float, float], Way] = {}
    for depth, height in _frames(parts):
        chosen = [_narrowest(part, depth, height) for part in parts]
        ways = tuple(way for way in chosen if way)
        if len(ways) == len(parts):
            way = _together(parts, ways, needs, between)
            size = way.inner_width, way.inner_depth, way.stack_height
            if max(size[:2]) <= length and (size not in found or way.trouble < found[size].trouble):
                found[size] = way
    return tuple(found.values())


def _frames(parts: Sequence[Part]) -> Iterator[tuple[float, float]]:
    """Depths and heights that are worth trying: each lot's own ones that all others can keep to."""
    trays = [[way for way in part.ways if way.kind is PartKind.TRAY] for part in parts]
    if not all(trays):
        return
    least_depth = max(min(way.inner_depth for way in ways) for ways in trays)
    least_height = max(min(way.stack_height for way in ways) for ways in trays)
    every = [way for ways in trays for way in ways]
    depths = sorted({way.inner_depth for way in every if way.inner_depth >= least_depth})
    heights = sorted({way.stack_height for way in every if way.stack_height >= least_height})
    yield from ((depth, height) for height in (heights[0], heights[-1]) for depth in depths)


def _narrowest(part: Part, depth: float, height: float) -> Way | None:
    """The way that takes the least width, and then the least trouble, of those that keep to a depth and a height."""
    fitting = (way for way in part.ways if way.kind is PartKind.TRAY and _within(way, depth, height))
    return min(fitting, key=lambda way: (round(way.inner_width, 6), way.trouble), default=None)


def _within(way: Way, depth: float, height: float) -> bool:
    return way.inner_depth <= depth and way.stack_height <= height


def _together(parts: Sequence[Part], ways: tuple[Way, ...], needs: TrayNeeds, between: float) -> Way:
    smallest = min((way.thing for way in ways), key=lambda thing: min(thing.width, thing.depth, thing.height))
    width, depth = sum(way.inner_width for way in ways) + between, max(way.inner_depth for way in ways)
    return Way(
        kind=PartKind.TRAY,
        stance=ways[0].stance,
        thing=smallest,
        columns=len(ways),
        rows=1,
        layers=1,
        pitch_x=width / len(ways),
        pitch_y=depth,
        inner_width=max(width, needs.least_width),
        inner_depth=max(depth, needs.least_depth),
        stack_height=max(way.stack_height for way in ways),
        wall_height=max(*(way.wall_height for way in ways), needs.least_wall),
        floor=FloorStyle.SMOOTH if any(way.floor is FloorStyle.SMOOTH for way in ways) else FloorStyle.SHELL,
        trouble=sum(way.trouble for way in ways),
        needs=needs,
        compartments=ways,
        lots=tuple(part.lot for part in parts),
    )


def spans_of(way: Way, inside: float, wall: float) -> tuple[tuple[float, float], ...]:
    """The compartments of a shared tray along x, mm from the inside of its left wall; what is over is shared out.

    Args:
        way: of a shared tray.
        inside: from wall to wall, at least what the way takes, mm.
        wall: thickness of a divider where the options do not say it, mm.
    """
    widths, between = [one.inner_width for one in way.compartments], divider_room(way.needs, wall)
    clear = inside - between * (len(widths) - 1)
    spans, at = [], 0.0
    for width in widths:
        end = at + clear * width / sum(widths)
        spans.append((round(at, 4), round(end, 4)))
        at = end + between
    return tuple(spans)


def divider_room(needs: TrayNeeds, wall: float) -> float:
    """What a divider takes with its slots, mm."""
    return needs.columns.guide or needs.columns.thick or wall
