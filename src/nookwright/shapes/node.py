"""What all recipes have in common: numbers on the grid, rules that refuse, a digest that names the tree.

A recipe is a tree of frozen nodes. Its numbers lie on ``tolerances.GRID``, so that two ways to calculate
one size give one shape, and so that flush faces are flush. The digest is the sha256 of a canonical text of
the tree: by it two recipes are equal, a kernel caches, and the kit names a piece.
"""

from __future__ import annotations

import json
import math
from dataclasses import dataclass, fields
from functools import cached_property
from typing import NoReturn

from nookwright.ground import tolerances
from nookwright.ground.digest import digest
from nookwright.ground.errors import RecipeError

_decimals = round(-math.log10(tolerances.GRID))


def snapped(value: float) -> float:
    """A length on the grid of recipes, never minus zero.

    >>> snapped(0.1 + 0.2), snapped(-1e-9)
    (0.3, 0.0)
    """
    return round(float(value), _decimals) + 0.0


def steps(value: float) -> int:
    """A length as a whole number of grid steps, for decisions in exact arithmetic.

    >>> steps(0.3)
    3000
    """
    return round(value / tolerances.GRID)


def refuse(subject: str, rule: str, *, found: object, allowed: str) -> NoReturn:
    """Say that a shape cannot be made.

    Args:
        subject: the node, such as ``Rect``.
        rule: what it must obey, as a sentence without its full stop.
        found: the value that breaks the rule.
        allowed: the values that would not.

    Raises:
        RecipeError: always.
    """
    raise RecipeError(f"{subject}: {rule}; found {found}, allowed: {allowed}")


@dataclass(frozen=True, eq=False)
class Node:
    """One node of a recipe."""

    def __post_init__(self) -> None:
        for field in fields(self):
            value = getattr(self, field.name)
            object.__setattr__(self, field.name, self._tidied(field.name, field.type, value))
        self._validate()

    @property
    def kind(self) -> str:
        """The name of the kind of node, as messages say it."""
        return type(self).__name__

    @cached_property
    def digest(self) -> str:
        """The sha256 that names this tree; equal trees, and only they, have the same."""
        parts = (f"{field.name}={_canonical(getattr(self, field.name))}" for field in fields(self))
        return digest(f"{self.kind}({','.join(parts)})")

    def __eq__(self, other: object) -> bool:
        return self.digest == other.digest if isinstance(other, Node) else NotImplemented

    def __hash__(self) -> int:
        return hash(self.digest)

    def _validate(self) -> None:
        """Refuse what cannot be made; the numbers are on the grid already."""

    def _tidied(self, name: str, annotation: object, value: object) -> object:
        if annotation == "int":
            return self._turns(name, value)
        if isinstance(value, bool):
            refuse(self.kind, f"{name} is a number", found=value, allowed="a length in mm")
        if isinstance(value, int | float):
            if not math.isfinite(value):
                refuse(self.kind, f"{name} is finite", found=value, allowed="a length in mm")
            return snapped(value)
        if isinstance(value, tuple | list):
            return tuple(self._tidied(name, None, entry) for entry in value)
        if isinstance(value, Node | str):
            return value
        return refuse(
            self.kind,
            f"{name} is a length, a name or a shape",
            found=value,
            allowed="float, str, Node, tuple",
        )

    def _turns(self, name: str, value: object) -> int:
        """Quarter turns, which repeat after four."""
        if not isinstance(value, int) or isinstance(value, bool):
            refuse(
                self.kind,
                f"{name} is a whole number",
                found=value,
                allowed="quarter turns, counter-clockwise",
            )
        return value % 4

    def _require_positive(self, **sizes: float) -> None:
        for name, size in sizes.items():
            if size <= 0:
                refuse(self.kind, f"{name} is positive", found=size, allowed=f"at least {tolerances.GRID:g}")

    def _require_some(self, **groups: tuple[object, ...]) -> None:
        for name, group in groups.items():
            if not group:
                refuse(self.kind, f"{name} holds something", found="nothing", allowed="one or more")


def _canonical(value: object) -> str:
    if isinstance(value, Node):
        return value.digest
    if isinstance(value, tuple):
        return f"[{','.join(_canonical(entry) for entry in value)}]"
    return json.dumps(value)
