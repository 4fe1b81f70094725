"""The whole room, calm: each space in rows, lots moved on where they do not fit so, and the price of it.

Begins with two assignments: one in which rows have air (``balance``), and the tightest. A lot that does not fit its
space calmly goes to another one that it may be in (``homes``). A space that stays too full for rows is packed, its
parts in the best places that are found (``positions``), and a finding says so.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.layout.calm.balance import balanced
from nookwright.layout.calm.homes import Homes, Housing
from nookwright.layout.calm.judging import judge_of, total
from nookwright.layout.calm.terms import USUAL
from nookwright.layout.model import CostPart, Layout
from nookwright.layout.positions import packed, settled
from nookwright.layout.problem import Choice, cost_parts

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.layout.model import Ask, Grid, Placed
    from nookwright.module.module import Module
    from nookwright.survey.layout_wishes import Weights

NOISE = Fact(1e-6, unit="cost", kind=Kind.CALCULATED, source="Sums of costs are no more exact than this.")
UNCALM = Fact(
    60.0, unit="cost", kind=Kind.CHOICE, source="A space that stays restless: dearer than opening another one."
)


@dataclass(frozen=True)
class SpacePrice:
    """What calm costs in one space more than the tightest, or less where negative.

    Attributes:
        space: id of the space; empty for the whole room.
        cells: cells taken.
        part_g: grams of plain parts.
        calm: whether it stands in rows.
    """

    space: str
    cells: int
    part_g: float
    calm: bool


@dataclass(frozen=True)
class CalmLayout:
    """A room in rows.

    Attributes:
        layout: what goes where; its cost has the parts of the tightest's, then calm's own.
        price: of each space that is used, in the order of the grids, then of the room.
        tightest: parts of the tightest's cost with the same names, judged alike.
        findings: spaces that are too full for rows.
    """

    layout: Layout
    price: tuple[SpacePrice, ...]
    tightest: tuple[CostPart, ...]
    findings: tuple[Finding, ...]


def calm_layout(
    grids: Sequence[Grid],
    asks: Sequence[Ask],
    tight: Layout,
    *,
    module: Module,
    order: Sequence[str] = (),
    weights: Weights = USUAL,
    largest: tuple[int, int] | None = None,
    seed: int = 1,
) -> CalmLayout:
    """Lay out a room calmly.

    Args:
        grids: the spaces.
        asks: the lots.
        tight: the tightest layout of the same; its bound holds for this one too.
        module: the household's module.
        order: ids of lots or groups in the order that they should lie.
        weights: what counts how much.
        largest: cells that print in one piece; no tray grows beyond them.
        seed: of what is drawn.
    """
    judge = judge_of(asks, module, weights=weights, order=order, largest=largest)
    work = _Work(Housing(grids, asks, judge, seed), tight)
    best = min(work.drafts(), key=lambda one: (round(one.cost, 6), len(one.restless)))
    return work.result(best)


@dataclass(frozen=True)
class _Draft:
    """A room, what it costs, and the spaces that are packed instead of standing in rows."""

    placed: tuple[Placed, ...]
    restless: tuple[str, ...]
    cost: float


class _Work:
    """Makes drafts and judges them."""

    def __init__(self, housing: Housing, tight: Layout) -> None:
        self.housing, self.tight = housing, tight
        self.grids, self.problem, self.judge = housing.grids, housing.problem, housing.judge

    def drafts(self) -> Iterator[_Draft]:
        """From homes with air, and from the tightest's."""
        tight = {space: _lots(self.tight.in_space(space)) for space in self.grids}
        seen: list[Homes] = []
        for begin in (balanced(self.problem, tight, seed=self.housing.seed), tight):
            homes = self.housing.settled(begin)
            if homes not in seen and (draft := self._draft(homes)) is not None:
                yield draft
            seen.append(homes)
        yield self._packed_draft(tight)

    def _draft(self, homes: Homes) -> _Draft | None:
        """A room with every space in rows that can be; ``None`` if another one cannot even be packed."""
        placed: list[Placed] = []
        restless: list[str] = []
        for space, lots in homes.items():
            mine = self.housing.arranged(space, lots)
            here: tuple[Placed, ...] | None = mine.placed
            if not mine.fits:
                restless.append(space)
                here = self._packed(space, lots)
            if here is None:
                return None
            placed += here
        return self._judged(placed, restless)

    def _packed_draft(self, homes: Homes) -> _Draft:
        """The tightest, with rows where they fit: always possible."""
        placed: list[Placed] = []
        restless: list[str] = []
        for space, lots in homes.items():
            mine = self.housing.arranged(space, lots)
            restless += [] if mine.fits else [space]
            placed += mine.placed if mine.fits else self._as_it_was(space)
        return self._judged(placed, restless)

    def _judged(self, placed: Sequence[Placed], restless: Sequence[str]) -> _Draft:
        ordered = tuple(sorted(placed, key=lambda one: (one.space, one.row, one.col)))
        cost = total(self.room_cost(ordered)) + total(self.own_cost(ordered)) + UNCALM * len(restless)
        return _Draft(ordered, tuple(restless), cost)

    def _as_it_was(self, space: str) -> tuple[Placed, ...]:
        """A space as the solver packed it, its parts in better places."""
        return settled(self.grids[space], self.tight.in_space(space), self.judge, seed=self.housing.seed)

    def _packed(self, space: str, lots: Sequence[str]) -> tuple[Placed, ...] | None:
        """Lots packed into a space as tightly as they go; ``None`` if they do not all go in."""
        if set(lots) == set(_lots(self.tight.in_space(space))):
            return self._as_it_was(space)
        place = next(number for number, grid in enumerate(self.problem.grids) if grid.space == space)
        asks = {ask.lot: number for number, ask in enumerate(self.problem.asks)}
        small = [
            min(
                (c for c in self.problem.choices[asks[lot]] if c.grid == place), key=lambda c: (c.area, c.cost)
            ).candidate
            for lot in lots
        ]
        here = packed(self.grids[space], small, seed=self.housing.seed)
        return None if here is None else settled(self.grids[space], here, self.judge, seed=self.housing.seed)

    def room_cost(self, placed: Sequence[Placed]) -> tuple[CostPart, ...]:
        """What the room's solver counts: footprint, reach, split, open."""
        at = {one.candidate.lot: one for one in placed if one.candidate}
        places = {grid.space: number for number, grid in enumerate(self.problem.grids)}
        chosen: list[Choice | None] = []
        for number, ask in enumerate(self.problem.asks):
            one = at.get(ask.lot)
            if one is None or one.candidate is None:
                chosen.append(None)
                continue
            grid, mine = self.grids[one.space], one.candidate
            cost = mine.cost + ask.use * grid.reach + dict(ask.leaning).get(grid.space, 0.0)
            area = mine.cols * mine.rows
            chosen.append(Choice(number, places[one.space], mine, area, mine.mass_g, cost))
        return tuple(CostPart(name, value) for name, value in cost_parts(self.problem, chosen).items())

    def own_cost(self, placed: Sequence[Placed]) -> tuple[CostPart, ...]:
        """What is judged inside the spaces, summed over them."""
        sums: dict[str, float] = {}
        for grid in self.grids.values():
            here = [one for one in placed if one.space == grid.space]
            for part in self.judge.parts(grid, here) if here else ():
                sums[part.name] = sums.get(part.name, 0.0) + part.value
        return tuple(CostPart(name, value) for name, value in sums.items())

    def result(self, draft: _Draft) -> CalmLayout:
        """The layout, with its price beside the tightest."""
        cost, bound = (*self.room_cost(draft.placed), *self.own_cost(draft.placed)), self.tight.bound
        layout = replace(self.tight, placed=draft.placed, cost=cost)
        layout = replace(layout, gap=(layout.counted - bound) / bound if bound else 0.0)
        tightest = (*self.room_cost(self.tight.placed), *self.own_cost(self.tight.placed))
        return CalmLayout(layout, self._price(draft), tightest, tuple(map(_too_full, draft.restless)))

    def _price(self, draft: _Draft) -> tuple[SpacePrice, ...]:
        rows = []
        for space in self.grids:
            mine, theirs = [one for one in draft.placed if one.space == space], self.tight.in_space(space)
            if mine or theirs:
                cells = _cells(mine) - _cells(theirs)
                part_g = sum(map(self.judge.part_g, mine)) - sum(map(self.judge.part_g, theirs))
                rows.append(SpacePrice(space, cells, part_g, calm=space not in draft.restless))
        calm = not draft.restless
        return (*rows, SpacePrice("", sum(r.cells for r in rows), sum(r.part_g for r in rows), calm=calm))


def _lots(placed: Sequence[Placed]) -> tuple[str, ...]:
    return tuple(one.candidate.lot for one in placed if one.candidate)


def _cells(placed: Sequence[Placed]) -> int:
    return sum(one.cols * one.rows for one in placed)


def _too_full(space: str) -> Finding:
    text = "It is too full for rows that read, so its parts stand as tightly as they fit."
    remedy = "Take a lot out of it, leave less room to grow, or let its lots go to another space."
    return Finding("space-not-calm", Severity.NOTE, space, text, remedy)
