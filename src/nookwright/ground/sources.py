"""Numbers that decide something, each with its unit, its reason and its source.

A number of the trade or of a standard is written once, as a module constant::

    PLA_DENSITY_G_CM3 = Fact(1.24, unit="g/cm3", kind=Kind.HANDBOOK, source="ISO 1183 figure of several data sheets")

It is a ``float`` in every respect, so formulas stay readable. ``facts_of`` finds all of them again; the table in the
docs is made that way, and a test finds module constants without a source.
"""

from __future__ import annotations

import importlib
import pkgutil
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Self

if TYPE_CHECKING:
    from types import ModuleType


class Kind(StrEnum):
    """Where a number comes from."""

    STANDARD = "standard"
    HANDBOOK = "handbook"
    CALCULATED = "calculated"
    MEASURED = "measured"
    COMMON_PRACTICE = "common practice, no source"
    MEMORY = "from memory"
    CHOICE = "our choice"


class Fact(float):
    """A float that knows its unit, its source and why it is what it is."""

    unit: str
    kind: Kind
    source: str

    def __new__(cls, value: float, *, unit: str, kind: Kind, source: str) -> Self:
        """Make one.

        Args:
            value: the number.
            unit: its unit, ``mm`` for lengths, ``1`` for pure numbers.
            kind: standard, handbook, calculated, measured, common practice, from memory, our choice.
            source: the document, calculation or reason, in one sentence.
        """
        self = super().__new__(cls, value)
        self.unit, self.kind, self.source = unit, kind, source
        return self

    def __getnewargs_ex__(self) -> tuple[tuple[float], dict[str, object]]:
        return (float(self),), {"unit": self.unit, "kind": self.kind, "source": self.source}


@dataclass(frozen=True, order=True)
class FactRow:
    """One row of the table of facts: where it stands, its name, and the fact."""

    module: str
    name: str
    value: float
    unit: str
    kind: Kind
    source: str


def facts_of(package: ModuleType) -> tuple[FactRow, ...]:
    """All facts that stand as constants in the modules of a package, in order of module and name."""
    rows = []
    for info in pkgutil.walk_packages(package.__path__, package.__name__ + "."):
        if info.name.endswith("__main__"):
            continue
        module = importlib.import_module(info.name)
        rows += [
            FactRow(info.name, name, float(value), value.unit, value.kind, value.source)
            for name, value in vars(module).items()
            if isinstance(value, Fact) and name.isupper() and vars(module).get("__name__") == info.name
        ]
    return tuple(sorted(rows))
