"""Lots moved to other spaces, so that each space that is too full for rows becomes calm.

One lot goes elsewhere, or two change places; a move is made if the two spaces lack less afterwards. Looked at are those
first that leave most air on both sides. It stops by counts.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, TypeAlias

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.calm.arrange import Arrangement, arrange, glance
from nookwright.layout.problem import problem_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.layout.calm.judging import Judge
    from nookwright.layout.model import Ask, Grid

MOST_MOVES = Fact(8, unit="moves", kind=Kind.CHOICE, source="A space that needs more of them is too full for rows.")
MOST_LOOKS = Fact(16, unit="looks", kind=Kind.CHOICE, source="For each move: some tenths of a second.")

Homes: TypeAlias = "Mapping[str, tuple[str, ...]]"  # by id of a space, the lots in it


class Housing:
    """Knows what each space takes; looks at each set of lots once."""

    def __init__(self, grids: Sequence[Grid], asks: Sequence[Ask], judge: Judge, seed: int) -> None:
        """Get ready.

        Args:
            grids: the spaces.
            asks: the lots.
            judge: says what an arrangement costs.
            seed: of what is drawn.
        """
        self.grids = {grid.space: grid for grid in grids}
        self.asks = {ask.lot: ask for ask in asks}
        self.judge, self.seed = judge, seed
        self.problem = problem_of(grids, asks)
        self._arranged: dict[tuple[str, tuple[str, ...]], Arrangement] = {}
        self._glances: dict[tuple[str, tuple[str, ...]], tuple[int, float]] = {}

    def arranged(self, space: str, lots: Sequence[str]) -> Arrangement:
        """A space with these lots in rows."""
        key = (space, tuple(sorted(lots)))
        if key not in self._arranged:
            asks = [self.asks[lot] for lot in key[1]]
            self._arranged[key] = arrange(self.grids[space], asks, self.judge, seed=self.seed)
        return self._arranged[key]

    def glance(self, space: str, lots: Sequence[str]) -> tuple[int, float]:
        """Cells that these lots lack in a space, and about what their rows cost."""
        key = (space, tuple(sorted(lots)))
        if key not in self._glances:
            asks = [self.asks[lot] for lot in key[1]]
            self._glances[key] = glance(self.grids[space], asks, self.judge, seed=self.seed)
        return self._glances[key]

    @cached_property
    def least(self) -> dict[str, dict[str, int]]:
        """By id of a lot and of a space that it may be in: the fewest cells that it takes there."""
        found: dict[str, dict[str, int]] = {}
        for ask, choices in zip(self.problem.asks, self.problem.choices, strict=True):
            mine = found.setdefault(ask.lot, {})
            for choice in choices:
                space = self.problem.grids[choice.grid].space
                mine[space] = min(mine.get(space, choice.area), choice.area)
        return found

    @cached_property
    def cells(self) -> dict[str, int]:
        """Free cells of each space."""
        return {grid.space: count for grid, count in zip(self.problem.grids, self.problem.cells, strict=True)}

    def settled(self, homes: Homes) -> Homes:
        """Homes with as many spaces in rows as a few moves get there.

        Args:
            homes: to begin with.
        """
        for _ in range(int(MOST_MOVES)):
            full = [space for space, lots in homes.items() if self.glance(space, lots)[0]]
            moved = next((better for space in full if (better := self._eased(homes, space))), None)
            if moved is None:
                break
            homes = moved
        return homes

    def _eased(self, homes: Homes, space: str) -> Homes | None:
        """The best move after which a space and the other one lack less; ``None`` if there is none."""
        best: tuple[tuple[int, float], Homes] | None = None
        for other, out, back in self._moves(homes, space)[: int(MOST_LOOKS)]:
            moved = {**homes, space: _changed(homes[space], out, back), other: _changed(homes[other], back, out)}
            short = self.glance(space, homes[space])[0] + self.glance(other, homes[other])[0]
            here = self.glance(space, moved[space])
            if here[0] >= short:
                continue  # whatever the other one lacks
            there = self.glance(other, moved[other])
            rated = (here[0] + there[0], here[1] + there[1] + self._bonds(moved))
            if rated[0] < short and (best is None or rated < best[0]):
                best = (rated, moved)
                if not rated[0]:
                    break
        return best[1] if best else None

    def _moves(self, homes: Homes, space: str) -> list[tuple[str, str, str]]:
        """Space, lot that goes there, lot that comes back or nothing: those first that leave most air on both sides."""
        found = []
        for other, lots in homes.items():
            if other == space:
                continue
            for out in homes[space]:
                for back in ("", *lots):
                    if other in self.least[out] and (not back or space in self.least[back]):
                        air = self._air(homes, space, back, out), self._air(homes, other, out, back)
                        if min(air) >= 0:
                            found.append((-min(air), other, out, back))
        return [(other, out, back) for _, other, out, back in sorted(found)]

    def _air(self, homes: Homes, space: str, come: str, gone: str) -> float:
        """Share of a space that stays free, at the fewest cells of each lot."""
        lots = _changed(homes[space], gone, come)
        return 1 - sum(self.least[lot][space] for lot in lots) / self.cells[space]

    def _bonds(self, homes: Homes) -> float:
        """What it costs that lots which belong together are in two spaces."""
        at = {lot: space for space, lots in homes.items() for lot in lots}
        names = [ask.lot for ask in self.problem.asks]
        pairs = ((at.get(names[one]), at.get(names[other]), cost) for one, other, cost in self.problem.pairs)
        return sum(cost for one, other, cost in pairs if one and other and one != other)


def _changed(lots: Sequence[str], gone: str, come: str) -> tuple[str, ...]:
    """Lots without one and with another; either may be nothing."""
    return (*(lot for lot in lots if lot != gone), *((come,) if come else ()))
