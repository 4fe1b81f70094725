"""Strength: all that is asked of a kit about loads, time and warmth, in one place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.strength.dividers import check_dividers
from nookwright.checks.strength.floors import check_floors
from nookwright.checks.strength.joints import check_joints
from nookwright.checks.strength.loads import Carried
from nookwright.checks.strength.place import check_place
from nookwright.checks.strength.racks import check_racks
from nookwright.checks.strength.rests import check_rests
from nookwright.checks.strength.snaps import check_snaps
from nookwright.checks.strength.stacks import check_stacks
from nookwright.checks.strength.walls import check_walls
from nookwright.checks.verdicts import Verdicts

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.exchange.kit import Kit
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Room


class InMind(Verdicts):
    """Verdicts that are also kept in mind, so that a mesh is looked at once although several checks ask about it."""

    def __init__(self, kept: Verdicts) -> None:
        """Keep in mind what comes from other verdicts."""
        super().__init__(None)
        self._kept = kept
        self._known: dict[str, tuple[float, ...]] = {}

    def of(self, question: str, reach: Callable[[], tuple[float, ...]]) -> tuple[float, ...]:
        """The verdict on a question: known, kept, or reached now.

        Args:
            question: says all that the verdict depends on.
            reach: reaches the verdict.
        """
        if question not in self._known:
            self._known[question] = self._kept.of(question, reach)
        return self._known[question]


def check_strength(kit: Kit, room: Room, shapes: Mapping[str, Shape], verdicts: Verdicts) -> tuple[Finding, ...]:
    """Check what every part carries, and what it is made of against the place that it is in.

    Args:
        kit: the kit, its references sound.
        room: that it is for: masses, materials, how warm its spaces get.
        shapes: sound meshes by file; a part whose mesh is not among them is passed over.
        verdicts: those reached before.

    Raises:
        SolidError: the kernel refuses one of the shapes.
    """
    carried, verdicts = Carried(kit, room), InMind(verdicts)
    return (
        *check_place(carried),
        *check_walls(carried, shapes, verdicts),
        *check_dividers(carried),
        *check_floors(carried, shapes, verdicts),
        *check_stacks(carried, shapes, verdicts),
        *check_rests(carried, shapes, verdicts),
        *check_snaps(carried, shapes, verdicts),
        *check_joints(carried, shapes, verdicts),
        *check_racks(carried, shapes, verdicts),
    )
