"""The steps of one search, with what they pass on: the draft, the prices, the bound."""

from __future__ import annotations

import time
from dataclasses import replace
from itertools import chain
from random import Random
from typing import TYPE_CHECKING

from nookwright.layout.assignment import assign
from nookwright.layout.effort import FACTOR, FEW_COLUMNS, FEW_NODES, LOOSE_SHARE, NOISE, PARTS, PLAIN_SHARE, STARTS
from nookwright.layout.improve import Improver
from nookwright.layout.model import SpacePrice
from nookwright.layout.packing import Spot
from nookwright.layout.programme import Limits
from nookwright.layout.reasons import left_out
from nookwright.layout.search.greedy import first_draft
from nookwright.layout.search.proof import Prover
from nookwright.layout.search.result import layout_of
from nookwright.layout.tidy import tidy

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from nookwright.layout.assignment import Assignment
    from nookwright.layout.effort import Effort
    from nookwright.layout.model import Layout
    from nookwright.layout.problem import Choice, Problem
    from nookwright.layout.search.annealer import Annealer
    from nookwright.layout.search.easing import Lessen
    from nookwright.layout.search.prices import Prices, Relaxation
    from nookwright.layout.search.proof import Proof


class Work:
    """One search: ``steps`` does it, ``result`` says what came of it, ``layouts`` does both and shows what is found."""

    count = int((STARTS + 1) * (PARTS + 1))  # steps, as far as is known before

    def __init__(
        self, problem: Problem, effort: Effort, stop: Callable[[], bool], pitch: float, lessen: Lessen | None = None
    ) -> None:
        """Begin nothing yet.

        Args:
            problem: what can go where.
            effort: how hard to try.
            stop: says when somebody wants the best so far.
            pitch: size of a cell, mm.
            lessen: says what a lot would be with less room to grow.
        """
        self.lessen = lessen
        self.problem, self.effort, self.pitch = problem, effort.for_lots(len(problem.asks)), pitch
        self.random = Random(effort.seed)  # noqa: S311 - nothing secret
        self.deadline = time.monotonic() + self.effort.clock_s
        self.draft = first_draft(problem, self.random)
        self.prices: Prices | None = None
        self.prover: Prover | None = None
        self.iterations = 0
        self.by_clock = self.stopped = False
        self._greedy = True
        self._stop = stop

    def layouts(self) -> Iterator[Layout]:
        """The first layout, each better one, and the last with its proof."""
        yield self._interim()
        for better in self.steps():
            if better:
                yield self._interim()
        yield self.result()

    def steps(self) -> Iterator[bool]:
        """Search; says after each step whether the draft became better."""
        from nookwright.layout.search.prices import Relaxation, raise_bound
        from nookwright.layout.search.table import fits_words, table_of

        if not any(self.problem.can) or self.halted():
            return
        self.prover = Prover(self.problem, self.effort, clock_s=self._left_s())
        relaxation = Relaxation(table_of(self.problem))
        self.prices = raise_bound(relaxation, stop=self.halted)
        yield False
        yield from self._compiled(relaxation, self.prices) if fits_words(self.problem) else self._plain()
        tidy(self.draft)

    def _compiled(self, relaxation: Relaxation, prices: Prices) -> Iterator[bool]:
        """Anneal in the kernels; numba is loaded only now."""
        from nookwright.layout.search.annealer import Annealer

        annealer = Annealer(self.problem, relaxation, prices, effort=self.effort, seed=self.effort.seed)
        steps = max(1, self.effort.moves * len(relaxation.lots) // int(PARTS))
        if self.problem.columns <= FEW_COLUMNS and not self.halted():
            annealer.take(self._solved().chosen)
            annealer.pack()
            yield self._take(annealer)
        for _ in range(int(STARTS)):
            for _ in annealer.assign(self._shares(), moves=max(1, int(LOOSE_SHARE * steps / STARTS))):
                yield False
            annealer.pack()
            yield self._take(annealer)
            if annealer.perfect:
                break
        for hotter in chain((1.0,), annealer.again(self.effort.rounds)):
            for better in annealer.improve(self._shares(), steps=steps, hotter=hotter):
                yield better and self._take(annealer)
        self.iterations += annealer.iterations

    def _solved(self) -> Assignment:
        """The assignment of the solver, with a little less room than there is."""
        room_for = [self.effort.factor * cells for cells in self.problem.cells]
        nodes = min(self.effort.max_nodes, int(FEW_NODES))
        limits = Limits(self.effort.rel_gap, nodes, max(self._left_s() / 2, 1.0), self.effort.seed)
        answer = assign(self.problem, room_for=room_for, slack=True, limits=limits)
        self.by_clock = self.by_clock or answer.by_clock
        return answer

    def _plain(self) -> Iterator[bool]:
        """Anneal in plain Python: a space is too wide for the kernels."""
        moves = int(PLAIN_SHARE * self.effort.moves * len(self.problem.asks))
        for repair in (True, False):
            before = self.draft.cost()
            improver = Improver(self.draft, self.random, tries=self.effort.glimpse)
            run = improver.run(moves, deadline=self.deadline, stop_when_complete=repair)
            self.iterations, self.by_clock = self.iterations + run.moves, self.by_clock or run.by_clock
            yield self.draft.cost() < before

    def _shares(self) -> Iterator[float]:
        """How far a stage has come, part by part, until somebody stops it."""
        for part in range(int(PARTS)):
            if self.halted():
                return
            yield part / int(PARTS)

    def halted(self) -> bool:
        """Whether the search has to end: somebody wants it, or the clock says so."""
        self.stopped = self.stopped or self._stop()
        self.by_clock = self.by_clock or self._left_s() <= 0
        return self.stopped or self.by_clock

    def _left_s(self) -> float:
        return self.deadline - time.monotonic()

    def _take(self, annealer: Annealer) -> bool:
        """Take over what was found if it is better; says whether."""
        airy = self._greedy and self.effort.factor < FACTOR and annealer.complete  # the first layout knows no air
        if not airy and annealer.kept.cost[0] >= self.draft.cost() - NOISE:
            return False
        self._greedy = False
        self.draft.lay(*laid_out(self.problem, annealer))
        return True

    def _interim(self) -> Layout:
        """The draft so far, with the bound so far: that of the prices where every lot is placed."""
        whole = self.prices is not None and self._complete()
        return layout_of(
            self.draft,
            left_out=left_out(self.draft, pitch=self.pitch, thorough=False),
            bound=self.prices.bound if whole and self.prices else 0.0,
            proven=False,
            seed=self.effort.seed,
            iterations=self.iterations,
            prices=self._space_prices(),
        )

    def _complete(self) -> bool:
        """Whether every lot that could be somewhere is."""
        return all(chosen or not can for chosen, can in zip(self.draft.chosen, self.problem.can, strict=True))

    def result(self) -> Layout:
        """The draft, with the best bound: of the prices or of the solver."""
        proof, bound = self._proof()
        by_clock = self.by_clock or bool(proof and proof.by_clock)
        layout = layout_of(
            self.draft,
            left_out=left_out(self.draft, pitch=self.pitch, lessen=self.lessen),
            bound=max(bound, proof.bound if proof else 0.0),
            proven=bool(proof and proof.proven),
            seed=self.effort.seed,
            iterations=self.iterations + self.draft.tries,
            by_clock=by_clock,
            stopped=self.stopped,
            nodes=proof.nodes if proof else 0,
            prices=self._space_prices(),
        )
        return replace(layout, proven=layout.proven or layout.gap <= self.effort.rel_gap)

    def _proof(self) -> tuple[Proof | None, float]:
        """What the solver and the prices prove for the lots that are placed."""
        if self.prices is None or self.prover is None or not any(self.draft.chosen):
            return None, 0.0
        if self._complete():
            return None if self.stopped else self.prover.result(), self.prices.bound
        from nookwright.layout.search.prices import Relaxation, raise_bound
        from nookwright.layout.search.table import table_of

        placed = self.problem.only([chosen is not None for chosen in self.draft.chosen])
        prices = raise_bound(Relaxation(table_of(placed)))
        if self.stopped:
            return None, prices.bound
        return Prover(placed, self.effort, clock_s=self._left_s()).result(), prices.bound

    def _space_prices(self) -> tuple[SpacePrice, ...]:
        if self.prices is None:
            return ()
        rows = zip(self.problem.grids, self.prices.cell, self.prices.gram, strict=True)
        return tuple(SpacePrice(grid.space, round(float(cell), 4), round(float(gram), 6)) for grid, cell, gram in rows)


def laid_out(problem: Problem, annealer: Annealer) -> tuple[list[Choice | None], list[Spot | None]]:
    """The best of an annealer, as choices and spots."""
    table, kept = annealer.table, annealer.kept
    chosen: list[Choice | None] = []
    spots: list[Spot | None] = []
    for number, one in enumerate(kept.chosen):
        if one < 0:
            chosen.append(None)
            spots.append(None)
            continue
        place = int(kept.space[number])
        chosen.append(problem.choice(number, int(one - table.first[number]), place))
        row, col = divmod(int(kept.at[number]), 64)
        if table.swapped[place]:
            row, col = col, row
        spots.append(Spot(col, row, bool(kept.turned[number])))
    return chosen, spots
