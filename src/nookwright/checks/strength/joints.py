"""Glued joints of parts in pieces, while the part is lifted by its two ends with all that is in it.

The part is a beam on two hands; at a joint its section bears the moment there, and the glue its largest tension. At a
level joint the hands hold the upper piece, and all the rest hangs from the glue. Pins, dovetails and laps are taken to
hold in line only. A joint that may stay unglued is left out: its pieces are lifted one by one.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.strength.floors import JERK
from nookwright.checks.strength.outlines import Outline, outlines_of, solid_of
from nookwright.checks.strength.worst import Case, worst_of
from nookwright.checks.weights import weight_n
from nookwright.ground.findings import Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.strength.loads import Carried
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.joint_models import KitJoint
    from nookwright.exchange.kit import KitPart
    from nookwright.ground.findings import Finding

GLUE_MPA = Fact(
    4.0,
    unit="MPa",
    kind=Kind.MEMORY,
    source="Quick glue on printed faces end to end, 8 to 15 in tests at home; half of the least, for gaps and dust.",
)
_UPRIGHT = 2
_ALONG = ("its width", "its depth", "its height")
_BESIDE = 0.6  # mm off the cut, where the whole part has the section that the faces have


def check_joints(carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts) -> tuple[Finding, ...]:
    """Check the joints of every part, with the most that any of its places holds.

    Args:
        carried: the kit and what its parts carry.
        shapes: sound meshes by file.
        verdicts: those reached before.
    """
    cases = [
        case
        for part in carried.kit.parts
        if part.kind not in ("panel", "filler", "fence") and part.stl in shapes
        for case in _cases(part, carried, shapes[part.stl], verdicts)
    ]
    return (
        *worst_of(
            "joint-weak", Severity.WARN, cases,
            "Lifted by its ends with its things, its joint {what} is pulled apart with {stress:.1f} MPa; glue holds "
            "{limit:.1f} MPa.",
            "Lift it from below with both hands, take things out first, or make two parts of it.",
        ),
    )  # fmt: skip


def lifting_moment(weight: float, length: float, at: float) -> float:
    """Moment of an even beam on supports at its ends, N mm: W a (L - a) / (2 L).

    Args:
        weight: of all of it, N.
        length: mm.
        at: from an end, mm.

    >>> lifting_moment(10.0, 100.0, 50.0)
    125.0
    """
    return weight * at * (length - at) / (2 * length)


def _cases(part: KitPart, carried: Carried, shape: Shape, verdicts: Verdicts) -> Iterator[Case]:
    """The glued joints of one part."""
    fullest = max(carried.placed.get(part.id, ()), key=lambda one: (carried.inside_g[one.id], one.id), default=None)
    inside_g = carried.inside_g[fullest.id] if fullest else 0.0
    weight = weight_n(part.mass_g + inside_g) * JERK
    label = fullest.label if fullest else ""
    for joint in part.joints:
        axis = "xyz".index(joint.axis)
        if joint.dry or not 0 < joint.at < part.size[axis]:
            continue
        bears = _known(shape, joint, verdicts)
        if bears > 0:
            pull = weight if axis == _UPRIGHT else lifting_moment(weight, part.size[axis], joint.at)
            where = f"at {joint.at:.0f} mm along {_ALONG[axis]}"
            yield Case(part.id, label, where, pull / bears, float(GLUE_MPA))


def _known(shape: Shape, joint: KitJoint, verdicts: Verdicts) -> float:
    """The same as ``_bears``, from the verdicts or found now."""
    return verdicts.of(f"joint {shape.key} {joint.axis} {joint.at}", lambda: (_bears(shape, joint),))[0]


def _bears(shape: Shape, joint: KitJoint) -> float:
    """Section modulus of an upright joint against bending upwards, mm3; of a level one its area, mm2."""
    axis = "xyz".index(joint.axis)
    outlines = outlines_of(solid_of(shape, axis).slice(joint.at + _BESIDE))
    if axis == _UPRIGHT:
        return sum(one.area for one in outlines)
    upward = 1 if axis == 0 else 0  # the section's axes are y, z across x, and z, x across y
    return _together(outlines, upward) if outlines else 0.0


def _together(outlines: tuple[Outline, ...], axis: int) -> float:
    """Section modulus of several outlines that bend as one."""
    area = sum(one.area for one in outlines)
    middle = sum(one.area * one.middle[axis] for one in outlines) / area
    second = sum(
        (one.about_u if axis == 1 else one.about_v) + one.area * (one.middle[axis] - middle) ** 2 for one in outlines
    )
    reach = max(max(one.high[axis] for one in outlines) - middle, middle - min(one.low[axis] for one in outlines))
    return second / reach
