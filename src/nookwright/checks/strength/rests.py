"""Rests: the horns and ribs between their slots, pushed sideways by a hand or by what lies in the slots.

A horn is what a level section of a rest has beside its slots. It stands on its layers and is bent across them. That a
long thing does not tip from its rests is looked at elsewhere (``checks/held.py``).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.checks.bodies import matrix_of
from nookwright.checks.forces.slams import slams_of
from nookwright.checks.strength.outlines import outlines_at, solid_of
from nookwright.checks.strength.walls import BENDING_GAIN, CROSSED, HAND_N
from nookwright.checks.strength.worst import Case, worst_of
from nookwright.checks.weights import weight_n
from nookwright.ground.findings import Severity

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.strength.loads import Carried
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import Placement
    from nookwright.ground.findings import Finding

_LEVELS = 12  # heights at which a rest is looked at


@dataclass(frozen=True)
class Horn:
    """The weakest horn at a level: height of the level and of the rest's top, mm; section modulus, mm3."""

    level: float
    top: float
    modulus: float

    def stress(self, force_n: float, at: float) -> float:
        """Stress under a force across the slots, MPa.

        Args:
            force_n: of it.
            at: its height, mm; above the top of the rest it acts at the top.
        """
        return force_n * max(0.0, min(at, self.top) - self.level) / self.modulus


def horns_of(shape: Shape, verdicts: Verdicts) -> tuple[Horn, ...]:
    """The weakest horn of a rest at each level.

    Args:
        shape: of the rest, its slots along y.
        verdicts: those reached before.
    """
    found = verdicts.of(f"horns {shape.key}", lambda: tuple(_looked_at(shape)))
    return tuple(Horn(*found[at : at + 3]) for at in range(0, len(found), 3))


def _looked_at(shape: Shape) -> Iterator[float]:
    """Level, top and modulus of each horn, one after the other."""
    solid = solid_of(shape)
    low, high = float(shape.box[0][2]), float(shape.box[1][2])
    for number in range(_LEVELS):
        level = low + (number + 0.5) / _LEVELS * (high - low)
        outlines = outlines_at(solid, level)
        if len(outlines) > 1:
            yield from (level - low, high - low, min(outline.modulus(0) for outline in outlines))


def check_rests(carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts) -> tuple[Finding, ...]:
    """Check every rest that is placed.

    Args:
        carried: the kit and what its parts carry.
        shapes: sound meshes by file.
        verdicts: those reached before.
    """
    cases = [case for placement in carried.kit.placements for case in _cases(placement, carried, shapes, verdicts)]
    return (
        *worst_of(
            "rest-weak", Severity.WARN, cases,
            "{what} bends what stands beside its slots with {stress:.1f} MPa across the layers; the plastic bears "
            "{limit:.1f} MPa at once.",
            "Set the slots further apart, or make the rest deeper along the thing.",
        ),
    )  # fmt: skip


def _cases(placement: Placement, carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts) -> Iterator[Case]:
    """A hand at the top of a horn, and a stop that throws things across the slots."""
    part = carried.parts[placement.part]
    plastic = carried.plastic(part.id)
    if part.kind != "rest" or plastic is None or part.stl not in shapes:
        return
    horns = horns_of(shapes[part.stl], verdicts)
    limit = plastic.strength_mpa * BENDING_GAIN * (plastic.across if carried.upright[part.id] else 1.0)
    pushed = max((horn.stress(HAND_N, horn.top) for horn in horns), default=0.0)
    yield Case(part.id, placement.label, f"A push of {HAND_N:g} N at its top", pushed, limit)
    if abs(float(matrix_of(placement.space_from_part)[1, 0])) < CROSSED:
        return
    for slam in slams_of(carried.surveyed[placement.space]):
        for heap in carried.heaps.get(placement.id, ()):
            force = slam.accel_g * weight_n(heap.one_g)
            stress = max((horn.stress(force, horn.level + heap.height / 2) for horn in horns), default=0.0)
            yield Case(part.id, placement.label, f"One of its things, {slam.words},", stress, limit)
