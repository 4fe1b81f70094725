"""Values that a room file may hold, but that look like a slip: a point left out, inches or centimetres typed as mm.

Nothing is corrected. Each finding names the value, its line, and what it may have been; whoever meant it goes on.
"""

from __future__ import annotations

import math
from statistics import median
from typing import TYPE_CHECKING, Final

from nookwright.ground.findings import Finding, Severity
from nookwright.ground.lengths import read_length
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.load import read_toml
from nookwright.survey.models import Shape
from nookwright.survey.standard_size import DIMENSIONS
from nookwright.survey.typed import MISSING, show

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path as FilePath

    from nookwright.survey.locate import Path
    from nookwright.survey.models import Lot, Room, Space
    from nookwright.survey.typed import Typed

MM_PER_INCH = Fact(25.4, unit="mm/in", kind=Kind.STANDARD, source="International yard and pound agreement, 1959.")
MM3_PER_CM3 = Fact(1000.0, unit="mm3/cm3", kind=Kind.STANDARD, source="SI.")
ALIKE = Fact(
    0.12, unit="1", kind=Kind.CHOICE, source="A ratio this near to 10 or 25.4 is one: things of a lot differ by less."
)
FAR_OFF = Fact(
    2.0,
    unit="1",
    kind=Kind.CHOICE,
    source="Readings of one dimension that differ by this factor are not of like things.",
)
LIGHTEST_G_CM3 = Fact(
    0.02, unit="g/cm3", kind=Kind.MEMORY, source="Packing foam, the lightest thing that people keep in drawers."
)
HEAVIEST_G_CM3 = Fact(12.0, unit="g/cm3", kind=Kind.HANDBOOK, source="Lead has 11.3 g/cm3; nothing at home is denser.")
SMALL_SPACE = Fact(
    45.0, unit="mm", kind=Kind.CHOICE, source="No space that is fitted out is narrower; 45 in are a wide drawer."
)
_CODE: Final = "suspect-reading"
_SLIPS: Final = (
    (10.0, "typed without its point?"),
    (100.0, "typed without its point?"),
    (0.1, "a digit missing, or centimetres?"),
    (0.01, "metres, or digits missing?"),
    (1 / MM_PER_INCH, "inches?"),
    (float(MM_PER_INCH), "turned into mm twice?"),
)


def suspects(path: FilePath, room: Room) -> tuple[Finding, ...]:
    """Everything in a room file that looks like a slip, in the order of its lines.

    Args:
        path: the room file.
        room: what it holds.
    """
    typed, _ = read_toml(path)
    if typed is None:
        return ()
    unit = room.room.units
    found = [one for number, space in enumerate(room.space) for one in _of_space(typed, number, space, unit)]
    longest = max(max(space.width.largest, space.depth.largest, space.height.largest) for space in room.space)
    for number, lot in enumerate(room.lot):
        found += _of_lot(typed, number, lot, unit, longest)
    return tuple(finding for _, finding in sorted(found))


Found = tuple[int, Finding]  # a line, and what there is to say of it


def _of_space(typed: Typed, number: int, space: Space, unit: str) -> Iterator[Found]:
    """What looks like a slip in one space."""
    path: Path = ("space", number)
    for side in ("width", "depth", "height"):
        yield from _odd_ones(typed, (*path, side), unit, space.id)
    sides = (space.width, space.depth, space.height)
    if unit != "in" and max(side.largest for side in sides) < SMALL_SPACE:
        shown = " x ".join(f"{side.largest:g}" for side in sides)
        text = f"The whole space is {shown} mm: inches or centimetres?"
        yield _finding(typed, (*path, "width"), space.id, text)


def _of_lot(typed: Typed, number: int, lot: Lot, unit: str, longest: float) -> Iterator[Found]:
    """What looks like a slip in one lot."""
    path: Path = ("lot", number)
    sides = DIMENSIONS[lot.shape or Shape.BOX]
    for side in sides:
        yield from _odd_ones(typed, (*path, side), unit, lot.id)
        for where, value in _readings(typed, (*path, side), unit):
            if value > longest:
                text = f"{_named(typed, where, value)} is more than the longest side of any space, {longest:g} mm"
                yield _finding(typed, where, lot.id, f"{text}: typed without its point?")
    if lot.standard is None and lot.mass_g and sides:
        yield from _density(typed, path, lot)


