"""The keys of a part that is made to order, from the data that the part is made from.

Every kind of part is made from one frozen record. Here the record becomes a strict model for the room file: unknown
keys are refused, lengths may be typed as people do, a choice among records is told apart by its key ``shape``. What the
record counts in cells, a person gives in mm: ``outer_width`` for ``cols``, ``outer_depth`` for ``rows``,
``outer_length`` for ``cells``; the part gets the next whole number of cells.
"""

from __future__ import annotations

import dataclasses
import sys
import types
from functools import cache
from typing import TYPE_CHECKING, Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from pydantic import BeforeValidator, Field, ValidationInfo, create_model

from nookwright.ground.frozen import Model
from nookwright.ground.lengths import read_length
from nookwright.ground.sources import Fact, Kind
from nookwright.module.seat import outer_size
from nookwright.parts.refusals import refuse_part

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.module.module import Module

CELL_KEYS = {"cols": "outer_width", "rows": "outer_depth", "cells": "outer_length"}
LONGEST_ORDERED = Fact(
    2000.0, unit="mm", kind=Kind.CHOICE, source="No drawer or bay is so long: beyond it a digit or the unit slipped."
)
MOST_RISES = Fact(
    300, unit="1", kind=Kind.CHOICE, source="Nearly two metres in steps of 6 mm: beyond it a digit slipped, as above."
)
MOST_OF_ONE = Fact(
    1000, unit="1", kind=Kind.CHOICE, source="Pockets, slots or rows in one part: beyond it a digit slipped too."
)
NOT_LENGTHS = ("_deg", "_g", "_n", "_s", "share", "taper", "power")


def model_of(spec: type, names: Mapping[str, Any], kinds: Mapping[type, tuple[type, ...]]) -> type[Model]:
    """The model of a record.

    Args:
        spec: a frozen dataclass.
        names: what its annotations may name besides what its module defines.
        kinds: for a base class, the records that stand for it.
    """
    return _Maker(names, kinds).model(spec)


def spec_of(value: Model, spec: type, module: Module) -> Any:  # noqa: ANN401 - an instance of ``spec``
    """The record of a model's values, cells counted.

    Args:
        value: a model made by ``model_of``.
        spec: the record's class.
        module: the household's module.
    """
    given = value.model_fields_set  # what was left out keeps the record's own default
    values = {}
    for name in (field.name for field in dataclasses.fields(spec)):
        key = CELL_KEYS.get(name, name)
        if key in given:
            typed = getattr(value, key)
            values[name] = cells_for(typed, module) if name in CELL_KEYS else _plain(typed, module)
    return spec(**values)


def cells_for(length: float, module: Module) -> int:
    """The fewest cells whose part is at least so long.

    Args:
        length: outer size wanted, mm.
        module: the household's module.

    Raises:
        RecipeError: it is nothing, or less.
    """
    if not length > 0:
        refuse_part(
            "part to order", "its outer sizes are more than 0", found=f"{length:g}", allowed="more than 0",
            remedy="Say how large it shall be.",
        )  # fmt: skip
    cells = 1
    while outer_size(cells, module.pitch) < length:
        cells += 1
    return cells


def _plain(value: object, module: Module) -> object:
    """A value of a model as one of a record."""
    if isinstance(value, _OfSpec):
        return spec_of(value, type(value).spec_class, module)  # type: ignore[attr-defined] # set when it is made
    if isinstance(value, tuple):
        return tuple(_plain(item, module) for item in value)
    return value


def _to_mm(typed: object, info: ValidationInfo) -> float:
    """A length as typed, in mm, by the unit that the context names."""
    return read_length(typed, info.context.get("unit", "mm") if isinstance(info.context, dict) else "mm")


_Length = Annotated[
    float, BeforeValidator(_to_mm, json_schema_input_type=float | str), Field(le=float(LONGEST_ORDERED))
]


class _OfSpec(Model):
    """A model that knows its record."""


@dataclasses.dataclass(frozen=True)
class _Maker:
    names: Mapping[str, Any]
    kinds: Mapping[type, tuple[type, ...]]

    def model(self, spec: type, shape: str = "") -> type[Model]:
        own = vars(sys.modules[spec.__module__])  # two modules may have records of one name
        hints = get_type_hints(spec, localns={name: kind for name, kind in self.names.items() if name not in own})
        fields: dict[str, Any] = {"shape": (Literal[shape], ...)} if shape else {}
        for field in dataclasses.fields(spec):
            needed = field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING
            fields[CELL_KEYS.get(field.name, field.name)] = (
                self._type(field.name, hints[field.name]),
                Field(default=... if needed else None, validate_default=False),
            )
        made = create_model(spec.__name__, __base__=_OfSpec, **fields)
        made.spec_class = spec  # type: ignore[attr-defined] # the way back
        return made

    def _type(self, name: str, hint: Any) -> Any:  # noqa: ANN401 - types
        if name in CELL_KEYS:
            return _Length
        if hint is int:
            return Annotated[int, Field(le=int(MOST_RISES if name == "rises" else MOST_OF_ONE))]
        if hint is float:
            return float if name.endswith(NOT_LENGTHS) else _Length
        if dataclasses.is_dataclass(hint) and isinstance(hint, type) and hint not in self.kinds:
            return self.model(hint)
        return self._compound(name, hint)

    def _compound(self, name: str, hint: Any) -> Any:  # noqa: ANN401 - types
        """A choice among records, a list, a value that may be left out, or a type as it stands."""
        if hint in self.kinds:
            shapes = tuple(self.model(kind, shape_name(kind)) for kind in self.kinds[hint])
            return Annotated[Union[shapes], Field(discriminator="shape")]  # noqa: UP007 - made at run time
        if get_origin(hint) is tuple:
            return tuple[tuple(inner if inner is ... else self._type(name, inner) for inner in get_args(hint))]  # type: ignore[misc] # made at run time
        if get_origin(hint) in (Union, types.UnionType):
            return Union[tuple(self._type(name, inner) for inner in get_args(hint))]  # noqa: UP007 - made at run time
        return hint


@cache
def shape_name(kind: type) -> str:
    """What a record is called in the room file: its class in lower case with hyphens.

    >>> class BladeSlot: ...
    >>> shape_name(BladeSlot)
    'blade-slot'
    """
    return "".join(f"-{letter.lower()}" if letter.isupper() else letter for letter in kind.__name__).lstrip("-")
