"""Whether what stands where it gets wet drains: a hole in the floor of each compartment, and a way off the liner.

A compartment is what walls surround a little above the floor; it drains where light falls through its part from top to
bottom, through a hole that a drop does not close, and below that hole the liner is open too. What it does not know: how
level the floor is, and where the water goes from there.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of
from nookwright.checks.in_words import names
from nookwright.checks.thin_walls import grown
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from manifold3d import CrossSection, Manifold

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats
    from nookwright.exchange.kit import Kit, Placement
    from nookwright.survey.models import Room

LEAST_HOLE = Fact(
    3.0, unit="mm", kind=Kind.CALCULATED, source="Water's capillary length is 2.7: a drop closes what is narrower."
)
LEAST_COMPARTMENT_MM2 = Fact(
    150.0,
    unit="mm2",
    kind=Kind.CHOICE,
    source="A slot or a thread of a wall that is smaller holds no water to speak of.",
)
ABOVE_FLOOR = Fact(
    0.5, unit="1", kind=Kind.CHOICE, source="Compartments are looked at half way up, above floors, domes and fillets."
)
_HOLDING = frozenset({"tray", "cradle", "shoe", "rest", "drawer"})
_LINER = frozenset({"panel", "filler"})


def check_drains(kit: Kit, room: Room, shapes: Mapping[str, Shape]) -> Iterator[Finding]:
    """One finding a wet space for what holds water, one for what drains onto a closed liner.

    Args:
        kit: the kit, its references sound.
        room: says where it gets wet.
        shapes: sound meshes by file.
    """
    wet = sorted(space.id for space in room.space if space.wet)
    files = {part.id: part.stl for part in kit.parts}
    kinds = {part.id: part.kind for part in kit.parts}
    drained = (
        {part.id: drains_of(shapes[part.stl]) for part in kit.parts if part.kind in _HOLDING and part.stl in shapes}
        if wet
        else {}
    )
    for space in wet:
        here = [one for one in kit.placements if one.space == space and files[one.part] in shapes]
        liner = [_plan(shapes[files[one.part]], one) for one in here if kinds[one.part] in _LINER]
        found: dict[str, list[str]] = defaultdict(list)
        for one in here:
            verdict = _verdict(drained.get(one.part, ()), one, liner)
            if verdict:
                found[verdict].append(one.label)
        yield from (_said(space, code, names) for code, names in sorted(found.items()))


def _said(space: str, code: str, labels: list[str]) -> Finding:
    """What to say of a space."""
    one = len(labels) == 1
    what = f"It may get wet, and {names(labels)}"
    if code == "floor-undrained":
        has = "has" if one else "have"
        text = f"{what} {has} no hole of {LEAST_HOLE:g} mm in the floor of each compartment: water stays there."
        remedy = (
            "Let its tray have drained = true under [lot.tray], keep it in a plain tray, or keep it elsewhere; where "
            "cells are narrower than 15 mm, or a compartment than two of them, no hole has a place: take wider ones."
        )
    else:
        stands = "stands with its holes" if one else "stand with their holes"
        text = f"{what} {stands} over closed places of the liner: water stays between them."
        remedy = 'Say liner = "frame" or another pattern for that space, or keep it elsewhere.'
    return Finding(code, Severity.WARN, space, text, remedy, Against(len(labels), 0, "1"))


def _verdict(drains: Sequence[Sequence[CrossSection]], placement: Placement, liner: list[CrossSection]) -> str:
    """The code for a placed part that does not drain; empty for one that does, or has no compartment."""
    if not all(drains):
        return "floor-undrained"
    at = matrix_of(placement.space_from_part)
    through = [any(_falls_through(_moved(hole, at), liner) for hole in holes) for holes in drains]
    return "" if all(through) else "liner-undrained"


def drains_of(shape: Shape) -> list[list[CrossSection]]:
    """For each compartment of a part the holes below it that water falls through.

    Args:
        shape: sound, in the part's axes.
    """
    solid, (low, high) = _solid(shape), shape.box
    section = solid.slice(float(low[2] + ABOVE_FLOOR * (high[2] - low[2])))
    rooms = [room for room in _enclosed(section) if room.area() >= LEAST_COMPARTMENT_MM2]
    plan = solid.project()
    through = [(room - plan).decompose() for room in rooms]
    return [[hole for hole in holes if not grown(hole, -LEAST_HOLE / 2).is_empty()] for holes in through]


def _falls_through(hole: CrossSection, liner: list[CrossSection]) -> bool:
    """Whether what lies below leaves a hole open, wide enough for a drop."""
    for plan in liner:
        hole -= plan
    return not grown(hole, -LEAST_HOLE / 4).is_empty()


def _enclosed(section: CrossSection) -> list[CrossSection]:
    """The holes of a section, each as a region."""
    from manifold3d import CrossSection, FillRule

    outlines = [ring for ring in section.to_polygons() if _is_outline(np.asarray(ring))]
    if not outlines:
        return []
    found: list[CrossSection] = (CrossSection(outlines, FillRule.Positive) - section).decompose()
    return found


def _is_outline(ring: Floats) -> bool:
    """Whether a contour goes round plastic, not round a hole."""
    x, y = ring.T
    return bool((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() > 0)


def _plan(shape: Shape, placement: Placement) -> CrossSection:
    """The plan of a part where it lies."""
    return _moved(_solid(shape).project(), matrix_of(placement.space_from_part))


def _moved(region: CrossSection, matrix: Floats) -> CrossSection:
    """A region moved as its part is; upright axes stay upright."""
    return region.transform(np.column_stack([matrix[:2, :2], matrix[:2, 3]]))


def _solid(shape: Shape) -> Manifold:
    """A shape for the kernel."""
    import manifold3d

    return manifold3d.Manifold(manifold3d.Mesh64(shape.vertices, shape.triangles.astype(np.uint64)))
