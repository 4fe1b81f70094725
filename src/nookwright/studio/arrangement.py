"""Moving parts by hand: what may go where, at once and in words.

Promise: an arrangement never has two parts on one cell, a part on a blocked cell or outside its space, or one that is
too tall for it; what cannot be done is refused with the reason and changes nothing. What it does not know: loads and
costs; the next plan says them. The same rules stand in ``web/plan/index.js`` for what is under a hand; a test holds
the two together.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Self

from nookwright.studio.sheets import Item

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.studio.sheets import Footprint, Sheet, Sheets


class RefusedError(ValueError):
    """A gesture that cannot be done; the message says why, for the person."""


class TakenError(RefusedError):
    """Something is in the way just there; another place of the same space may do."""


@dataclass(frozen=True)
class Arrangement:
    """What stands where while somebody moves it.

    Attributes:
        sheets: the plan that it began with.
        items: all parts as they stand now.
        touched: ids of spaces that are no longer as they were planned.
    """

    sheets: Sheets
    items: tuple[Item, ...]
    touched: frozenset[str] = frozenset()

    @classmethod
    def of(cls, sheets: Sheets) -> Self:
        """As it was planned."""
        return cls(sheets, sheets.items)

    def item(self, name: str) -> Item:
        """A part by its id.

        Raises:
            RefusedError: there is none.
        """
        for one in self.items:
            if one.id == name:
                return one
        raise RefusedError(f"There is no part {name} in this plan any more.")

    def moved(self, name: str, space: str, col: int, row: int) -> Arrangement:
        """With a part in another place, of another space if it may be there.

        Raises:
            RefusedError: it cannot stand there.
        """
        return self._put(self.item(name), space=space, col=col, row=row)

    def turned(self, name: str) -> Arrangement:
        """With a part turned by 90 degrees about its front left corner.

        Raises:
            RefusedError: it may not be turned, or does not fit so.
        """
        one = self.item(name)
        return self._put(one, cols=one.rows, rows=one.cols)

    def resized(self, name: str, cols: int, rows: int) -> Arrangement:
        """With a part of another size; its front left corner stays.

        Raises:
            RefusedError: its things would not go in, or it does not fit so.
        """
        return self._put(self.item(name), cols=cols, rows=rows)

    def raised(self, name: str, height: float) -> Arrangement:
        """With a part of another height.

        Args:
            name: its id.
            height: a whole number of rises, mm.

        Raises:
            RefusedError: its things would not be held, or could not be taken out, or it is too high there.
        """
        one = self.item(name)
        wanted = next((two for two in self.sheets.lots if two.lot == one.lot), None)
        if wanted is None:
            raise RefusedError(f"{one.name} holds no lot: its height is the tool's.")
        least = min(size.height for size in wanted.sizes)
        if height < least:
            raise RefusedError(f"{one.name} must be at least {least:g} mm high.")
        most = max(math.inf if size.most is None else size.most for size in wanted.sizes if size.height <= height)
        if height > most:
            most = least + (most - least) // self.sheets.rise * self.sheets.rise
            raise RefusedError(f"{one.name} may be {most:g} mm high: higher, nothing could be taken out of it.")
        tall = max(height, min(size.tall for size in wanted.sizes if size.height <= height))
        return self._put(one, height=height, tall=tall)

    def swapped(self, name: str, other: str) -> Arrangement:
        """With two parts in each other's places, corner for corner.

        Raises:
            RefusedError: one of them does not fit there.
        """
        one, two = self.item(name), self.item(other)
        for each in (one, two):
            _refuse_fixed(each)
        if one == two:
            return self
        return self._without({name, other}).with_both(
            _at(one, space=two.space, col=two.col, row=two.row), _at(two, space=one.space, col=one.col, row=one.row)
        )

    def placed(self, lot: str, space: str, col: int, row: int) -> Arrangement:
        """With a lot that had no place, in its handiest part that fits there.

        Raises:
            RefusedError: none of its parts fits there.
        """
        wanted = next((one for one in self.sheets.lots if one.lot == lot), None)
        if wanted is None or any(one.lot == lot for one in self.items):
            raise RefusedError("It has a place already, or no part can hold it.")
        reasons: list[str] = []
        for size in wanted.sizes:
            for cols, rows in _lyings(size):
                new = Item(
                    id=lot, lot=lot, name=wanted.name, kind="tray", space=space, col=col, row=row, cols=cols,
                    rows=rows, height=size.height, tall=size.tall, mass_g=0.0,
                )  # fmt: skip
                try:
                    return self.with_new(new)
                except RefusedError as error:
                    reasons.append(str(error))
        raise RefusedError(reasons[0])

    def stays(self, name: str, *, stays: bool) -> Arrangement:
        """With a part that stays where it is, or need not."""
        one = self.item(name)
        _refuse_fixed(one)
        items = tuple(_at(two, stays=stays) if two.id == name else two for two in self.items)
        return Arrangement(self.sheets, items, self.touched | {one.space})

    def in_space(self, space: str) -> tuple[Item, ...]:
        """What stands in a space."""
        return tuple(one for one in self.items if one.space == space)

    def _put(self, one: Item, **changes: object) -> Arrangement:
        """With a part changed, if it can stand so."""
        _refuse_fixed(one)
        new = _at(one, **changes)
        if new == one:
            return self
        return self._without({one.id}, one.space).with_new(new)

    def with_both(self, one: Item, other: Item) -> Arrangement:
        """With two more parts, if both can stand so.

        Raises:
            RefusedError: one of them cannot stand there.
        """
        return self.with_new(one).with_new(other)

    def with_new(self, new: Item) -> Arrangement:
        """With one more part, if it can stand so; what merely fills gives way.

        Raises:
            RefusedError: it cannot stand there.
        """
        sheet = next((one for one in self.sheets.spaces if one.id == new.space), None)
        if sheet is None:
            raise RefusedError("Nothing can stand there: it is no floor.")
        self._refuse(new, sheet)
        here = [one for one in self.items if one.space == new.space and _overlap(one, new)]
        for one in here:
            if one.lot and not one.level:
                raise TakenError(f"{new.name} overlaps {one.name}: letting go here puts it back.")
        gone = {one.id for one in here if not one.lot}
        items = (*(one for one in self.items if one.id not in gone), new)
        items = tuple(sorted(items, key=lambda one: (one.space, one.row, one.col, one.level)))
        return Arrangement(self.sheets, items, self.touched | {new.space})

    def _without(self, names: set[str], *spaces: str) -> Arrangement:
        """Without some parts."""
        left = {one.space for one in self.items if one.id in names}
        items = tuple(one for one in self.items if one.id not in names)
        return Arrangement(self.sheets, items, self.touched | left | set(spaces))

    def _refuse(self, new: Item, sheet: Sheet) -> None:
        """Refuse what a space does not allow, whatever else stands there.

        Raises:
            RefusedError: with the reason.
        """
        if new.cols < 1 or new.rows < 1:
            raise RefusedError(f"{new.name} needs at least one cell.")
        if new.col < 0 or new.row < 0 or new.col + new.cols > sheet.cols or new.row + new.rows > sheet.rows:
            raise RefusedError(f"{new.name} would stand out of {sheet.name}.")
        if any(_covers(new, col, row) for col, row in sheet.blocked):
            raise TakenError(f"{new.name} would stand where {sheet.name} is blocked.")
        if new.tall > sheet.height:
            raise RefusedError(
                f"{new.name} needs {new.tall:.0f} mm of height, and {sheet.height:.0f} mm are clear in {sheet.name}."
            )
        wanted = next((one for one in self.sheets.lots if one.lot == new.lot), None)
        if wanted is None:
            return
        if reason := wanted.refused.get(sheet.id):
            raise RefusedError(f"{new.name} may not go to {sheet.name}: {reason}.")
        if not any(_holds(new, size) for size in wanted.sizes):
            raise RefusedError(f"{new.name} needs more: at least {_least(wanted.sizes, self.sheets)}.")


def _refuse_fixed(item: Item) -> None:
    """Refuse to move what has no place of its own.

    Raises:
        RefusedError: it stands on another tray, or merely fills.
    """
    if item.level:
        raise RefusedError(f"{item.name} stands on another tray. Move the one below.")
    if not item.lot:
        raise RefusedError(f"{item.name} fills what is left: move a part there, and it gives way.")


def _at(item: Item, **changes: object) -> Item:
    """A part with something changed."""
    return item.model_copy(update=changes)


def _overlap(one: Item, other: Item) -> bool:
    """Whether two parts of one space cover a cell both."""
    return (
        one.col < other.col + other.cols
        and other.col < one.col + one.cols
        and one.row < other.row + other.rows
        and other.row < one.row + one.rows
    )


def _covers(item: Item, col: int, row: int) -> bool:
    """Whether a part covers a cell."""
    return item.col <= col < item.col + item.cols and item.row <= row < item.row + item.rows


def _lyings(size: Footprint) -> Iterable[tuple[int, int]]:
    """A size, and turned if it may be."""
    return dict.fromkeys([(size.cols, size.rows), *([(size.rows, size.cols)] if size.may_turn else [])])


def _holds(item: Item, size: Footprint) -> bool:
    """Whether a part of this height is at least as large as a size."""
    if size.height > item.height:
        return False
    return any(item.cols >= cols and item.rows >= rows for cols, rows in _lyings(size))


def _least(sizes: tuple[Footprint, ...], sheets: Sheets) -> str:
    """The sizes that would do, in millimetres."""
    found = dict.fromkeys(
        f"{one.cols * sheets.pitch - sheets.gap:.0f} x {one.rows * sheets.pitch - sheets.gap:.0f} mm" for one in sizes
    )
    return " or ".join(list(found)[:3])
