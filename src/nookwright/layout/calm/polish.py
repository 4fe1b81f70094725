"""Rows made to read better: widths that repeat, edges that line up, rows and trays in the order that people wish.

A walk uphill by small changes to the rows, each laid out and judged for real. It stops by counts.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.calm.laying import Laying
from nookwright.layout.calm.quick import QuickJudge
from nookwright.layout.calm.rows import Block, Row, Rows
from nookwright.layout.calm.tables import most_wide

if TYPE_CHECKING:
    from random import Random

    from nookwright.layout.calm.judging import Judge
    from nookwright.layout.calm.rows import Field, Slot, Span
    from nookwright.layout.calm.terms import Terms

CHANGES = Fact(30, unit="changes/lot", kind=Kind.MEASURED, source="80 found little more on the demo's spaces.")


def polish(rows: Rows, field: Field, judge: Judge, *, random: Random) -> tuple[Rows, float]:
    """The rows, made to read better, and their cost.

    Args:
        rows: that fit.
        field: the space.
        judge: says what an arrangement costs.
        random: what changes are drawn from.
    """
    laying, quick = Laying(field, judge.terms), QuickJudge(judge, field.grid)
    lies = laying.lay(rows)
    if lies is None:
        return rows, float("inf")
    cost = quick.cost(lies.placed)
    draw = _Changes(judge.terms, random, field.long)
    for _ in range(int(CHANGES) * len(lies.spans)):
        other = draw.change(rows, lies.spans)
        if other is None or other == rows:
            continue
        tried = laying.lay(other)
        if tried is None or not tried.passes:
            continue
        price = quick.cost(tried.placed, limit=cost)
        if price <= cost:
            rows, lies, cost = other, tried, price
    return rows, cost


class _Changes:
    """Draws changes."""

    def __init__(self, terms: Terms, random: Random, long: int) -> None:
        self.terms, self.random, self.long = terms, random, long
        self.spans: tuple[Span, ...] = ()
        self.kinds = (
            self._order, self._order, self._rows, self._width, self._edge, self._edge, self._swap, self._gap, self._line
        )  # fmt: skip

    def change(self, rows: Rows, spans: tuple[Span, ...]) -> Rows | None:
        """Some change to rows that lie so; ``None`` where the draw makes no sense."""
        self.spans = spans
        return self.random.choice(self.kinds)(rows)

    def _row(self, rows: Rows) -> int:
        return self.random.randrange(len(rows.rows))

    def _order(self, rows: Rows) -> Rows | None:
        """Two blocks of a row change places."""
        number = self._row(rows)
        row = rows.rows[number]
        if len(row.blocks) < 2:  # noqa: PLR2004 - two of them change places
            return None
        blocks = list(row.blocks)
        one, other = self.random.sample(range(len(blocks)), 2)
        blocks[one], blocks[other] = blocks[other], blocks[one]
        return rows.replaced(number, replace(row, blocks=tuple(blocks)))

    def _rows(self, rows: Rows) -> Rows | None:
        """Two rows change places."""
        lines = list(rows.rows)
        if len(lines) < 2:  # noqa: PLR2004 - two of them change places
            return None
        one, other = self.random.sample(range(len(lines)), 2)
        lines[one], lines[other] = lines[other], lines[one]
        return replace(rows, rows=tuple(lines))

    def _gap(self, rows: Rows) -> Rows | None:
        """What is over is left free elsewhere."""
        return replace(rows, gap=self.random.randint(0, len(rows.rows)))

    def _width(self, rows: Rows) -> Rows | None:
        """A part gets the width of another one, or its own again, or a cell more."""
        number = self._row(rows)
        row = rows.rows[number]
        at = self.random.randrange(len(row.blocks))
        slots = row.blocks[at].slots
        slot = self.random.choice(slots)
        widths = sorted({one.wide for line in rows.rows for one in line.slots} | {slot.wide + 1, slot.option.wide})
        wide = self.random.choice(widths)
        if not slot.option.wide <= wide <= most_wide(slot.option, slot.deep, self.terms):
            return None
        return rows.replaced(number, _with(row, at, slot, replace(slot, wide=wide)))

    def _edge(self, rows: Rows) -> Rows | None:
        """A part grows to a line at which parts of other rows, or the space, end."""
        span = self.random.choice(self.spans)
        slot, row = span.slot, rows.rows[span.row]
        end = span.along + slot.wide
        most = span.along + most_wide(slot.option, slot.deep, self.terms)
        ends = {one.along + one.slot.wide for one in self.spans} | {one.along for one in self.spans} | {self.long}
        lines = sorted(line for line in ends if end < line <= most)
        if not lines:
            return None
        wide = self.random.choice(lines) - span.along
        at = next(at for at, block in enumerate(row.blocks) if any(one is slot for one in block.slots))
        return rows.replaced(span.row, _with(row, at, slot, replace(slot, wide=wide)))

    def _swap(self, rows: Rows) -> Rows | None:
        """Two blocks of two rows of one depth change places."""
        one, other = self._row(rows), self._row(rows)
        first, second = rows.rows[one], rows.rows[other]
        if one == other or (first.depth, first.line) != (second.depth, second.line):
            return None
        a, b = self.random.randrange(len(first.blocks)), self.random.randrange(len(second.blocks))
        if _rim(first) != _rim(second):
            return None
        blocks, others = list(first.blocks), list(second.blocks)
        blocks[a], others[b] = others[b], blocks[a]
        changed = rows.replaced(one, replace(first, blocks=tuple(blocks)))
        return changed.replaced(other, replace(second, blocks=tuple(others)))

    def _line(self, rows: Rows) -> Rows | None:
        """Two parts of one line of a parted piece change places, or its front and back do."""
        number = self._row(rows)
        row = rows.rows[number]
        at = next((at for at, block in enumerate(row.blocks) if block.back), -1)
        if at < 0:
            return None
        front, back = list(row.blocks[at].front), list(row.blocks[at].back)
        draw = self.random.randrange(3)
        if draw == 0:
            turned = Row(
                row.depth,
                row.depth - row.line,
                (*row.blocks[:at], Block(tuple(back), tuple(front)), *row.blocks[at + 1 :]),
            )
            return rows.replaced(number, turned)
        self.random.shuffle(front if draw == 1 else back)
        blocks = (*row.blocks[:at], Block(tuple(front), tuple(back)), *row.blocks[at + 1 :])
        return rows.replaced(number, replace(row, blocks=blocks))


def _rim(row: Row) -> float:
    return max(slot.height for slot in row.slots)


def _with(row: Row, at: int, slot: Slot, other: Slot) -> Row:
    """A row with one part as another."""
    block = row.blocks[at]
    front = tuple(other if one is slot else one for one in block.front)
    back = tuple(other if one is slot else one for one in block.back)
    return replace(row, blocks=(*row.blocks[:at], Block(front, back), *row.blocks[at + 1 :]))
