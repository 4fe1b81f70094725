"""What no key of a space sees alone: heights beyond its own, the same said twice, figures that cannot all be true.

The space must be sound by itself; its lengths are in mm here whatever the file's unit is.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.survey.inside import Wall

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.ground.errors import Fault
    from nookwright.survey.inside import Lump
    from nookwright.survey.locate import Path
    from nookwright.survey.models import Space
    from nookwright.survey.readings import SideReadings
    from nookwright.survey.typed import Typed

CONTRADICTION = Fact(
    3.0, unit="mm", kind=Kind.CHOICE, source="Tape and square, each misread as far as they usually are, differ by less."
)
STEEPEST = Fact(
    0.5, unit="1", kind=Kind.CHOICE, source="A wall that leans in by more of its height is a slope, not a wall."
)
MOST_SKEW = Fact(0.1, unit="1", kind=Kind.CHOICE, source="A floor more out of square is no rectangle: 6 degrees.")
MOST_BOW = Fact(0.05, unit="1", kind=Kind.CHOICE, source="A floor bowed by more of its shorter side is broken.")

_MEASURE_AGAIN = "Measure both again; a point or a unit may be missing."


def space_contradictions(typed: Typed, path: Path, space: Space) -> Iterator[Fault]:
    """Every fault of a space that is sound key by key.

    Args:
        typed: the file.
        path: of the space in it.
        space: the same, loaded.
    """
    yield from _twice(typed, path, space)
    yield from _heights(typed, path, space)
    yield from _lean(typed, path, space)
    yield from _square(typed, path, space)
    yield from _diagonals(typed, path, space)
    yield from _bow(typed, path, space)
    for index, lump in enumerate(space.lump):
        yield from _lump(typed, (*path, "lump", index), lump, space)


def _twice(typed: Typed, path: Path, space: Space) -> Iterator[Fault]:
    """Keys that say the same."""
    for one, other in (("out_of_square", "diagonals"), ("bow", "bottom")):
        if getattr(space, one) is not None and getattr(space, other) is not None:
            yield typed.fault(
                (*path, other),
                found=f"{other} beside {one}",
                allowed=f"either `{one}` or `{other}`",
                remedy=f"Delete `{other}`: what was read goes before what was worked out.",
            )


def _heights(typed: Typed, path: Path, space: Space) -> Iterator[Fault]:
    """Readings at heights that the space does not have, or twice at one height."""
    for name, readings in (("width", space.width), ("depth", space.depth)):
        top = space.height.largest
        for height in readings.at:
            if height >= top:
                yield typed.fault(
                    (*path, name, "at"),
                    found=f"a height of {height:g} mm",
                    allowed=f"heights below the clear height, {top:g} mm",
                    remedy="Put what was read at the top under rim, or check the unit of the height.",
                )
        raw = typed.at((*path, name, "at"))
        if isinstance(raw, dict) and len(raw) > len(readings.at):
            yield typed.fault(
                (*path, name, "at"),
                allowed="each height once",
                remedy="Put all readings of one height in one list.",
            )


def _lean(typed: Typed, path: Path, space: Space) -> Iterator[Fault]:
    """Walls that lean too far, or not as the readings at the rim say."""
    if space.lean is None:
        return
    height = space.height.smallest
    for wall in Wall:
        inwards = getattr(space.lean, wall.value)
        if abs(inwards) > STEEPEST * height:
            yield typed.fault(
                (*path, "lean", wall.value),
                found=f"{inwards:g} mm",
                allowed=f"at most half the clear height, {STEEPEST * height:g} mm, in or out",
                remedy="Give how far the wall stands in at the rim against its foot.",
            )
    for name, readings, inwards in (
        ("width", space.width, space.lean.left + space.lean.right),
        ("depth", space.depth, space.lean.front + space.lean.back),
    ):
        yield from _rim(typed, (*path, name), readings, inwards)


def _rim(typed: Typed, path: Path, readings: SideReadings, inwards: float) -> Iterator[Fault]:
    """Readings at the rim that the lean of the walls does not allow, and leans that leave nothing."""
    floor = min(readings.floor)
    left = floor - inwards
    if left <= 0:
        yield typed.fault(
            path,
            found=f"{floor:g} mm at the floor and walls that lean in by {inwards:g} mm",
            allowed="walls that leave room between them at the rim",
            remedy=_MEASURE_AGAIN,
        )
    elif readings.rim and abs(min(readings.rim) - left) > CONTRADICTION:
        yield typed.fault(
            (*path, "rim"),
            found=f"{min(readings.rim):g} mm, where {floor:g} at the floor less a lean of {inwards:g} leaves {left:g}",
            allowed=f"a reading within {CONTRADICTION:g} mm of that",
            remedy="Measure rim and lean again, or leave one of them out.",
        )


def _square(typed: Typed, path: Path, space: Space) -> Iterator[Fault]:
    """A run-off that is no run-off."""
    most = MOST_SKEW * space.depth.smallest
    if space.out_of_square is not None and space.out_of_square > most:
        yield typed.fault(
            (*path, "out_of_square"),
            found=f"{space.out_of_square:g} mm",
            allowed=f"at most a tenth of the depth, {most:g} mm",
            remedy="Give how far a wall runs off a square over the whole depth, not an angle nor a diagonal.",
        )


def _diagonals(typed: Typed, path: Path, space: Space) -> Iterator[Fault]:
    """Diagonals that no floor of these sides has: their squares add up to twice those of the sides."""
    if space.diagonals is None:
        return
    sides = math.hypot(min(space.width.floor), min(space.depth.floor))
    mean = math.sqrt((space.diagonals[0] ** 2 + space.diagonals[1] ** 2) / 2)
    if abs(mean - sides) > 2 * CONTRADICTION:
        yield typed.fault(
            (*path, "diagonals"),
            found=f"diagonals of {space.diagonals[0]:g} and {space.diagonals[1]:g} mm",
            allowed=f"a mean of about {sides:.0f} mm, by width and depth at the floor",
            remedy="Measure sides and diagonals again at the floor, from corner to corner.",
        )


def _bow(typed: Typed, path: Path, space: Space) -> Iterator[Fault]:
    """A bow that no floor has."""
    most = MOST_BOW * min(space.width.smallest, space.depth.smallest)
    if space.bow is not None and abs(space.bow) > most:
        yield typed.fault(
            (*path, "bow"),
            found=f"{space.bow:g} mm",
            allowed=f"at most a twentieth of the shorter side, {most:g} mm, down or up",
            remedy="Lay a straight edge across the floor and measure the largest gap.",
        )


def _lump(typed: Typed, path: Path, lump: Lump, space: Space) -> Iterator[Fault]:
    """Something on a wall that reaches beyond the space, or a length without a place."""
    across, side = (space.width, space.depth) if lump.wall in (Wall.LEFT, Wall.RIGHT) else (space.depth, space.width)
    limits = (
        ("out", lump.out, across.largest / 2, "half way to the wall opposite"),
        ("height", lump.z + (lump.height or 0.0), space.height.largest, "the clear height, counted from z"),
        ("length", (lump.along or 0.0) + (lump.length or 0.0), side.largest, "the end of the wall, counted from along"),
    )
    for key, reach, most, words in limits:
        if reach > most:
            yield typed.fault(
                (*path, key),
                found=f"a reach of {reach:g} mm",
                allowed=f"at most {most:g} mm, {words}",
                remedy="Measure it again from the floor and from the left or front end of the wall.",
            )
    if lump.length is not None and lump.along is None:
        yield typed.fault(
            (*path, "length"),
            found="a length without its place",
            allowed="both `along` and `length`, or neither",
            remedy="Add a line `along = ...`, or delete `length` if it is all along the wall.",
        )