def _odd_ones(typed: Typed, path: Path, unit: str, subject: str) -> Iterator[Found]:
    """Readings of one dimension that the others contradict."""
    readings = list(_readings(typed, path, unit))
    for at, (where, value) in enumerate(readings):
        others = [other for index, (_, other) in enumerate(readings) if index != at]
        if not others or max(others) > FAR_OFF * min(others):
            continue
        ratio = value / median(others)
        if 1 / FAR_OFF < ratio < FAR_OFF or (len(others) == 1 and at == 0):
            continue
        other = "the other reading" if len(others) == 1 else "the others"
        text = f"{_named(typed, where, value)} is {_times(ratio)} {other}, {median(others):g} mm: {_slip(ratio)}"
        yield _finding(typed, where, subject, text)


def _times(ratio: float) -> str:
    return f"{ratio:.2g} times" if ratio > 1 else f"1/{1 / ratio:.2g} of"


def _slip(ratio: float) -> str:
    """What a reading may have been, by how far it is from the others."""
    for factor, words in _SLIPS:
        if abs(math.log(ratio / factor)) < ALIKE:
            return words
    return "a slip of the pen, or another thing?"


def _density(typed: Typed, path: Path, lot: Lot) -> Iterator[Found]:
    """A thing that is heavier or lighter than anything of its size."""
    assert lot.mass_g is not None  # noqa: S101 - said by the caller
    density = lot.mass_g / (_volume_mm3(lot) / MM3_PER_CM3)
    if LIGHTEST_G_CM3 <= density <= HEAVIEST_G_CM3:
        return
    size = " x ".join(f"{getattr(lot, side).largest:g}" for side in DIMENSIONS[lot.shape or Shape.BOX])
    text = f"One thing of {size} mm and {lot.mass_g:g} g would have {density:.3g} g/cm3, {_no_such(density)}"
    side = DIMENSIONS[lot.shape or Shape.BOX][0]
    yield _finding(typed, (*path, side), lot.id, f"{text}: {_meant(density)}")


def _no_such(density: float) -> str:
    return "more than lead" if density > HEAVIEST_G_CM3 else "less than packing foam"


def _meant(density: float) -> str:
    """Which slip makes a density possible."""
    slips = (
        (MM_PER_INCH**-3, "inches typed as mm"),
        (MM3_PER_CM3**-1, "centimetres typed as mm"),
        (0.1, "a length that lost a digit, or a mass without its point"),
        (10.0, "a length typed without its point"),
        (MM3_PER_CM3 * 1.0, "kilograms typed as grams"),
    )
    possible = [words for factor, words in slips if 4 * LIGHTEST_G_CM3 <= density * factor <= HEAVIEST_G_CM3]
    return ", or ".join(possible[:2]) + "?" if possible else "which of the figures is a slip?"


def _volume_mm3(lot: Lot) -> float:
    sides: list[float] = [median(getattr(lot, side).all) for side in DIMENSIONS[lot.shape or Shape.BOX]]
    return math.pi / 4 * sides[0] ** 2 * sides[1] if lot.shape is Shape.ROUND else math.prod(sides)


def _readings(typed: Typed, path: Path, unit: str) -> Iterator[tuple[Path, float]]:
    """Every reading below a key, with its path, mm."""
    value = typed.at(path)
    if isinstance(value, dict):
        for key in value:
            yield from _readings(typed, (*path, key), unit)
    elif isinstance(value, list):
        for index in range(len(value)):
            yield from _readings(typed, (*path, index), unit)
    elif value is not MISSING:
        yield path, read_length(value, unit)


def _named(typed: Typed, path: Path, value: float) -> str:
    """A reading as it was typed, and in mm where that says more."""
    typed_as = show(typed.at(path))
    return typed_as if typed_as in {f"{value:g}", f"{value:.1f}"} else f"{typed_as} ({value:g} mm)"


def _finding(typed: Typed, path: Path, subject: str, text: str) -> Found:
    line = typed.places.line(path)
    key = next(step for step in path[2:] if isinstance(step, str))
    return line, Finding(
        _CODE, Severity.WARN, subject, f"Line {line}, {key}: {text}", "Measure or read it again; if it is right, go on."
    )
