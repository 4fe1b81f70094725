"""Published sizes that a room file brings along: ``[[standard]]``. They are found before the built-in ones."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.survey.models import Shape
from nookwright.survey.standards import DIMENSIONS, Limits, StandardSize, Sureness, find_standard, plain

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.survey.models import OwnStandard
    from nookwright.survey.readings import Readings
    from nookwright.survey.typed import Typed


def size_of(designation: str, own: Iterable[OwnStandard]) -> StandardSize | None:
    """The thing of a designation: of the room file, or built in, or ``None``.

    Args:
        designation: as a lot writes it.
        own: what the room file brings along.
    """
    wanted = plain(designation)
    return next((_size(one) for one in own if plain(one.designation) == wanted), None) or find_standard(designation)


def typed_size(designation: str, typed: Typed) -> StandardSize | None:
    """The same from a file as typed, which may be broken elsewhere; its figures are only there or not there.

    Args:
        designation: as a lot writes it.
        typed: the room file.
    """
    wanted = plain(designation)
    for _, table in typed.tables("standard"):
        name, shape = table.get("designation"), table.get("shape")
        if isinstance(name, str) and plain(name) == wanted and shape in list(Shape):
            form = Shape(shape)
            limits = tuple(Limits(0.0) if side in table else None for side in DIMENSIONS[form])
            mass_g = 0.0 if "mass_g" in table else None
            return StandardSize(name, "", form, limits, "the room file", Sureness.SINGLE, mass_g)
    return find_standard(designation)


def _size(one: OwnStandard) -> StandardSize:
    limits = tuple(_limits(getattr(one, side)) for side in DIMENSIONS[one.shape])
    return StandardSize(one.designation, one.name, one.shape, limits, one.source, Sureness.SINGLE, one.mass_g)


def _limits(readings: Readings | None) -> Limits | None:
    if readings is None:
        return None
    return Limits(readings.largest, readings.smallest if len(readings.all) > 1 else None)
