"""Walls under what stands on them: pressed by a stack for years, and whether they buckle.

Every outer wall and fixed divider carries by its section. A wall between two others buckles as a plate that rests on
all edges; a third of that is allowed. What this does not know: loads that stand on one edge alone.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.strength.plates import buckling_mpa
from nookwright.checks.strength.vessels import vessel_of
from nookwright.checks.strength.worst import Case, worst_of
from nookwright.checks.weights import weight_n
from nookwright.ground.findings import Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.strength.loads import Carried
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import Placement
    from nookwright.ground.findings import Finding

AGAINST_BUCKLING = Fact(
    3.0, unit="1", kind=Kind.COMMON_PRACTICE, source="Plates are never quite flat: a third of what theory gives."
)
_CARRYING = ("tray", "riser", "nest", "cradle", "shoe")


def check_stacks(carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts) -> tuple[Finding, ...]:
    """Check the walls of every part that carries another.

    Args:
        carried: the kit and what its parts carry.
        shapes: sound meshes by file.
        verdicts: those reached before.
    """
    cases = [case for placement in carried.kit.placements for case in _cases(placement, carried, shapes, verdicts)]
    return (
        *worst_of(
            "stack-presses", Severity.STOP, [case for case in cases if case.what == "pressed"],
            "What stands on it presses its walls with {stress:.2f} MPa for years; the plastic bears {limit:.2f} MPa.",
            "Put less on it, or take a riser with thicker walls.",
        ),
        *worst_of(
            "stack-buckles", Severity.STOP, [case for case in cases if case.what != "pressed"],
            "What stands on it presses its {what} wall with {stress:.2f} MPa for years; from {limit:.2f} MPa it may "
            "buckle.",
            "Put less on it, or divide it: each fixed divider holds the walls it meets.",
        ),
    )  # fmt: skip


def _cases(placement: Placement, carried: Carried, shapes: Mapping[str, Shape], verdicts: Verdicts) -> Iterator[Case]:
    """The walls of one part under what stands on it."""
    part = carried.parts[placement.part]
    plastic, on_top_g = carried.plastic(part.id), carried.on_top_g[placement.id]
    if part.kind not in _CARRYING or plastic is None or part.stl not in shapes or on_top_g <= 0:
        return
    vessel = vessel_of(shapes[part.stl], verdicts)
    length = {0: vessel.depth, 1: vessel.width}
    section = sum(panel.thickness * length[panel.axis] for panel in vessel.panels)
    if section <= 0:
        return
    stress = weight_n(on_top_g) / section
    across = plastic.across if carried.upright[part.id] else 1.0
    yield Case(part.id, placement.label, "pressed", stress, plastic.years_mpa * across)
    for panel in vessel.panels:
        limit = buckling_mpa(panel.height, panel.span, panel.thickness, plastic.creep_modulus_mpa) / AGAINST_BUCKLING
        yield Case(part.id, placement.label, panel.side, stress, limit)
