"""Whether a household changes its module: what is printed or published stays, unless another one saves much.

What another module saves is set against what it gives up: with another pitch nothing that is printed seats any more or
swaps with anything new; with another rise all still seat and swap, only rims no longer come level.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.choice.judging import S_PER_H

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.module.choice.judging import ModuleRow

CHANGE_PERCENT = Fact(
    5.0,
    unit="%",
    kind=Kind.CHOICE,
    source="Of floor or grams in the whole household; less is not worth a foreign part.",
)


class Dimension(StrEnum):
    """Which half of a module is decided."""

    PITCH = "pitch"
    RISE = "rise"


@dataclass(frozen=True)
class Change:
    """What the best row would do against the one that is kept, and whether it is worth it.

    Attributes:
        dimension: pitch or rise.
        kept: the row of what is printed, published or started from.
        best: the row that is judged best, which may be the same.
        percent: what it must save of floor or grams.
    """

    dimension: Dimension
    kept: ModuleRow
    best: ModuleRow
    percent: float

    @property
    def floor_percent(self) -> float:
        """Floor that the best one saves, in percent; less than nothing where it takes more."""
        return _percent(self.kept.floor_dm2, self.best.floor_dm2)

    @property
    def grams_percent(self) -> float:
        """Plastic that it saves, in percent."""
        return _percent(self.kept.mass_g, self.best.mass_g)

    @property
    def worth_it(self) -> bool:
        """Whether it is taken: it finds a home for more lots, or saves more than was asked of floor or grams."""
        if self.best is self.kept:
            return False
        if self.best.homeless != self.kept.homeless:
            return self.best.homeless < self.kept.homeless
        return max(self.floor_percent, self.grams_percent) > self.percent

    @property
    def chosen(self) -> ModuleRow:
        """The row that the household gets."""
        return self.best if self.worth_it else self.kept

    @property
    def again_g(self) -> float:
        """Plastic of what would have to be printed again to swap with what is new, where all of it is printed, g."""
        return self.kept.mass_g if self.dimension is Dimension.PITCH and self.best is not self.kept else 0.0

    @property
    def loss(self) -> str:
        """What a change gives up, in words."""
        if self.best is self.kept:
            return "nothing: what is there is judged best"
        if self.dimension is Dimension.RISE:
            return "what is printed still seats and swaps, but its rims no longer come level with new ones"
        hours = self.kept.time_s / S_PER_H
        return (
            "nothing printed seats or swaps any more: liner, trays and cradles again, up to "
            f"{self.again_g:.0f} g and {hours:.0f} h"
        )

    @property
    def said(self) -> str:
        """The decision and its reason, in a sentence without its end."""
        name = self.dimension.value
        kept, best = getattr(self.kept, name), getattr(self.best, name)
        if self.best is self.kept:
            return f"{name} {kept:g} stays: none of those tried is judged better"
        if self.best.homeless < self.kept.homeless:
            more = self.kept.homeless - self.best.homeless
            return f"{name} {best:g} instead of {kept:g}: {more} lots more find room"
        what = f"{_saved(self.floor_percent, 'floor')} and {_saved(self.grams_percent, 'plastic')}"
        if self.worth_it:
            return f"{name} {best:g} instead of {kept:g}: {what}, over the {self.percent:g} % that a change must save"
        return f"{name} {kept:g} stays: {best:g} {what}, under the {self.percent:g} % that a change must save"


def change(dimension: Dimension, rows: Sequence[ModuleRow], kept: float, percent: float = CHANGE_PERCENT) -> Change:
    """The best row against the kept one.

    Args:
        dimension: pitch or rise.
        rows: that were judged, the kept one among them.
        kept: its pitch or rise, mm.
        percent: what a change must save of floor or grams.
    """
    mine = next(row for row in rows if getattr(row, dimension.value) == kept)
    return Change(dimension, mine, min(rows, key=lambda row: row.rank), percent)


def _percent(before: float, after: float) -> float:
    """What is saved of something, in percent."""
    return 100 * (before - after) / before if before else 0.0


def _saved(percent: float, what: str) -> str:
    if round(percent, 1) == 0:
        return f"saves no {what}" if what == "floor" else f"no {what}"
    if percent < 0:
        return f"takes {-percent:.1f} % more {what}"
    return f"saves {percent:.1f} % of the {what}"
