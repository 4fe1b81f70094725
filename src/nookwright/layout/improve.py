"""Making a draft better: simulated annealing whose every accepted move has been packed.

Moves: a lot goes elsewhere or takes another footprint; two lots change spaces; a lot joins one that it
belongs to. The cost is asked first, the packer only where the cost agrees. Stops by the number of moves.
"""

from __future__ import annotations

import math
import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from random import Random

    from nookwright.layout.draft import Draft
    from nookwright.layout.problem import Choice

HOT = Fact(
    1.0,
    unit="cost",
    kind=Kind.MEASURED,
    source="Temperature at the start: best of 0.5 to 15 on invented rooms; more undoes a good assignment.",
)
COLD = Fact(0.2, unit="cost", kind=Kind.MEASURED, source="Temperature at the end: best of 0.2 to 1 on the same rooms.")
REPAIR = Fact(10.0, unit="1", kind=Kind.MEASURED, source="So much hotter while lots are left out; 1 leaves some out.")
JOIN_SHARE = Fact(0.1, unit="1", kind=Kind.CHOICE, source="Share of moves that bring together what belongs together.")
SWAP_SHARE = Fact(0.4, unit="1", kind=Kind.CHOICE, source="Share of moves that change two lots.")
OUT_SHARE = Fact(
    0.4, unit="1", kind=Kind.CHOICE, source="Share of moves for lots that are left out, while there are any."
)
NOISE = Fact(1e-6, unit="cost", kind=Kind.CALCULATED, source="Sums of costs are no more exact than this.")
GLANCE = Fact(256, unit="moves", kind=Kind.CHOICE, source="The safety clock is looked at this often.")

Move = dict[int, "Choice | None"]


@dataclass(frozen=True)
class Run:
    """How a run of the improver ended: moves drawn, and whether the clock stopped it."""

    moves: int
    by_clock: bool


class Improver:
    """Draws moves for one draft and accepts or refuses them."""

    def __init__(self, draft: Draft, random: Random, *, tries: int) -> None:
        """Get ready.

        Args:
            draft: what is improved.
            random: where moves are drawn from.
            tries: packings for each space that a move touches.
        """
        self.draft = draft
        self.random = random
        self.tries = tries
        problem = draft.problem
        self.can = [number for number, choices in enumerate(problem.choices) if choices]
        self.there: list[dict[int, list[Choice]]] = [{} for _ in problem.asks]
        for number, choices in enumerate(problem.choices):
            for choice in choices:
                self.there[number].setdefault(choice.grid, []).append(choice)

    def run(self, moves: int, *, deadline: float, stop_when_complete: bool = False) -> Run:
        """Make so many moves, end on the best draft seen."""
        if not self.can:
            return Run(0, by_clock=False)
        draft, random = self.draft, self.random
        cost = best = draft.cost()
        kept = draft.copy_places()
        hot = float(HOT * REPAIR if stop_when_complete else HOT)
        late, number = False, 0
        for number in range(moves):
            if number % int(GLANCE) == 0 and time.monotonic() > deadline:
                late = True
                break
            heat = hot * (COLD / HOT) ** (number / moves)
            move = self._draw()
            if not move:
                continue
            change = draft.delta(move)
            if change > -heat * math.log(1 - random.random()) or not draft.change(move, tries=self.tries):
                continue
            cost += change
            if cost < best - float(NOISE):
                best, kept = cost, draft.copy_places()
                if stop_when_complete and all(draft.chosen[one] for one in self.can):
                    break
        draft.restore(kept)
        return Run(number, by_clock=late)

    def _draw(self) -> Move | None:
        """Some move; ``None`` where the draw makes no sense."""
        random, chosen = self.random, self.draft.chosen
        out = [number for number in self.can if chosen[number] is None]
        if out and random.random() < OUT_SHARE:
            return self._elsewhere(random.choice(out))
        draw = random.random()
        if draw < JOIN_SHARE and self.draft.problem.pairs:
            return self._join(*random.choice(self.draft.problem.pairs)[:2])
        if draw < JOIN_SHARE + SWAP_SHARE:
            return self._swap(random.choice(self.can), random.choice(self.can))
        return self._elsewhere(random.choice(self.can))

    def _elsewhere(self, number: int) -> Move | None:
        """A lot takes any of its choices."""
        new = self.random.choice(self.draft.problem.choices[number])
        return {number: new} if new is not self.draft.chosen[number] else None

    def _swap(self, one: int, other: int) -> Move | None:
        """Two lots change places, or footprints within one space; the other may be left out so far."""
        first, second = self.draft.chosen[one], self.draft.chosen[other]
        if first is None or one == other:
            return None
        takes = self.there[other].get(first.grid)
        if not takes:
            return None
        if second is None:
            return {one: None, other: self.random.choice(takes)}
        gives = self.there[one].get(second.grid)
        return {one: self.random.choice(gives), other: self.random.choice(takes)} if gives else None

    def _join(self, one: int, other: int) -> Move | None:
        """A lot goes to the space of one that it belongs to."""
        if self.random.random() < 1 / 2:
            one, other = other, one
        target, now = self.draft.chosen[other], self.draft.chosen[one]
        if target is None or (now is not None and now.grid == target.grid):
            return None
        choices = self.there[one].get(target.grid)
        return {one: self.random.choice(choices)} if choices else None
