"""All cautions that apply to a kit, from its files and its room."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING

from nookwright.checks.cautions.blades import about_blades
from nookwright.checks.cautions.cells import about_cells
from nookwright.checks.cautions.handling import (
    about_ballast,
    about_closures,
    about_food,
    about_glue,
    about_heat,
    about_heights,
    about_services,
)
from nookwright.checks.cautions.reach import within_reach
from nookwright.checks.cautions.small_parts import small_in_reach
from nookwright.checks.cautions.whereabouts import Whereabouts

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import Kit
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Room

_ABOUT = (
    within_reach,
    about_blades,
    about_cells,
    about_heights,
    about_closures,
    about_ballast,
    about_glue,
    about_heat,
    about_food,
    about_services,
)


def check_cautions(kit: Kit, room: Room, shapes: Mapping[str, Shape], verdicts: Verdicts) -> tuple[Finding, ...]:
    """Findings about what could hurt somebody.

    Args:
        kit: the kit, its references sound.
        room: says what is dangerous, who reaches what, what gets warm and what must stay free.
        shapes: sound meshes by file.
        verdicts: those reached before.
    """
    where = Whereabouts(kit, room)
    said = chain.from_iterable(about(where) for about in _ABOUT)
    return (*said, *small_in_reach(where, shapes, verdicts))
