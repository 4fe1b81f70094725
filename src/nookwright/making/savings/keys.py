"""Keys of a room file that a saving changes: as lines to type, and tried on a loaded room."""

from __future__ import annotations

import json
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable

    from nookwright.ground.frozen import Model
    from nookwright.survey.models import Room, Space

Value = str | bool | float


class Table(StrEnum):
    """A table of the room file."""

    MODULE = "module"
    CHOICES = "choices"
    CHOICES_TRAY = "choices.tray"
    SPACE = "space"
    LOT = "lot"
    LOT_TRAY = "lot.tray"

    @property
    def listed(self) -> bool:
        """Whether there are several of it, told apart by their id."""
        return self in (Table.SPACE, Table.LOT, Table.LOT_TRAY)


@dataclass(frozen=True)
class Key:
    """One key with the value that it is to have.

    Attributes:
        table: where it stands.
        name: of the key.
        value: as the room model holds it; a word of a choice as its enum.
        of: id of the space or lot whose table it is.
    """

    table: Table
    name: str
    value: Value
    of: str = ""

    @property
    def place(self) -> tuple[str, str, str]:
        """Which key it is, whatever its value."""
        return self.table, self.of, self.name

    @property
    def line(self) -> str:
        """The key with its value."""
        return f"{self.name} = {_typed(self.value)}"

    @property
    def where(self) -> str:
        """Which table it stands in, for people: ``space wide: ``, ``choices: ``."""
        outer, _, inner = self.table.partition(".")
        words = (outer, self.of, inner) if self.table.listed else (self.table,)
        return " ".join(filter(None, words)) + ": "

    @property
    def toml(self) -> str:
        """The key under the head of its table; the id says which of several it is."""
        if not self.table.listed:
            return f"[{self.table}]\n{self.line}"
        outer, _, inner = self.table.partition(".")
        head = f"[[{outer}]]\nid = {_typed(self.of)}"
        return f"{head}\n\n[{outer}.{inner}]\n{self.line}" if inner else f"{head}\n{self.line}"


def _typed(value: Value) -> str:
    """A value as TOML has it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    return json.dumps(str(value), ensure_ascii=False) if isinstance(value, str) else f"{value:g}"


def applied(room: Room, keys: Iterable[Key]) -> Room:
    """The room with these keys.

    Args:
        room: as surveyed.
        keys: to be changed.
    """
    for key in keys:
        outer, _, inner = key.table.partition(".")
        if key.table.listed:
            models = getattr(room, outer)
            several = tuple(_with(one, inner, key) if one.id == key.of else one for one in models)
            room = room.model_copy(update={outer: several})
        else:
            room = room.model_copy(update={outer: _with(getattr(room, outer), inner, key)})
    return room


def for_spaces(spaces: Collection[Space], some: Collection[str], name: str, value: Value) -> tuple[Key, ...]:
    """A key for some spaces: that of the room where all that follow it change, and the own key of each other one.

    Args:
        spaces: all that the key has a meaning for.
        some: ids of those that change.
        name: of the key, the same in ``[choices]`` and ``[[space]]``.
        value: that it is to have.
    """
    followers = {one.id for one in spaces if getattr(one, name) is None}
    whole = bool(followers) and followers <= set(some)
    own = [one.id for one in spaces if one.id in some and not (whole and one.id in followers)]
    room = (Key(Table.CHOICES, name, value),) if whole else ()
    return (*room, *(Key(Table.SPACE, name, value, of) for of in own))


def _with(model: Model, inner: str, key: Key) -> Model:
    """A table with a key, or with one in the table inside it."""
    if inner:
        return model.model_copy(update={inner: _with(getattr(model, inner), "", key)})
    return model.model_copy(update={key.name: key.value})
