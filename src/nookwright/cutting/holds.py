"""What holds the pieces of a cut part in line: dovetails in its floor, pins in what is thick, else the glue alone.

A dovetail needs a plate of one thickness all around it; a pin needs solid material all around its hole. Both are felt
out in the recipe, so no kind of part is known here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.cutting.model import Hold, Joint, Pin
from nookwright.cutting.sampling import inside
from nookwright.ground.sources import Fact, Kind
from nookwright.parts.liner.keys import HEAD, LENGTH
from nookwright.sizing.fits.chain import CLEARANCE
from nookwright.sizing.printers.errors import inside_sensitivities, outside_sensitivities
from nookwright.sizing.printers.household import REACH
from nookwright.survey.origins import FitClass

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.cutting.sampling import Floats
    from nookwright.shapes.solids import Solid
    from nookwright.sizing.printers.errors import PrinterErrors

AROUND_TONGUE = Fact(
    1.0, unit="mm", kind=Kind.CALCULATED, source="Of even plate around a dovetail: two lines of 0.43 beside its slot."
)
THICKEST_TONGUE = Fact(
    6.0, unit="mm", kind=Kind.CHOICE, source="A thicker one jams on its way down; pins hold thick parts better."
)
THINNEST_TONGUE = Fact(0.8, unit="mm", kind=Kind.CHOICE, source="Four layers of 0.2: carries 80 N in shear.")
TONGUES_APART = Fact(36.0, unit="mm", kind=Kind.CHOICE, source="Two cells: nearer ones only weaken the floor.")
LEAST_TONGUE_CLEARANCE = Fact(
    0.1, unit="mm", kind=Kind.COMMON_PRACTICE, source="A side, on the best of printers: the glue has to go somewhere."
)
FIT_STEP = Fact(0.05, unit="mm", kind=Kind.CHOICE, source="Clearances are rounded up to this.")
FILAMENT_SPREAD = Fact(0.05, unit="mm", kind=Kind.COMMON_PRACTICE, source="Filament is sold to +-0.02 to 0.05.")
DOWEL_SPREAD = Fact(0.2, unit="mm", kind=Kind.COMMON_PRACTICE, source="Wooden dowels swell and are not quite round.")
DOWEL = Fact(6.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="The thinnest wooden dowel that every shop has.")
PIN_DEPTH = Fact(8.0, unit="mm", kind=Kind.CHOICE, source="In each piece: four diameters of a 1.75 filament and more.")
DOWEL_DEPTH = Fact(15.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Half of a dowel of 30.")
AROUND_PIN = Fact(0.86, unit="mm", kind=Kind.CALCULATED, source="Two lines of 0.43 all around the hole.")
AROUND_DOWEL = Fact(1.6, unit="mm", kind=Kind.CALCULATED, source="Three lines of 0.43 and more: a dowel is driven in.")
PINS_APART = Fact(18.0, unit="mm", kind=Kind.CHOICE, source="Nearer ones do not keep two pieces from turning.")
MOST_HOLDS = Fact(4, unit="1", kind=Kind.CHOICE, source="Two place a piece, two more carry; the rest is work.")
_FEW = 2  # pins that place a piece
_STEP = 2.0  # mm between places that are felt out
_FELT = 15  # points to each side of what is felt out around a hole
_SKIN = 0.02  # mm that it keeps clear of faces
_RISE = 0.4  # mm between heights at which a plate is felt out


@dataclass(frozen=True)
class Fit:
    """What the printers let joints be made to.

    Attributes:
        tongue: clearance of a dovetail to each side, mm.
        pins: what holes there may be, the thickest first.
        layer: by which heights go, mm.
        finest: the thinnest layer that any of them prints, mm: no face may step out by more.
    """

    tongue: float
    pins: tuple[Pin, ...]
    layer: float
    finest: float = math.inf


def fit_of(errors: PrinterErrors, *, layer: float, filament: float, finest: float = math.inf) -> Fit:
    """The fit of joints from what the household's printers do to sizes.

    Args:
        errors: of the household.
        layer: by which heights go, mm.
        filament: diameter of the filament that is at hand, mm.
        finest: the thinnest layer that any printer of the household prints, mm.
    """
    outside, inner = (
        errors.of(outside_sensitivities(float(HEAD))),
        errors.of(inside_sensitivities(float(HEAD), round_hole=False)),
    )
    closer = outside[0] - inner[0] + REACH * math.hypot(outside[1], inner[1], errors.scatter)
    tongue = max(float(LEAST_TONGUE_CLEARANCE), _up(closer / 2))
    dowel = Pin("6 mm dowel", float(DOWEL), _hole(DOWEL + DOWEL_SPREAD, errors), float(DOWEL_DEPTH))
    thread = Pin(f"{filament:g} mm filament", filament, _hole(filament + FILAMENT_SPREAD, errors), float(PIN_DEPTH))
    return Fit(tongue, (dowel, thread), layer, finest)


def _hole(size: float, errors: PrinterErrors) -> float:
    """The hole that a pin of a size goes into, mm."""
    mean, sd = errors.of(inside_sensitivities(size, round_hole=True))
    return _up(size + CLEARANCE[FitClass.CLOSE] - mean + REACH * math.hypot(sd, errors.scatter))


def _up(size: float) -> float:
    return round(math.ceil(round(size / FIT_STEP, 6)) * FIT_STEP, 6)


def joint_of(
    recipe: Solid,
    fit: Fit,
    *,
    axis: int,
    at: float,
    span: tuple[float, float],
    marks: Sequence[float] = (),
    seated: bool,
    top: float | None = None,
) -> Joint:
    """The joint of two pieces that meet along a stretch of a cut.

    Args:
        recipe: the part.
        fit: what joints are made to.
        axis: 0 where the cut is across x, 1 across y.
        at: place of the cut along that axis, mm.
        span: from where to where it goes along the other axis, mm.
        marks: places along the other axis where a dovetail may be, mm; none where the bed has no room for one.
        seated: whether the part stands on cones, which hold its pieces too.
        top: of the lowest pieces, mm; of the part where it is not cut across its height.
    """
    near = HEAD / 2 + AROUND_TONGUE
    free = [mark for mark in marks if span[0] + near <= mark <= span[1] - near]
    tongues = spread([mark for mark in free if _plate(recipe, axis, at, mark)], float(TONGUES_APART))
    if tongues:
        places = tuple((mark, 0.0) for mark in tongues)
        return Joint(Hold.TONGUES, axis, at, span, places, dry=seated)
    for pin in fit.pins:
        for height in _heights(recipe.bounds[5] if top is None else top, pin, fit.layer):
            found = [one for one in _steps(span, pin) if _solid(recipe, pin, (at, one, height), axis)]
            pins = spread(found, float(PINS_APART))
            if len(pins) >= _FEW:
                return Joint(Hold.PINS, axis, at, span, tuple((one, height) for one in pins), pin, dry=seated)
    return Joint(Hold.FACES, axis, at, span, dry=False)


def _plate(recipe: Solid, axis: int, at: float, mark: float) -> bool:
    """Whether a dovetail would lie in a plate of one thickness, with nothing on it."""
    half = HEAD / 2 + AROUND_TONGUE
    along = np.arange(at - AROUND_TONGUE, at + LENGTH + AROUND_TONGUE + 0.5, 1.0)
    across = np.linspace(mark - half, mark + half, 12)
    top = recipe.bounds[5]
    heights = np.arange(_RISE / 2, top, _RISE)
    told = inside(recipe, _turned((along, across, heights), axis)).reshape(-1, len(heights))
    first = told[0]
    if (told != first).any():
        return False
    thick = int(first.argmin()) if not first.all() else len(heights)
    if not thick or first[thick:].any():
        return False
    return bool(heights[thick - 1] + _RISE >= THINNEST_TONGUE and heights[thick - 1] <= THICKEST_TONGUE)


def _heights(top: float, pin: Pin, layer: float) -> tuple[float, ...]:
    """Where the middle of a hole may be: half way up, or as low as it may."""
    least = math.ceil(round((pin.hole / 2 + _around(pin)) / layer, 6)) * layer
    half = round(top / 2 / layer) * layer
    return tuple(dict.fromkeys((round(max(half, least), 6), round(least, 6))))


def _around(pin: Pin) -> float:
    return float(AROUND_DOWEL if pin.diameter >= DOWEL else AROUND_PIN)


def _steps(span: tuple[float, float], pin: Pin) -> Iterator[float]:
    """Places along a joint that are felt out, from its middle outwards alike."""
    reach = pin.hole / 2 + _around(pin)
    count = int((span[1] - span[0] - 2 * reach) / _STEP)
    start = (span[0] + span[1]) / 2 - count * _STEP / 2
    return (round(start + number * _STEP, 4) for number in range(count + 1)) if count >= 0 else iter(())


def _solid(recipe: Solid, pin: Pin, middle: tuple[float, float, float], axis: int) -> bool:
    """Whether a hole has material all around it, on both sides of the cut."""
    at, place, height = middle
    deep, reach = pin.depth + _around(pin), pin.hole / 2 + _around(pin) - _SKIN
    spans = ((at, deep), (place, reach), (height, reach))
    along, across, up = (np.linspace(mid - far, mid + far, _FELT) for mid, far in spans)
    return bool(inside(recipe, _turned((along, across, up), axis)).all())


def _turned(axes: tuple[Floats, Floats, Floats], axis: int) -> tuple[Floats, Floats, Floats]:
    """A grid along, across and up in the part's axes."""
    along, across, up = axes
    return (along, across, up) if axis == 0 else (across, along, up)


def spread(places: list[float], apart: float) -> list[float]:
    """A few of some places, the outer ones first, none nearer to another than allowed.

    Args:
        places: along a line, mm.
        apart: the least between two of them, mm.
    """
    if not places:
        return []
    low, high = min(places), max(places)
    count = min(int(MOST_HOLDS), int((high - low) / apart) + 1)
    if count == 1:
        return [min(places, key=lambda place: (abs(place - (low + high) / 2), place))]
    wanted = [low + (high - low) * number / (count - 1) for number in range(count)]
    found: list[float] = []
    for want in wanted:
        best = min(places, key=lambda place: (round(abs(place - want), 6), place))
        if all(abs(best - other) >= apart - 1e-6 for other in found):
            found.append(best)
    return found
