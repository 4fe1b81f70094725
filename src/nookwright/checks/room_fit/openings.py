"""Whether every part passes the opening of its space, in some turn and tilt, glued or in pieces.

A part is pushed through without being turned on its way, its hull seen along the way it goes: along each of its own
axes, or tilted about one of them. That shadow passes a rectangle if at some turn it is no wider and no higher. For a
box it is the known answer for one rectangle in another (W. B. Carver, The American Mathematical Monthly, 1957), here
for every hull, by small steps of the turn. What it does not know: ways round a corner, turning as it goes; and what
stands before the opening. So "too small" may be said of an opening that skill would get it through.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.gathering import few
from nookwright.checks.room_fit.furnished import LINER
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats
    from nookwright.checks.room_fit.furnished import Furnished, Stood
    from nookwright.checks.room_fit.printed import Largest
    from nookwright.exchange.kit import Kit

FINGERS = Fact(
    2.0, unit="mm", kind=Kind.CHOICE, source="Room on each side of a part that a hand pushes through an opening."
)
_TURNS_DEG = np.arange(0.0, 180.0, 0.5)
_TILTS_DEG = np.arange(-80.0, 90.0, 10.0)


def check_openings(
    spaces: tuple[Furnished, ...], kit: Kit, shapes: Mapping[str, Shape], largest: Mapping[str, Largest]
) -> list[Finding]:
    """Parts that do not go into their space, each once.

    Args:
        spaces: with what stands in them.
        kit: with its pieces.
        shapes: meshes by file.
        largest: how large each part may be printed, by its id.
    """
    files = defaultdict(set)
    for piece in kit.pieces:
        files[piece.part].add(piece.file)
    known: dict[str, Floats] = {}
    found: list[Finding] = []
    for space in spaces:
        if space.surveyed.opening is not None:
            opening = max(space.surveyed.opening), min(space.surveyed.opening)
            here: list[Finding] = []
            for one in _each_part(space):
                pieces = [shapes[file] for file in sorted(files[one.part.id]) if file in shapes]
                more = largest[one.part.id].growth(max(one.part.size)) + 2 * FINGERS
                here += _about(space, one, opening, pieces=pieces, more=more, known=known)
            found += few(here)
    return found


def _about(
    space: Furnished,
    one: Stood,
    opening: tuple[float, float],
    *,
    pieces: list[Shape],
    more: float,
    known: dict[str, Floats],
) -> Iterator[Finding]:
    """What there is to say about one part; nothing where it goes in easily, or is put together where it lies."""
    whole = _shadows(one.body.shape, known)
    if passes(whole, opening, more):
        return
    if len(pieces) > 1 and all(passes(_shadows(piece, known), opening, more) for piece in pieces):
        if one.kind not in LINER:
            yield _said(space, one, opening, _least(whole, more), "opening-glue-inside")
    elif passes(whole, opening):
        yield _said(space, one, opening, _least(whole, more), "opening-tight")
    else:
        yield _said(space, one, opening, _least(whole, more), "opening-too-small")


def passes(shadows: Floats, opening: tuple[float, float], more: float = 0.0) -> bool:
    """Whether a part passes an opening.

    Args:
        shadows: (n, 2), width and height of its shadow in each turn and tilt, mm.
        opening: its longer and its shorter side, mm.
        more: what must be free besides, mm.
    """
    long, short = shadows.max(axis=1) + more, shadows.min(axis=1) + more
    return bool(((long <= opening[0]) & (short <= opening[1])).any())


def _each_part(space: Furnished) -> Iterator[Stood]:
    """The parts of a space, alike ones once; what lies in a tray goes in with it or by itself, and is smaller."""
    seen = set()
    for one in space.stood:
        if one.part.id not in seen:
            seen.add(one.part.id)
            yield one


def _shadows(shape: Shape, known: dict[str, Floats]) -> Floats:
    """Shadows of a shape in every turn and tilt, worked out once."""
    if shape.key not in known:
        known[shape.key] = shadows_of(hull_points(shape.vertices))
    return known[shape.key]


def hull_points(points: Floats) -> Floats:
    """The corners of the hull of some points, (n, 3)."""
    from scipy.spatial import ConvexHull

    corners: Floats = points[ConvexHull(points).vertices]
    return corners


def shadows_of(points: Floats) -> Floats:
    """Width and height of the shadow of a body for every way through and every turn, (n, 2), mm.

    Args:
        points: (n, 3), the corners of its hull.
    """
    turns = np.radians(_TURNS_DEG)
    along, across = np.stack([np.cos(turns), np.sin(turns)]), np.stack([-np.sin(turns), np.cos(turns)])
    found = []
    for right, up in _views():
        seen = np.column_stack([points @ right, points @ up])
        found.append(np.column_stack([np.ptp(seen @ along, axis=0), np.ptp(seen @ across, axis=0)]))
    shadows: Floats = np.vstack(found)
    return shadows


def _views() -> Iterable[tuple[Floats, Floats]]:
    """Pairs of directions across the way: along each axis, and tilted about each of the other two."""
    axes = np.eye(3)
    for number in range(3):
        right, up = axes[(number + 1) % 3], axes[(number + 2) % 3]
        for tilt in np.radians(_TILTS_DEG):
            yield right, np.cos(tilt) * up + np.sin(tilt) * axes[number]


def _least(shadows: Floats, more: float) -> tuple[float, float]:
    """The smallest opening, by its area, that would do, mm."""
    sides = shadows + more
    best = sides[np.argmin(sides.prod(axis=1))]
    return float(best.max()), float(best.min())


_WORDS = {
    "opening-too-small": (
        Severity.STOP,
        "does not pass",
        "Choose smaller parts for this space, or widen the opening, or measure it again.",
    ),
    "opening-glue-inside": (
        Severity.NOTE,
        "does not pass as a whole",
        "Glue it inside of the space: each of its pieces goes in.",
    ),
    "opening-tight": (
        Severity.NOTE,
        "does not pass with room for fingers, and printed at its largest,",
        "Try it before it is filled; measure the opening again at its narrowest.",
    ),
}


def _said(space: Furnished, one: Stood, opening: tuple[float, float], least: tuple[float, float], code: str) -> Finding:
    """What to say of a part that does not simply go in."""
    severity, words, remedy = _WORDS[code]
    text = (
        f"{one.part.name} {words} the opening of {space.space.id}, {opening[0]:.0f} x {opening[1]:.0f} mm, in any turn "
        f"or tilt; {least[0]:.0f} x {least[1]:.0f} mm would do."
    )
    return Finding(code, severity, one.id, text, remedy, Against(opening[1], least[1], "mm"))
