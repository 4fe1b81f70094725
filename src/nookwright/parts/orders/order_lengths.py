"""The lengths that an order of the room file says, each with where it stands, so that it can be said anew.

Promise: every length of an order that the part is made from is here once, in mm; so is one that was left out and has a
default of its own, where a table for it is there. What it does not know: how a part is drawn, and counts and choices.
"""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

from nookwright.ground.frozen import Model
from nookwright.parts.orders.order_models import CELL_KEYS, NOT_LENGTHS
from nookwright.parts.orders.orders import keys

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.survey.models import Order

Path = tuple[str | int, ...]


@dataclasses.dataclass(frozen=True)
class OrderLength:
    """One length of an order.

    Attributes:
        path: of its key, below ``keys``.
        name: for people.
        value: mm.
    """

    path: Path
    name: str
    value: float


def lengths_of(order: Order, unit: str) -> tuple[OrderLength, ...]:
    """All lengths of an order, in the order of the reference of parts.

    Args:
        order: of a kind that is known.
        unit: of its plain numbers.

    Raises:
        ValidationError: its keys are not those of its kind.
    """
    return tuple(OrderLength(path, _name(path), value) for path, value in _walked(keys(order, unit), ()))


def _walked(value: object, path: Path) -> Iterator[tuple[Path, float]]:
    """Every length at or below a value, with its path."""
    if isinstance(value, Model):
        for key, one in _fields(value):
            if not (isinstance(one, float) and key.endswith(NOT_LENGTHS)):
                yield from _walked(one, (*path, key))
    elif isinstance(value, tuple):
        for number, one in enumerate(value):
            yield from _walked(one, (*path, number))
    elif isinstance(value, float):
        yield path, value


def _fields(value: Model) -> Iterator[tuple[str, Any]]:
    """The keys of a table with what they say, or what holds where they say nothing."""
    spec: type = getattr(type(value), "spec_class")  # noqa: B009 - set when the model is made
    usual = {CELL_KEYS.get(one.name, one.name): one.default for one in dataclasses.fields(spec)}
    for key in type(value).model_fields:
        if key in value.model_fields_set:
            yield key, getattr(value, key)
        elif key not in CELL_KEYS.values() and isinstance(default := usual.get(key), float):
            yield key, float(default)


def _name(path: Path) -> str:
    """What a person would call it: the entry of a list that it belongs to, and its own key.

    >>> _name(("pockets", 0, "pocket", "diameter")), _name(("options", "strip_height")), _name(("dowels_at", 1))
    ('pocket 1, diameter', 'strip height', 'dowels at 2')
    """
    words: list[str] = []
    for place, step in enumerate(path):
        following = path[place + 1] if place + 1 < len(path) else None
        if isinstance(step, str) and isinstance(following, int):
            last = place + 2 == len(path)
            words.append(f"{step if last else step.removesuffix('s')} {following + 1}")
        elif isinstance(step, str) and following is None:
            words.append(step)
    return ", ".join(words).replace("_", " ")
