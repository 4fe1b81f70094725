"""Rows laid again and again while they are changed: a row that stayed what and where it was is not worked out anew."""

from __future__ import annotations

from dataclasses import replace
from operator import attrgetter
from typing import TYPE_CHECKING, NamedTuple

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.calm.rows import row_spans
from nookwright.layout.rules import passes
from nookwright.module.seat import outer_size

if TYPE_CHECKING:
    from nookwright.layout.calm.rows import Field, Row, Rows, Span
    from nookwright.layout.calm.terms import Terms
    from nookwright.layout.model import Placed

KEPT = Fact(4_000, unit="rows", kind=Kind.CHOICE, source="Rows in their places that are remembered: some megabytes.")
_ORDER = attrgetter("row", "col")


class Lies(NamedTuple):
    """How some rows lie.

    Attributes:
        spans: every part as the rows see it, row by row.
        placed: the parts in the space, sorted.
        passes: whether every part passes the opening of the space.
    """

    spans: tuple[Span, ...]
    placed: tuple[Placed, ...]
    passes: bool


class Laying:
    """Lays rows of one space; parts of rows that did not change are the same objects again."""

    def __init__(self, field: Field, terms: Terms) -> None:
        """Get ready.

        Args:
            field: the space.
            terms: what a cell is.
        """
        self.field, self.terms = field, terms
        self._known: dict[tuple[int, int, int], tuple[Row, Lies | None]] = {}  # the row is held, so it stays its own

    def lay(self, rows: Rows) -> Lies | None:
        """Where everything lies; ``None`` if it does not fit.

        Args:
            rows: the rows.
        """
        over = self.field.deep - sum(row.depth for row in rows.rows)
        if over < 0:
            return None
        spans: list[Span] = []
        placed: list[Placed] = []
        across, all_pass = 0, True
        for number, row in enumerate(rows.rows):
            across += over if number == rows.gap else 0
            here = self._row(row, number, across)
            if here is None:
                return None
            spans += here.spans
            placed += here.placed
            all_pass &= here.passes
            across += row.depth
        return Lies(tuple(spans), tuple(sorted(placed, key=_ORDER)), all_pass)

    def _row(self, row: Row, number: int, across: int) -> Lies | None:
        """One row in its place."""
        key = (id(row), number, across)
        if key not in self._known:
            if len(self._known) >= KEPT:
                self._known.clear()
            self._known[key] = row, self._laid(row, number, across)
        return self._known[key][1]

    def _laid(self, row: Row, number: int, across: int) -> Lies | None:
        spans = row_spans(row, number, across, self.field)
        if spans is None:
            return None
        placed = tuple(self.field.placed(one.slot, one.along, one.across) for one in spans)
        return Lies(spans, placed, all(self._passes(one) for one in spans))

    def _passes(self, one: Span) -> bool:
        """Whether a part passes the opening of the space."""
        if self.field.grid.opening is None:
            return True
        pitch = self.terms.module.pitch
        size = outer_size(one.slot.wide, pitch), outer_size(one.slot.deep, pitch)
        return passes(replace(one.slot.option.candidate, size=size, height=one.slot.height), self.field.grid)
