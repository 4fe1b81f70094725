"""What is assumed of a thing until somebody knows better: its shape by the sides that were given, its mass by its size.

Promise: nothing that was typed is replaced; a mass that was assumed once follows the size until another one is typed.
What a thing weighs is needed, since a drawer carries so much and a slam throws what is heavy further; weighing fifty
things before the first layout is not. What it does not know: where that is written.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from nookwright.ground.errors import LengthError
from nookwright.ground.lengths import read_length
from nookwright.studio.typed_fields import plain_number
from nookwright.survey.answers import Thing
from nookwright.survey.models import Shape
from nookwright.survey.new import assumed_mass_g
from nookwright.survey.standards import DIMENSIONS, find_standard

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.studio.toml_values import Value

SIDES: Final = tuple(dict.fromkeys(side for sides in DIMENSIONS.values() for side in sides))


def assumed_of(lot: Mapping[str, Any], unit: str) -> dict[str, Value]:
    """Keys that a lot still lacks and that can be assumed from those that it has.

    >>> assumed_of({"diameter": 20, "height": 10}, "mm")
    {'shape': 'round', 'mass_g': 3.14}

    Args:
        lot: its table.
        unit: of plain numbers in this room.
    """
    found: dict[str, Value] = {}
    shape = _shape(lot)
    if shape is None or lot.get("standard"):
        return found
    if "shape" not in lot:
        found["shape"] = str(shape)
    mass = mass_of({**lot, **found}, unit)
    if mass is not None and "mass_g" not in lot:
        found["mass_g"] = plain_number(mass)
    return found


def mass_of(lot: Mapping[str, Any], unit: str) -> float | None:
    """The mass that a thing of this size is assumed to have, g; nothing where its size is not known.

    Args:
        lot: its table.
        unit: of plain numbers in this room.
    """
    try:
        shape = Shape(str(lot.get("shape")))
        sides = tuple(max(_lengths(lot[side], unit)) for side in DIMENSIONS[shape])
    except (ValueError, KeyError):
        return None
    return assumed_mass_g(Thing("", shape, sides, "", 1)) if sides and min(sides) > 0 else None


def is_assumed(lot: Mapping[str, Any], unit: str) -> bool:
    """Whether the mass of a lot is what would be assumed of its size.

    Args:
        lot: its table.
        unit: of plain numbers in this room.
    """
    mass, given = mass_of(lot, unit), lot.get("mass_g")
    return mass is not None and isinstance(given, int | float) and float(given) == float(plain_number(mass))


def follows(before: Mapping[str, Any], key: str, value: Value | None, unit: str) -> dict[str, Value | None]:
    """What else changes in a lot when one of its keys is typed: a published size goes without a shape, and so on.

    >>> follows({"shape": "box", "width": 8}, "standard", "R6", "mm")
    {'shape': None, 'width': None}

    Args:
        before: its table.
        key: that was typed.
        value: of it; nothing where it was emptied.
        unit: of plain numbers in this room.
    """
    assumed = is_assumed(before, unit)
    after = {name: one for name, one in {**before, key: value}.items() if one is not None}
    gone: dict[str, Value | None] = {}
    if key == "standard" and isinstance(value, str) and find_standard(value) is not None:
        gone = {name: None for name in ("shape", *SIDES) if name in before}
        return gone | ({"mass_g": None} if assumed else {})
    if key == "shape" and value in set(Shape):
        kept = DIMENSIONS[Shape(str(value))]
        gone = {name: None for name in ("standard", *SIDES) if name in before and name not in kept}
        after = {name: one for name, one in after.items() if name not in gone}
    mass = mass_of(after, unit)
    if mass is not None and ("mass_g" not in after or (assumed and key != "mass_g")):
        gone["mass_g"] = plain_number(mass)
    return {name: one for name, one in gone.items() if {**before, key: value}.get(name) != one}


def _shape(lot: Mapping[str, Any]) -> Shape | None:
    """The shape, as it was given, or the only one that has all these sides."""
    if "shape" in lot:
        return Shape(lot["shape"]) if lot["shape"] in set(Shape) else None
    given = {side for side in SIDES if side in lot}
    fitting = [shape for shape, sides in DIMENSIONS.items() if sides and set(sides) == given]
    return fitting[0] if len(fitting) == 1 else None


def _lengths(value: object, unit: str) -> list[float]:
    """Readings in mm.

    Raises:
        ValueError: one of them cannot be read, or there is none.
    """
    if isinstance(value, list):
        return [length for one in value for length in _lengths(one, unit)]
    if isinstance(value, dict):
        return [length for one in value.values() for length in _lengths(one, unit)]
    try:
        return [read_length(value, unit)]
    except LengthError as error:
        raise ValueError(str(error)) from error
