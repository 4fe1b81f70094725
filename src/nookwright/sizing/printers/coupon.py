"""The coupon: what it carries to be measured, and how each reading follows a printer's errors.

A cross of two arms across each other, each of three ribs, with a row of pegs at each of its four ends. Over opposite
pegs a caliper reads the scale of an axis; over neighbouring ends it reads the skew, since one pair of diagonals grows
as the other shrinks. Seven pegs an end, because each stands some hundredths off its place. On the arms and beside them
stand a block, slots, holes and a thin wall. Over two pegs and over one rib the offset is the same, so it cancels.

The cross comes short, for a caliper of 150 mm, and long, for one of 200 mm and beds from 208 on.

Axes: x to the right, y to the back, the origin in the middle of the cross. Pegs of an end are numbered from 1, at the
left and the right end from the front, at the front and the back end from the left.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.printers.errors import SMALL_HOLE_UP_TO, Error
from nookwright.survey.origins import CouponForm as Form

PEG = Fact(5.0, unit="mm", kind=Kind.CHOICE, source="Diameter of a peg: round from any nozzle, and it does not bend.")
STEP = Fact(
    7.0, unit="mm", kind=Kind.CHOICE, source="From peg to peg of one end: the jaw of a caliper finds one alone."
)
PEGS = Fact(
    7, unit="1", kind=Kind.CALCULATED, source="Pegs an end: with 5, the scale in 95 of 100 is at the limit of 0.03 %."
)
SHORT_ARM = Fact(
    71.5,
    unit="mm",
    kind=Kind.CALCULATED,
    source="From the middle to a row of pegs: 2 x 71.5 + 5 = 148 over the pegs, what a caliper of 150 mm just takes.",
)
LONG_ARM = Fact(
    96.5, unit="mm", kind=Kind.CALCULATED, source="2 x 96.5 + 5 = 198 over the pegs, what one of 200 mm just takes."
)
RIB = Fact(
    1.6,
    unit="mm",
    kind=Kind.CALCULATED,
    source="Four lines of 0.432 at 0.2 layers. Jaws that close with 1.5 N shorten a rib of 1.6 x 5 by 0.009 on 143 mm.",
)
RIB_STEP = Fact(
    3 * STEP, unit="mm", kind=Kind.CALCULATED, source="From rib to rib of an arm: a rib behind its first and last peg."
)
BLOCK_WIDTH = Fact(20.0, unit="mm", kind=Kind.CHOICE, source="Of the block along x.")
BLOCK_DEPTH = Fact(16.0, unit="mm", kind=Kind.CHOICE, source="Along y: another length than along x, to tell slips.")
WALL = Fact(1.2, unit="mm", kind=Kind.CHOICE, source="Three lines, as the walls of trays.")
SLOT = Fact(10.0, unit="mm", kind=Kind.CHOICE, source="The square slot: the inside jaws of a caliper go in.")
WIDE_SLOT = Fact(14.0, unit="mm", kind=Kind.CHOICE, source="As wide as the large hole, so that the two compare.")
LARGE_HOLE = Fact(14.0, unit="mm", kind=Kind.CHOICE, source="Above SMALL_HOLE_UP_TO: comes out like a slot.")
MIDDLE_HOLE = Fact(7.0, unit="mm", kind=Kind.CHOICE, source="Half way.")
SMALL_HOLE = Fact(
    4.0, unit="mm", kind=Kind.CHOICE, source="The least that inside jaws go into; two, for their scatter."
)

Point = tuple[float, float]


class Face(StrEnum):
    """Where a feature is measured."""

    OUTSIDE = "outside"
    INSIDE = "inside"
    HOLE = "hole"
    FOOT = "foot"  # over the first layer


def arm_of(form: Form) -> float:
    """From the middle of the cross to a row of pegs, mm."""
    return float(LONG_ARM if form is Form.LONG else SHORT_ARM)


@dataclass(frozen=True)
class Feature:
    """One thing to measure on the coupon.

    Attributes:
        id: what the sheet and the room file call it.
        what: what to measure, in words.
        face: where the jaws go.
        nominal: as drawn, mm.
        along: direction of the reading as (x, y), of length 1.
        at: the middle of what is measured; of both pegs, where it is measured over two.
    """

    id: str
    what: str
    face: Face
    nominal: float
    along: Point
    at: tuple[Point, ...]

    @property
    def sensitivities(self) -> dict[Error, float]:
        """How the reading follows each error of the printer (first order)."""
        x, y = self.along
        found = {Error.SCALE_X: self.nominal * x * x, Error.SCALE_Y: self.nominal * y * y}
        found[Error.SKEW_DEG] = self.nominal * x * y * math.radians(1.0)
        found[Error.INSIDE if self.face in {Face.INSIDE, Face.HOLE} else Error.OUTSIDE] = 1.0
        if self.face is Face.HOLE:
            found[Error.SMALL_HOLE] = max(0.0, 1 - self.nominal / SMALL_HOLE_UP_TO)
        if self.face is Face.FOOT:
            found[Error.FIRST_LAYER] = 2.0
        return found


_X, _Y = (1.0, 0.0), (0.0, 1.0)
_MIDDLE, _LAST = int(PEGS + 1) // 2, int(PEGS)
_FROM_ROW, _WALL_FROM_ROW = 13.5, 22.5  # of block and wall, outside the struts


@cache
def features(form: Form = Form.SHORT) -> tuple[Feature, ...]:
    """Everything to measure on a coupon, in the order of the sheet.

    Args:
        form: how long its cross is.
    """
    return (*_long(form), *_diagonals(form), *_ribs(), *_block_and_wall(form), *_slots(), *_holes())


def feature(name: str, form: Form = Form.SHORT) -> Feature:
    """One feature by its id.

    Args:
        name: its id.
        form: how long the cross is.

    Raises:
        KeyError: the coupon has none of this id.
    """
    return {each.id: each for each in features(form)}[name]


def pegs(form: Form) -> tuple[Point, ...]:
    """The middles of all pegs, end by end."""
    return tuple(_peg(form, end, n) for end in ("left", "right", "front", "back") for n in range(1, _LAST + 1))


def _peg(form: Form, end: str, number: int) -> Point:
    """The middle of a peg."""
    beside = (number - _MIDDLE) * float(STEP)
    return {
        "left": (-arm_of(form), beside),
        "right": (arm_of(form), beside),
        "front": (beside, -arm_of(form)),
        "back": (beside, arm_of(form)),
    }[end]


def _long(form: Form) -> list[Feature]:
    """Over pegs of opposite ends."""
    ends = (("long-x", "left", "right"), ("long-y", "front", "back"))
    return [
        _over(form, f"{name}-{n}", f"over pegs {n} of the {one} and the {other} end", ((one, n), (other, n)))
        for name, one, other in ends
        for n in range(1, _LAST + 1)
    ]


def _diagonals(form: Form) -> list[Feature]:
    """Over pegs of neighbouring ends: those that are nearest to each other, and the next ones."""
    ends = {("front", "right"): (_LAST, 1), ("back", "left"): (1, _LAST),
            ("front", "left"): (1, 1), ("back", "right"): (_LAST, _LAST)}  # fmt: skip
    found = []
    for (one, other), (a, b) in ends.items():
        for suffix, inwards in (("", 0), ("-next", 1)):
            first, second = (n - inwards if n == _LAST else n + inwards for n in (a, b))
            words = f"over peg {first} of the {one} and peg {second} of the {other} end"
            found.append(_over(form, f"{one}-{other}{suffix}", words, ((one, first), (other, second))))
    return found


def _over(form: Form, name: str, what: str, ends: tuple[tuple[str, int], tuple[str, int]]) -> Feature:
    (x0, y0), (x1, y1) = (_peg(form, end, number) for end, number in ends)
    apart = math.hypot(x1 - x0, y1 - y0)
    along = ((x1 - x0) / apart, (y1 - y0) / apart)
    return Feature(name, what, Face.OUTSIDE, apart + PEG, along, ((x0, y0), (x1, y1)))


def _ribs() -> list[Feature]:
    """The six ribs' thickness: the offset alone."""
    found = []
    for word, place in (("front", -1), ("middle", 0), ("back", 1)):
        at = (60.0, place * float(RIB_STEP))
        found.append(Feature(f"rib-{word}", f"the {word} rib of the right arm", Face.OUTSIDE, float(RIB), _Y, (at,)))
    for word, place in (("left", -1), ("centre", 0), ("right", 1)):
        at = (place * float(RIB_STEP), 60.0)
        found.append(Feature(f"rib-{word}", f"the {word} rib of the back arm", Face.OUTSIDE, float(RIB), _X, (at,)))
    return found


