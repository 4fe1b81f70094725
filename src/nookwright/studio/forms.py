"""The survey sheet as forms: which keys of a table a person is asked for, in which order, and how each is typed in.

What a key means stands in the models of the survey; its description is the help beside the field.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, StrEnum
from types import UnionType
from typing import TYPE_CHECKING, Any, Final, Literal, Union, get_args, get_origin

from nookwright.studio import typed_fields
from nookwright.survey.models import Blocked, Lot, Material, Printer, RoomHead, Space
from nookwright.survey.tray_wishes import TrayWishes

if TYPE_CHECKING:
    from collections.abc import Callable

    from pydantic import BaseModel

    from nookwright.studio.toml_values import Value


class Way(StrEnum):
    """How a field is filled in."""

    READINGS = "readings"  # one or several, maybe at several heights
    PLAIN = "plain"
    WORDS = "words"
    CHOICE = "choice"


@dataclass(frozen=True)
class Field:
    """One field of a form.

    Attributes:
        key: of the table in the room file.
        label: over the field.
        way: how it is filled in.
        help: what it is.
        choices: what may be chosen; the first one empty where nothing need be.
        length: whether what is typed are lengths.
        usual: what holds where nothing is chosen; empty where that goes by other things.
    """

    key: str
    label: str
    way: Way
    help: str
    choices: tuple[str, ...] = ()
    length: bool = False
    usual: str = ""

    def value(self, typed: str) -> Value | None:
        """What stands for it in the room file; ``None`` takes the key out.

        Args:
            typed: in the field.
        """
        if self.way is Way.CHOICE:
            return {"": None, "yes": True, "no": False}.get(typed, typed)
        read: dict[Way, Callable[[str], Value | None]] = {
            Way.READINGS: typed_fields.readings,
            Way.WORDS: typed_fields.words,
            Way.PLAIN: typed_fields.plain,
        }
        return read[self.way](typed)


_READINGS: Final = {"width", "depth", "height", "diameter", "thickness"}
LENGTHS: Final = {
    "floor_height", "bow", "corner_radius", "cove_radius", "mat", "out_of_square", "pulls_out", "nests_by", "bed_width",
    "bed_depth", "bed_height", "margin", "nozzle", "layer", "x", "y", "z", "inlay", "strip_height", "card", "below_rim",
}  # fmt: skip
_WORDS: Final = {"stands", "near", "materials", "diagonals", "opening"}
_SEVERAL: Final = "Several readings, with semicolons between them, find the narrowest place: 421.4; 421.1."
HELP: Final[dict[tuple[str, str], str]] = {
    ("space", "width"): f"Inside, from wall to wall. {_SEVERAL} At the rim, on a line of its own: rim: 422.",
    ("space", "depth"): "Inside, from the front to the back, likewise.",
    ("space", "height"): "From the floor up to what is lowest above it, along the whole way that a drawer travels.",
    ("blocked", "x"): "From the left wall.",
    ("blocked", "width"): "From left to right.",
    ("blocked", "depth"): "From front to back.",
    ("blocked", "height"): "Up to the top when left out.",
    ("lot", "standard"): "A published size instead of a shape, such as R6, A4 or M5: the list knows more.",
    ("lot", "shape"): "Or its shape; then the sides to measure appear. Several readings are better: 22; 22.3.",
    ("lot", "mass_g"): "Assumed from its size until you type what one weighs; known of a published size.",
}
FORMS: Final[dict[str, tuple[type[BaseModel], tuple[str, ...], tuple[str, ...]]]] = {
    "room": (RoomHead, ("name", "units"), ()),
    "space": (
        Space,
        ("name", "kind", "width", "depth", "height", "floor_height", "load_kg"),
        ("bow", "corner_radius", "cove_radius", "mat", "out_of_square", "diagonals", "instrument", "opening",
         "pulls_out", "children", "locked", "warm", "wet", "liner", "fillers", "rest",
         "odds_and_ends", "soft_close"),
    ),
    "blocked": (Blocked, ("reason", "x", "y", "width", "depth", "height", "service", "z"), ()),
    "lot": (
        Lot,
        ("name", "count", "standard", "shape", "width", "depth", "diameter", "height", "thickness", "mass_g", "use"),
        ("group", "stands", "keep", "made", "purpose", "grow_percent", "near", "hazard", "out_of_reach", "keep_cool",
         "keep_dry", "rough", "volume_ml", "nests_by", "floor", "shares", "box", "measured", "instrument"),
    ),
    "tray": (
        TrayWishes,
        ("front", "strip", "text", "grip", "inlay", "columns", "rows", "dividers"),
        ("low_share", "strip_height", "below_rim", "card", "drained"),
    ),
    "printer": (Printer, ("name", "bed_width", "bed_depth", "bed_height", "nozzle", "layer", "materials"), ("margin",)),
    "material": (Material, ("name", "colour", "density_g_cm3", "price_per_kg", "spool_g"), ()),
}  # fmt: skip


def form(table: str) -> tuple[tuple[Field, ...], tuple[Field, ...]]:
    """The fields of a table: those that everybody is asked for, and the others.

    Args:
        table: ``room``, ``space``, ``blocked``, ``lot``, ``printer`` or ``material``.
    """
    model, first, more = FORMS[table]
    one, other = (tuple(_field(model, key, table) for key in keys) for keys in (first, more))
    return one, other


def _field(model: type[BaseModel], key: str, table: str) -> Field:
    """The field of a key."""
    found = model.model_fields[key]
    choices = _choices(found.annotation)
    if choices:
        ways, options = Way.CHOICE, choices if found.is_required() else ("", *choices)
    else:
        several = table in {"space", "lot"} and key in _READINGS
        ways, options = Way.READINGS if several else Way.WORDS if key in _WORDS else Way.PLAIN, ()
    length = key in LENGTHS or key in _READINGS
    about = HELP.get((table, key), found.description or "")
    return Field(key, _label(key, length=length), ways, about, options, length, _usual(found.default, options))


def label_of(key: str) -> str:
    """What a form calls a key, without its unit; of a reading among several, what it is a reading of.

    >>> label_of("mass_g"), label_of("width.floor[2]"), label_of("blocked[1].x")
    ('mass of one', 'width', 'blocked 1, x')

    Args:
        key: behind the id of its table, as faults have it.
    """
    first, _, rest = key.partition(".")
    if first.startswith("blocked["):
        return f"blocked {first[8:-1]}, {label_of(rest)}" if rest else f"blocked {first[8:-1]}"
    if first == "tray" and rest:
        return f"tray, {label_of(rest)}"
    plain = first.partition("[")[0]
    return _label(plain, length=False).partition(",")[0].lower() if plain else key


def _label(key: str, *, length: bool) -> str:
    """A key in words, with its unit."""
    units = {"standard": "published size", "load_kg": "load, kg", "mass_g": "mass of one, g",
             "price_per_kg": "price of a kilogram",
             "spool_g": "a full spool, g", "density_g_cm3": "density, g/cm3", "volume_ml": "volume of one, ml",
             "grow_percent": "room to grow, %"}  # fmt: skip
    said = units.get(key, key.replace("_", " "))
    return said[0].upper() + said[1:] + (" (mm, cm, in)" if length else "")


def _usual(default: object, options: tuple[str, ...]) -> str:
    """What is chosen where nobody chooses, in the words of the choices."""
    said = "yes" if default is True else "no" if default is False else str(getattr(default, "value", default))
    return said if said in options else ""


def _choices(annotation: Any) -> tuple[str, ...]:  # noqa: ANN401 - any annotation
    """What a key may be, where that is a few words."""
    if isinstance(annotation, type) and issubclass(annotation, Enum):
        return tuple(str(one.value) for one in annotation)
    if annotation is bool:
        return "yes", "no"
    if get_origin(annotation) is Literal:
        return tuple(str(one) for one in get_args(annotation))
    if get_origin(annotation) in {Union, UnionType}:
        found = [_choices(one) for one in get_args(annotation) if one is not type(None)]
        return found[0] if len(found) == 1 else ()
    return ()


__all__ = ["FORMS", "Field", "Way", "form"]
