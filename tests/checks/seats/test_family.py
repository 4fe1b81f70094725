"""The whole family of parts as it is made: nothing about its seats is a fault."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.checks.seats.drawn import SEATED
from nookwright.checks.seats.members import CARRYING
from nookwright.module.choice import module_of
from nookwright.parts.family import examples

from .conftest import at

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.model import Part

    from .conftest import Bench

LARGEST_MM2 = 30_000  # of the footprints that are looked at here: the rest is the same with more cells
PARTS = [
    example.part
    for example in examples(module_of(18.0, 6.0, 0.2, "for the tests"))
    if example.part.kind in SEATED | CARRYING and example.size != "largest"
]
# What a part says only where it stands, or for want of the liner or the tray that it belongs to.
BY_ITSELF = frozenset({"part-not-engaged", "part-outside"})


def named(part: Part) -> str:
    """How the test of a part is called."""
    return part.name


@pytest.mark.parametrize("part", [part for part in PARTS if part.size[0] * part.size[1] < LARGEST_MM2], ids=named)
def test_no_part_of_the_family_has_a_faulty_seat(empty: Bench, part: Part, module: Module) -> None:
    """Sockets, cones, outer size and skirts of every kind and option, as they are written."""
    alone = empty.in_space(liners=())
    assert alone.drawn.pitch == module.pitch
    said = [one for one in alone.having("part", part, at(1.3, 1.3)).wrong() if one[1] not in BY_ITSELF]
    panels = part.kind == "panel"  # they may lie anywhere here, so their cones are beside the cells
    assert [one for one in said if not (panels and one[1] == "cone-shifted")] == []


def test_the_family_is_looked_at() -> None:
    """Every kind that stands on cones or carries some."""
    assert {part.kind.value for part in PARTS} == SEATED | CARRYING
