"""Lots moved to other spaces, so that each space that is too full for rows becomes calm.

One lot goes elsewhere, or two change places; a move is made if the two spaces lack less afterwards. Looked at are those
first that leave most air on both sides. It stops by counts: of moves, of looks for each, and of the work of all looks;
without the last, a room that is too full would have every move of every lot looked at in vain.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, TypeAlias

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.calm.arrange import ROWS_FULL, Arrangement, Looks, arrange
from nookwright.layout.calm.seek import GLANCES
from nookwright.layout.problem import problem_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.layout.calm.judging import Judge
    from nookwright.layout.model import Ask, Grid

MOST_MOVES = Fact(8, unit="moves", kind=Kind.CHOICE, source="A space that needs more of them is too full for rows.")
MOST_LOOKS = Fact(16, unit="looks", kind=Kind.CHOICE, source="For each move: some tenths of a second.")
EFFORT_SHARE = Fact(
    0.5,
    unit="1",
    kind=Kind.CHOICE,
    source="Of the effort of a first look at all spaces: rooms that are too full take little longer than others.",
)
LEAST_EFFORT = Fact(
    12e6,
    unit="lots",
    kind=Kind.MEASURED,
    source="As ``Found`` counts work: two to four seconds. Rooms that came to stand in rows took up to 9.4e6.",
)

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
        self._looks: dict[tuple[str, tuple[str, ...]], Looks] = {}
        self.effort = 0  # of all glances so far

    def arranged(self, space: str, lots: Sequence[str]) -> Arrangement:
        """A space with these lots in rows."""
        looks = self._look(space, lots)
        key = (space, tuple(sorted(lots)))
        if key not in self._arranged:
            self._arranged[key] = arrange(looks.grid, looks.asks, self.judge, seed=self.seed, looks=looks)
        return self._arranged[key]

    def glance(self, space: str, lots: Sequence[str]) -> tuple[int, float]:
        """Cells that these lots lack in a space, and about what their rows cost."""
        looks = self._look(space, lots)
        if not looks.walked:
            looks.walk_unless_hopeless(int(GLANCES))
            self.effort += looks.effort
        return looks.glance

    def _look(self, space: str, lots: Sequence[str]) -> Looks:
        """What is known of these lots in a space."""
        key = (space, tuple(sorted(lots)))
        if key not in self._looks:
            asks = [self.asks[lot] for lot in key[1]]
            self._looks[key] = Looks(self.grids[space], asks, self.judge, seed=self.seed)
        return self._looks[key]

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
        for space, lots in homes.items():
            self.glance(space, lots)
        first = sum(self._look(space, lots).effort for space, lots in homes.items())
        most = self.effort + max(int(LEAST_EFFORT), int(EFFORT_SHARE * first))
        for _ in range(int(MOST_MOVES)):
            full = [space for space, lots in homes.items() if self.glance(space, lots)[0]]
            moved = next((better for space in full if (better := self._eased(homes, space, most))), None)
            if moved is None:
                break
            homes = moved
        return homes

    def _eased(self, homes: Homes, space: str, most: int) -> Homes | None:
        """The best move after which a space and the other one lack less; ``None`` if none is found in time."""
        best: tuple[tuple[int, float], Homes] | None = None
        for air, other, out, back in self._moves(homes, space)[: int(MOST_LOOKS)]:
            if self.effort >= most or (air < 1 - ROWS_FULL and self._look(space, homes[space]).hopeless):
                break
            moved = {**homes, space: _changed(homes[space], out, back), other: _changed(homes[other], back, out)}
            short = self.glance(space, homes[space])[0] + self.glance(other, homes[other])[0]
            here = self.glance(space, moved[space])
            if here[0] >= short or (best and here[0] > best[0][0]):
                continue  # whatever the other one lacks
            there = self.glance(other, moved[other])
            rated = (here[0] + there[0], here[1] + there[1] + self._bonds(moved))
            if rated[0] < short and (best is None or rated < best[0]):
                best = (rated, moved)
                if not rated[0]:
                    break
        return best[1] if best else None

    def _moves(self, homes: Homes, space: str) -> list[tuple[float, str, str, str]]:
        """Air that is left on both sides, the other space, lot that goes there, lot that comes back or nothing."""
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
        return [(-less, other, out, back) for less, other, out, back in sorted(found)]

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
