"""The plan of the sleeves around pockets: the sleeves, webs through their middles, and ties across narrow slits.

Between two sleeves, or a sleeve and the outer wall, a slit of less than a millimetre would fill with strings, and two
rounds that just touch would be no closed body. So a slit is tied across for as long as it is that narrow.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from nookwright.parts.cradles.cradle import WORTH_SPREADING as SLIT
from nookwright.parts.cradles.plan_outlines import RoundedBox, Slab, bar, slab

if TYPE_CHECKING:
    from nookwright.parts.cradles.plan_outlines import RoundedBox

_SUNK = 0.2  # an overlap of less counts as a slit too: roots are sunk by as much
_SAME = 1e-3  # middles that differ by less stand in one row
_MOST = 0.8  # of a radius: a wider tie would leave the round at a tangent


@dataclass(frozen=True)
class Inside:
    """The inside of a cradle: from where to where it reaches, and how thick its wall and its webs are, mm."""

    left: float
    front: float
    right: float
    back: float
    wall: float


def ties(sleeves: tuple[RoundedBox, ...], inside: Inside) -> tuple[Slab, ...]:
    """Ties across all slits: between sleeves, and from sleeves to the outer wall."""
    found = [tie for one, other in combinations(sleeves, 2) if (tie := _tie(one, other)) is not None]
    return (*found, *(tie for sleeve in sleeves for tie in _to_walls(sleeve, inside)))


def webs(sleeves: tuple[RoundedBox, ...], inside: Inside) -> tuple[Slab, ...]:
    """Webs from wall to wall through the middles of rows and columns, where they leave no slit beside a sleeve."""
    half, reach = inside.wall / 2, inside.wall / 2
    lying = (
        slab(inside.left - reach, y - half, inside.right + reach, y + half)
        for y in _apart([sleeve.y for sleeve in sleeves], inside, (inside.front, inside.back))
        if all(_clear(y - sleeve.y, sleeve.half_depth, half) for sleeve in sleeves)
    )
    standing = (
        slab(x - half, inside.front - reach, x + half, inside.back + reach)
        for x in _apart([sleeve.x for sleeve in sleeves], inside, (inside.left, inside.right))
        if all(_clear(x - sleeve.x, sleeve.half_width, half) for sleeve in sleeves)
    )
    return *lying, *standing


def _apart(middles: list[float], inside: Inside, ends: tuple[float, float]) -> list[float]:
    """Middles of webs along one axis, each a web and a slit from the one before and from the walls."""
    least, kept = inside.wall + SLIT, [ends[0] - inside.wall / 2]
    for middle in sorted(middles):
        if middle - kept[-1] >= least and ends[1] + inside.wall / 2 - middle >= least:
            kept.append(middle)
    return kept[1:]


def _clear(distance: float, half: float, web: float) -> bool:
    """Whether a web meets a sleeve well inside, or misses it by more than a slit."""
    off = abs(distance)
    return off <= max(0.0, half - 2 * web) or off >= half + web + SLIT or off < _SAME


def _tie(one: RoundedBox, other: RoundedBox) -> Slab | None:
    """A tie across the slit between two sleeves; nothing where they overlap well, or stand apart."""
    gap = one.gap(other)
    if not -_SUNK < gap < SLIT:
        return None
    (a, b), (c, d) = one.core, other.core
    wide = _reach(gap, one.radius, other.radius)
    xs, ys = _facing((one.x, a), (other.x, c)), _facing((one.y, b), (other.y, d))
    if max(_length(xs), _length(ys)) + 2 * wide < _SUNK:
        return None  # at its narrowest the slit is all but wide enough
    if xs is not None and (ys is None or xs[1] - xs[0] >= ys[1] - ys[0]):
        low, high = sorted((one.y, other.y))
        return slab(xs[0] - wide, low, xs[1] + wide, high)
    if ys is not None:
        low, high = sorted((one.x, other.x))
        return slab(low, ys[0] - wide, high, ys[1] + wide)
    return bar(_corner(one, other), _corner(other, one), 2 * wide)


def _reach(gap: float, radius: float, other: float) -> float:
    """How far to each side a slit between two rounds stays narrow: gap + t^2/2 (1/r + 1/R) = SLIT, solved for t."""
    rounds = [r for r in (radius, other) if r > 0]
    if not rounds:
        return 0.0
    curve = sum(1 / r for r in rounds) / 2
    return min(math.sqrt((SLIT - gap) / curve), _MOST * min(rounds))


def _facing(one: tuple[float, float], other: tuple[float, float]) -> tuple[float, float] | None:
    """From where to where the flats of two outlines face each other along one axis, each given as (middle, half)."""
    low, high = max(one[0] - one[1], other[0] - other[1]), min(one[0] + one[1], other[0] + other[1])
    return (low, high) if high >= low else None


def _length(span: tuple[float, float] | None) -> float:
    return span[1] - span[0] if span else 0.0


def _corner(one: RoundedBox, other: RoundedBox) -> tuple[float, float]:
    """The point of an outline's core that is nearest to another outline."""
    (a, b) = one.core
    return (
        min(max(other.x, one.x - a), one.x + a),
        min(max(other.y, one.y - b), one.y + b),
    )


def _to_walls(sleeve: RoundedBox, inside: Inside) -> list[Slab]:
    """Ties from a sleeve to the outer walls that it comes near."""
    made, reach = [], inside.wall / 2
    (a, b) = sleeve.core
    for wall, sign in ((inside.left, -1), (inside.right, 1)):
        gap = sign * (wall - sleeve.x) - sleeve.half_width
        if -_SUNK < gap < SLIT:
            wide = max(b + _reach(gap, sleeve.radius, 0.0), _SUNK)
            low, high = sorted((sleeve.x, wall + sign * reach))
            made.append(slab(low, sleeve.y - wide, high, sleeve.y + wide))
    for wall, sign in ((inside.front, -1), (inside.back, 1)):
        gap = sign * (wall - sleeve.y) - sleeve.half_depth
        if -_SUNK < gap < SLIT:
            wide = max(a + _reach(gap, sleeve.radius, 0.0), _SUNK)
            low, high = sorted((sleeve.y, wall + sign * reach))
            made.append(slab(sleeve.x - wide, low, sleeve.x + wide, high))
    return made
