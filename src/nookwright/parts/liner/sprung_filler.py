"""A sprung filler: it takes up the slack of a liner with leaf springs, and stops hard where a plain one would end.

Liner and fillers are smaller than their space, for heat and for the error of measuring. One filler of a direction may
be sprung. Each spring is a leaf on a post; the nubs at its two ends reach towards the wall by the travel. Pressed all
the way, the wall meets the flat back of leaf and post, so the hold never depends on the spring: PLA is slack in weeks.

A cantilever of thickness h, pressed by Y at length L, is strained by 1.5 h Y / L^2 at its root.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.layout.filler_forms import (
    APART,
    BEHIND_LEAF,
    LEAF,
    NUB,
    POST,
    TRAVEL_STEP,
    leaf_length,
    least_spring_length,
    least_spring_width,
    spring_length,
)
from nookwright.layout.liner import EDGE_INSET, FillerSpec
from nookwright.module.estimates import LIP_WIDTH, Plastic, lip_height
from nookwright.parts.lids.lid_mechanics import snap_strain
from nookwright.parts.liner.filler_rules import check_filler
from nookwright.parts.liner.keys import rooted_tongue, tongue_mm2
from nookwright.parts.model import Kind, Part, size_name
from nookwright.parts.refusals import refuse_part
from nookwright.shapes.regions import Rect, RegionRepeat
from nookwright.shapes.solids import Move, Prism, Solid, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

STRAIN_LIMIT = Fact(
    0.0075,
    unit="1",
    kind=SourceKind.COMMON_PRACTICE,
    source="Printed PLA yields at 1.5 % (ASTM D638 figure of a maker); half of it for one stroke.",
)
STIFFNESS_MPA = Fact(
    2000.0, unit="MPa", kind=SourceKind.HANDBOOK, source="Printed PLA, 1997 MPa flat in a maker's data sheet, rounded."
)
ONE_SPRING_EACH = Fact(
    150.0, unit="mm", kind=SourceKind.CHOICE, source="Of length for one spring, so that a long filler does not turn."
)
ROOT = Fact(0.6, unit="mm", kind=SourceKind.CHOICE, source="Posts and nubs overlap what they stand on by this.")


def leaf_strain(travel: float) -> float:
    """Strain at the root of a leaf that is pressed all the way; the load acts in the middle of its nub.

    Args:
        travel: of its nub, mm.

    >>> round(leaf_strain(1.6), 4)
    0.005
    """
    return snap_strain(LEAF, travel, leaf_length(travel) - NUB / 2)


def spring_force_n(travel: float, height: float) -> float:
    """Force of one nub that is pressed all the way, while the spring is fresh, N: 3 E I Y / L^3.

    Args:
        travel: of its nub, mm.
        height: of the leaf, mm.

    >>> round(spring_force_n(1.6, 2.6), 2)
    0.26
    """
    inertia = height * LEAF**3 / 12
    return 3 * STIFFNESS_MPA * inertia * travel / (leaf_length(travel) - NUB / 2) ** 3


def sprung_filler(module: Module, spec: FillerSpec) -> Part:
    """A sprung filler; its box begins at the nubs, by the travel beyond where a plain filler would begin.

    Args:
        module: the household's module.
        spec: its sizes.

    Raises:
        RecipeError: no travel, too thin for leaf and gap, too short for a spring, or a tongue without a root.
    """
    check_filler(spec)
    _check(spec)
    high, thick = lip_height(module), module.seat.panel
    width = spec.width - EDGE_INSET
    front = spec.travel + LEAF + spec.travel + BEHIND_LEAF
    back = spec.travel + width
    springs = _springs(spec)
    keys = tuple(rooted_tongue(thick, x, spec.travel + spec.width, EDGE_INSET) for x in spec.tongues)
    flat = spec.length * (back - front) + len(keys) * tongue_mm2(float(EDGE_INSET))
    deep = back - front
    lips = spec.length * (deep if _stands_up(deep) else 2 * LIP_WIDTH)
    leaves = len(springs) * _spring_mm2(spec.travel)
    return Part(
        kind=Kind.FILLER,
        name=f"sprung filler {size_name(spec.length, width)}",
        parameters=(
            ("length", spec.length),
            ("lip", high),
            ("thickness", thick),
            ("tongues", spec.tongues),
            ("travel", spec.travel),
            ("width", width),
        ),
        recipe=Union((*_body(spec.length, front, back, thick, high), *_leaves(spec, springs, front, high), *keys)),
        plastic=Plastic(
            body_mm3=flat * thick + lips * (high - thick) + leaves * high,
            sparse_mm3=0.0,
            first_mm2=flat + leaves,
            height=high,
            hops=0.0,
        ),
    )


def _check(spec: FillerSpec) -> None:
    """Refuse what leaves no room for a spring."""
    if spec.travel < TRAVEL_STEP:
        refuse_part(
            "sprung filler",
            "its springs have a travel",
            found=f"{spec.travel:g}",
            allowed=f"at least {TRAVEL_STEP:g}",
            remedy="Take a plain filler.",
        )
    least = least_spring_width(spec.travel)
    if spec.width < least:
        refuse_part(
            "sprung filler",
            "leaf, gap and strip lie side by side in its width",
            found=f"{spec.width:g}",
            allowed=f"at least {least:g}",
            remedy="Put all of the rest on this side, or take a plain filler.",
        )
    short = least_spring_length(spec.travel)
    if spec.length < short:
        refuse_part(
            "sprung filler",
            "it is as long as a spring",
            found=f"{spec.length:g}",
            allowed=f"at least {short:g}",
            remedy="Spring a longer side.",
        )


def _spring_mm2(travel: float) -> float:
    """Area of one spring seen from above: leaf, post and two nubs."""
    return float(spring_length(travel) * LEAF + POST * (travel + BEHIND_LEAF) + 2 * NUB * travel)


def _springs(spec: FillerSpec) -> tuple[float, ...]:
    """Middles of the springs, spread evenly."""
    room = int(spec.length // (spring_length(spec.travel) + APART))
    count = min(room, max(1, math.ceil(spec.length / ONE_SPRING_EACH)))
    return tuple(spec.length * (number + 0.5) / count for number in range(count))


def _body(length: float, front: float, back: float, thick: float, high: float) -> tuple[Solid, ...]:
    """The strip with its lips; where they would nearly meet it stands up as a whole."""
    deep = back - front
    if _stands_up(deep):
        return (Move(Prism(Rect(length, deep), high), y=front),)
    lip = Prism(Rect(length, LIP_WIDTH), high)
    return Move(Prism(Rect(length, deep), thick), y=front), Move(lip, y=front), Move(lip, y=back - LIP_WIDTH)


def _stands_up(deep: float) -> bool:
    """Whether a strip is so narrow that its lips would nearly meet."""
    return deep < 2 * LIP_WIDTH + APART


def _leaves(spec: FillerSpec, springs: tuple[float, ...], front: float, high: float) -> tuple[Solid, ...]:
    """Leaves, posts and nubs."""
    travel, long = spec.travel, spring_length(spec.travel)
    leaf = RegionRepeat(Rect(long, LEAF), tuple((x - long / 2, travel) for x in springs))
    deep = front + ROOT - travel
    post = RegionRepeat(Rect(POST, deep), tuple((x - POST / 2, travel) for x in springs))
    ends = tuple((x + side * (long - NUB) / 2 - NUB / 2, 0.0) for x in springs for side in (-1, 1))
    nub = RegionRepeat(Rect(NUB, travel + ROOT), ends)
    return tuple(Prism(region, high) for region in (leaf, post, nub))
