"""Readings as a person takes them, as types of the room's models.

A length is a number in the file's unit or a text such as ``"36.2 cm"``. Readings are one length, a list of lengths, or
a table with ``floor`` and ``rim``; each of those a length or a list. Those of a space's sides may also name heights in
between. Validation turns all of them into millimetres.

The file's unit comes in as the context of the validation, ``{"unit": "cm"}``; without a context a number is in mm, so
that models made by the program itself stay as they are. Defaults of the models are in mm whatever the file's unit is.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

from pydantic import BeforeValidator, Field, ValidationInfo, model_validator

from nookwright.ground.frozen import Model
from nookwright.ground.lengths import read_length
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from pydantic import GetJsonSchemaHandler
    from pydantic_core import CoreSchema

LONGEST = Fact(
    100_000,
    unit="mm",
    kind=Kind.CHOICE,
    source="A length in a room of more than 100 m is a slip of the unit or of a digit.",
)
SHORTEST = Fact(
    0.01, unit="mm", kind=Kind.CHOICE, source="A tenth of a sheet of paper; nothing thinner is measured in a workshop."
)


def _to_mm(typed: object, info: ValidationInfo) -> float:
    """The length in mm, by the unit that the context names."""
    unit = info.context.get("unit", "mm") if isinstance(info.context, dict) else "mm"
    return read_length(typed, unit)


Length = Annotated[
    float,
    BeforeValidator(_to_mm, json_schema_input_type=float | str),
    Field(le=float(LONGEST), validate_default=False),
]
LengthFromZero = Annotated[  # may stand beside None in a union
    float,
    BeforeValidator(_to_mm, json_schema_input_type=float | str),
    Field(ge=0, le=float(LONGEST)),
]
LengthEitherWay = Annotated[  # the same, where a sign tells which way
    float,
    BeforeValidator(_to_mm, json_schema_input_type=float | str),
    Field(ge=-float(LONGEST), le=float(LONGEST)),
]
PositiveLength = Annotated[
    float,
    BeforeValidator(_to_mm, json_schema_input_type=float | str),
    Field(ge=float(SHORTEST), le=float(LONGEST)),
]


class Readings(Model):
    """What was measured of one dimension, in mm: at the floor, and also at the rim where that was read apart."""

    floor: tuple[PositiveLength, ...] = Field(min_length=1, description="Readings at the floor, or the only ones.")
    rim: tuple[PositiveLength, ...] = Field(default=(), description="Readings at the rim, where they were taken.")

    @model_validator(mode="before")
    @classmethod
    def _as_table(cls, typed: Any) -> Any:  # noqa: ANN401 - whatever a file holds
        """Turn one length or a list of them into the table."""
        if isinstance(typed, cls):
            return typed
        if not isinstance(typed, dict):
            return {"floor": _as_list(typed)}
        return {key: _listed(key, value) if key in cls.model_fields else value for key, value in typed.items()}

    @property
    def all(self) -> tuple[float, ...]:
        """Every reading, in mm."""
        return self.floor + self.rim

    @property
    def smallest(self) -> float:
        """The smallest reading, in mm."""
        return min(self.all)

    @property
    def largest(self) -> float:
        """The largest reading, in mm."""
        return max(self.all)

    @classmethod
    def __get_pydantic_json_schema__(cls, core_schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """Describe all the ways in which readings may be typed."""
        length = {"anyOf": [{"type": "number", "exclusiveMinimum": 0}, {"type": "string", "minLength": 1}]}
        lengths = {"type": "array", "items": length, "minItems": 1}
        either = {"anyOf": [*length["anyOf"], lengths]}
        described = handler.resolve_ref_schema(handler(core_schema))
        by_height = {"type": "object", "additionalProperties": either, "minProperties": 1}
        properties = {
            name: {
                "description": described["properties"][name]["description"],
                **(by_height if name == "at" else either),
            }
            for name in cls.model_fields
        }
        table = {"type": "object", "properties": properties, "required": ["floor"], "additionalProperties": False}
        described.clear()
        described.update(
            {"title": cls.__name__, "description": "Readings of one dimension.", "anyOf": [*either["anyOf"], table]}
        )
        return described


class Published(Readings):
    """What a standard allows of one dimension, in mm: no thing is larger than the largest."""


class SideReadings(Readings):
    """What was measured of the width or depth of a space, in mm: at the floor, at heights above it, at the rim."""

    at: dict[PositiveLength, Annotated[tuple[PositiveLength, ...], Field(min_length=1)]] = Field(
        default_factory=dict, description="Readings at heights between floor and rim: at = { 20 = [361.2, 361.0] }."
    )

    @property
    def all(self) -> tuple[float, ...]:
        """Every reading, in mm."""
        return self.floor + tuple(one for height in sorted(self.at) for one in self.at[height]) + self.rim

    def levels(self, rim: float) -> tuple[tuple[float, tuple[float, ...]], ...]:
        """Height above the floor and readings, from the floor up.

        Args:
            rim: height at which what was read at the rim counts, mm.
        """
        found = {0.0: self.floor, **{height: self.at[height] for height in sorted(self.at)}}
        if self.rim:
            found[rim] = self.rim
        return tuple(sorted(found.items()))


def _listed(key: str, typed: object) -> object:
    """Readings as lists; those at heights are a table of them."""
    if key == "at" and isinstance(typed, dict):
        return {height: _as_list(one) for height, one in typed.items()}
    return typed if key == "at" else _as_list(typed)


def _as_list(typed: object) -> tuple[object, ...]:
    """One reading as a list of one."""
    return tuple(typed) if isinstance(typed, list | tuple) else (typed,)