def _block_and_wall(form: Form) -> list[Feature]:
    corner, width, depth = arm_of(form) - _FROM_ROW, float(BLOCK_WIDTH), float(BLOCK_DEPTH)
    at, wall = ((-corner, corner),), ((corner, arm_of(form) - _WALL_FROM_ROW),)
    return [
        Feature("block-x", "the block along x, from above, not at its foot", Face.OUTSIDE, width, _X, at),
        Feature("block-y", "the block along y, from above, not at its foot", Face.OUTSIDE, depth, _Y, at),
        Feature("foot-x", "the block along x at its foot, the first layer", Face.FOOT, width, _X, at),
        Feature("foot-y", "the block along y at its foot, the first layer", Face.FOOT, depth, _Y, at),
        Feature(
            "wall",
            "the thin wall's thickness",
            Face.OUTSIDE,
            float(WALL),
            _X,
            wall,
        ),
    ]


def _slots() -> list[Feature]:
    square, wide = ((-14.0, 44.0),), ((44.0, -12.0),)
    return [
        Feature("slot-x", "the square slot, along x", Face.INSIDE, float(SLOT), _X, square),
        Feature("slot-y", "the square slot, along y", Face.INSIDE, float(SLOT), _Y, square),
        Feature("slot-narrow", "the oblong slot, along x", Face.INSIDE, float(SLOT), _X, wide),
        Feature("slot-wide", "the oblong slot, along y", Face.INSIDE, float(WIDE_SLOT), _Y, wide),
    ]


def _holes() -> list[Feature]:
    holes = (
        ("hole-large", "the large hole", LARGE_HOLE, (-44.0, -12.0)),
        ("hole-middle", "the middle hole", MIDDLE_HOLE, (-15.5, -32.0)),
        ("hole-small", "the small hole behind", SMALL_HOLE, (-17.0, -45.0)),
        ("hole-front", "the small hole in front", SMALL_HOLE, (-17.0, -57.0)),
    )
    return [Feature(name, what, Face.HOLE, float(size), _X, (at,)) for name, what, size, at in holes]
