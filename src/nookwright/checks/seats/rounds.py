"""Cones and sockets as they stand in a mesh: round, tapered, upright; found by level sections.

A cone is a small round outline above the highest face that is not the top of a cone. A socket is a small round hole in
the underside; its depth is the height of the ceiling above it. Radii are those of the corners of a section, which lie
on the true circle. Promise: what is drawn as a cone or a socket is found with its place to a hundredth of a millimetre.
What it does not know: which of them should be there; holes that do not taper are told apart by their draw.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.seats.level import level_at
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import GRID
from nookwright.module.seat import LEAD_IN_HEIGHT

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats
    from nookwright.checks.verdicts import Verdicts

BESIDE = Fact(0.05, unit="mm", kind=Kind.CHOICE, source="How far from a face the section is taken that speaks for it.")
ROUND = Fact(
    0.05, unit="mm", kind=Kind.CALCULATED, source="Corners and chords of a circle of ours differ by 0.01 in radius."
)
SMALLEST = Fact(1.0, unit="mm", kind=Kind.CALCULATED, source="Radius; the top of a cone has 1.7, a drain hole less.")
LARGEST = Fact(
    8.0, unit="mm", kind=Kind.CALCULATED, source="Radius; a mouth leaves 4 mm between sockets, so at a pitch of 24, 10."
)
SAME_PLACE = Fact(0.5, unit="mm", kind=Kind.CHOICE, source="Sections of one cone lie above each other within this.")
LEAST_FACE_MM2 = Fact(
    5.0, unit="mm2", kind=Kind.CHOICE, source="Level faces with less in all carry nothing: the top of a cone has 9."
)
HIGHEST = Fact(12.0, unit="mm", kind=Kind.CHOICE, source="A ceiling farther up belongs to a hole, not to a socket.")
_FLAT = 1e-3  # of a normal's height off 1
_DIGITS = 4  # of a height in a file
_FEET = 64  # cones that are looked at together


@dataclass(frozen=True, eq=False)
class Rounds:
    """Cones or sockets of one mesh, n of them.

    Attributes:
        x, y: middles, mm.
        wide: radius at the face that a cone stands on, or that a socket opens to, its lead-in left out, mm.
        draw: by how much the radius shrinks for each mm of height, mm/mm.
        height: of a cone over its face, or depth of a socket; infinite for one without a ceiling, mm.
        face: height of that face, mm.
        lead: by how much a socket's mouth is wider than its slope alone would make it; 0 for a cone, mm.
    """

    x: Floats
    y: Floats
    wide: Floats
    draw: Floats
    height: Floats
    face: Floats
    lead: Floats

    @property
    def places(self) -> Floats:
        """Middles, (n, 2)."""
        return np.column_stack([self.x, self.y])

    def __len__(self) -> int:
        return len(self.x)


def none() -> Rounds:
    """Nothing round."""
    return Rounds(*(np.empty(0) for _ in fields(Rounds)))


def together(parts: list[tuple[Rounds, Floats]]) -> Rounds:
    """Those of several pieces, each moved to where it lies in its part.

    Args:
        parts: of each piece, and where its origin lies, (2,) or (3,), mm.
    """
    if not parts:
        return none()
    columns = {field.name: np.concatenate([getattr(one, field.name) for one, _ in parts]) for field in fields(Rounds)}
    moves = [np.tile(at[:2], (len(one), 1)) for one, at in parts]
    moved = np.concatenate(moves)
    columns["x"], columns["y"] = columns["x"] + moved[:, 0], columns["y"] + moved[:, 1]
    return Rounds(**columns)


def cones_of(shape: Shape, verdicts: Verdicts) -> Rounds:
    """All cones that stand up from a shape's highest face.

    Args:
        shape: the shape.
        verdicts: those reached before.
    """
    return _remembered(f"cones {shape.key}", shape, _cones, verdicts)


def sockets_of(shape: Shape, verdicts: Verdicts) -> Rounds:
    """All sockets in a shape's underside, and other small round holes there.

    Args:
        shape: the shape.
        verdicts: those reached before.
    """
    return _remembered(f"sockets {shape.key}", shape, _sockets, verdicts)


def _remembered(question: str, shape: Shape, look: Callable[[Shape], Rounds], verdicts: Verdicts) -> Rounds:
    """What was found in a shape, from the verdicts or looked at now."""

    def reach() -> tuple[float, ...]:
        found = look(shape)
        return tuple(np.concatenate([getattr(found, field.name) for field in fields(Rounds)]).tolist())

    numbers = np.array(verdicts.of(question, reach)).reshape(len(fields(Rounds)), -1)
    return Rounds(*numbers)


def _cones(shape: Shape) -> Rounds:
    """Cones on the highest face that is not the top of cones alone."""
    face = _face(shape)
    foot = face + BESIDE
    at_foot = _round_loops(shape, foot, solid=True)
    if not len(at_foot.places):
        return none()
    tops = _tops(shape, at_foot, face)
    radii = np.full(len(tops), np.nan)
    for top in np.unique(tops):
        here = _round_loops(shape, top - BESIDE, solid=True)
        mine = np.flatnonzero(tops == top)
        radii[mine] = here.radius_at(at_foot.places[mine])
    draw = (at_foot.radii - radii) / np.maximum(tops - face - 2 * BESIDE, GRID)
    tapered = np.flatnonzero(draw > 0)
    x, y = at_foot.places[tapered].T
    wide = at_foot.radii[tapered] + draw[tapered] * BESIDE
    level = np.full(len(tapered), face)
    return Rounds(x, y, wide, draw[tapered], tops[tapered] - face, level, np.zeros(len(tapered)))


def _sockets(shape: Shape) -> Rounds:
    """Round holes above the lead-in, with the ceilings over them."""
    bottom = float(shape.box[0][2])
    above = bottom + LEAD_IN_HEIGHT + BESIDE
    mouths = _round_loops(shape, above, solid=False)
    if not len(mouths.places):
        return none()
    depth, upper, radii = np.full(len(mouths.radii), np.inf), np.full(len(mouths.radii), above), mouths.radii.copy()
    still = np.ones(len(radii), dtype=bool)
    for ceiling in _ceilings(shape, above, bottom + HIGHEST):
        found = _round_loops(shape, ceiling - BESIDE, solid=False).radius_at(mouths.places)
        still &= ~np.isnan(found)
        depth[still], upper[still], radii[still] = ceiling - bottom, ceiling - BESIDE, found[still]
    beyond = _round_loops(shape, bottom + HIGHEST, solid=False).radius_at(mouths.places)
    depth[still & ~np.isnan(beyond)] = np.inf
    draw = (mouths.radii - radii) / np.maximum(upper - above, GRID)
    wide = mouths.radii + draw * (above - bottom)
    at_bottom = _round_loops(shape, bottom + BESIDE, solid=False).radius_at(mouths.places)
    lead = np.where(np.isnan(at_bottom), 0.0, at_bottom + BESIDE - wide)
    x, y = mouths.places.T
    return Rounds(x, y, wide, draw, depth, np.full(len(wide), bottom), lead)


@dataclass(frozen=True, eq=False)
class _Circles:
    """Round loops of a section: middles (n, 2) and radii (n,), mm."""

    places: Floats
    radii: Floats

    def radius_at(self, places: Floats) -> Floats:
        """The radius of the loop about each place; not a number where there is none."""
        if not len(self.radii):
            return np.full(len(places), np.nan)
        away = np.hypot(*(places[:, None] - self.places[None]).transpose(2, 0, 1))
        nearest = away.argmin(axis=1)
        return np.where(away[np.arange(len(places)), nearest] <= SAME_PLACE, self.radii[nearest], np.nan)


def _round_loops(shape: Shape, height: float, *, solid: bool) -> _Circles:
    """Small round outlines, or small round holes, of a section."""
    loops = level_at(shape, height).loops
    sign = loops.areas_mm2 > 0 if solid else loops.areas_mm2 < 0
    kept = sign & (loops.far - loops.near <= ROUND) & (loops.far >= SMALLEST) & (loops.far <= LARGEST)
    return _Circles(loops.middles[kept], loops.far[kept])


def _face(shape: Shape) -> float:
    """The highest level face with more to it than tops of cones."""
    faces = _level_faces(shape, up=True)
    for height in faces[::-1]:
        loops = level_at(shape, height - BESIDE).loops
        outlines = loops.areas_mm2 > 0
        small = (loops.far - loops.near <= ROUND) & (loops.far <= LARGEST)
        if (outlines & ~small).any():
            return float(height)
    return float(shape.box[0][2])


def _tops(shape: Shape, feet: _Circles, face: float) -> Floats:
    """The highest point of the shape within each foot, mm."""
    high = shape.vertices[shape.vertices[:, 2] > face + BESIDE]
    tops = np.full(len(feet.radii), face)
    for first in range(0, len(feet.radii), _FEET):
        part = slice(first, first + _FEET)
        away = np.hypot(*(feet.places[part, None] - high[None, :, :2]).transpose(2, 0, 1))
        tops[part] = np.where(away <= feet.radii[part, None], high[None, :, 2], face).max(axis=1, initial=face)
    return np.round(tops, _DIGITS)


def _ceilings(shape: Shape, low: float, high: float) -> Floats:
    """Heights between two at which level faces look down."""
    heights = _level_faces(shape, up=False)
    return heights[(heights > low + BESIDE) & (heights < high)]


def _level_faces(shape: Shape, *, up: bool) -> Floats:
    """Heights of level faces that look up or down, the lowest first; scraps are left out."""
    corners = shape.corners
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    doubled = np.linalg.norm(normals, axis=1)
    level = (normals[:, 2] if up else -normals[:, 2]) > (1 - _FLAT) * doubled
    heights, number = np.unique(np.round(corners[level, 0, 2], _DIGITS), return_inverse=True)
    found: Floats = heights[np.bincount(number, doubled[level] / 2, len(heights)) >= LEAST_FACE_MM2]
    return found
