"""A layout in the making: what is chosen, and where it lies. Every change that it accepts is packed for real.

Promise: at any time nothing overlaps, nothing is over a load, nothing stands where it may not.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.layout.bits import first, places, rectangle, shifts_for, stride
from nookwright.layout.packing import Spot, pack_free
from nookwright.layout.problem import LEFT_OUT

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from random import Random

    from nookwright.layout.problem import Choice, Problem


class Draft:
    """A layout that can be changed; see the module."""

    def __init__(self, problem: Problem, random: Random) -> None:
        """Begin with nothing placed.

        Args:
            problem: what can go where.
            random: drawn from by the packer.
        """
        self.problem = problem
        self.random = random
        self.chosen: list[Choice | None] = [None] * len(problem.asks)
        self.spots: list[Spot | None] = [None] * len(problem.asks)
        self.free = list(problem.free)
        self.mass_g = [0.0] * len(problem.grids)
        self.inside: list[list[int]] = [[] for _ in problem.grids]  # lots in the order that packed them last
        self.tries = 0
        self.near: list[list[tuple[int, float]]] = [[] for _ in problem.asks]
        for one, other, cost in problem.pairs:
            self.near[one].append((other, cost))
            self.near[other].append((one, cost))
        self._steps = [stride(grid.cols) for grid in problem.grids]
        self._shapes: dict[tuple[int, int, int], tuple[tuple[int, ...], int]] = {}

    def copy_places(self) -> tuple[list[Choice | None], list[Spot | None]]:
        """What is where now, to come back to."""
        return self.chosen.copy(), self.spots.copy()

    def restore(self, places_kept: tuple[list[Choice | None], list[Spot | None]]) -> None:
        """Go back to what was where."""
        self.chosen, self.spots = places_kept[0].copy(), places_kept[1].copy()
        self.inside = [[] for _ in self.problem.grids]
        for number, choice in enumerate(self.chosen):
            if choice:
                self.inside[choice.grid].append(number)
        for place in range(len(self.problem.grids)):
            self._refresh(place)

    def cost(self) -> float:
        """Cost of all that is placed, and a high one for each lot that is not."""
        total, used = 0.0, set()
        for number, choice in enumerate(self.chosen):
            if choice is None:
                total += self._out_cost(number)
                continue
            total += choice.cost
            used.add(choice.grid)
            total += sum(cost for other, cost in self.near[number] if other > number and self.apart(choice, other))
        return total + sum(self.problem.grids[place].open_cost for place in used)

    def _out_cost(self, number: int) -> float:
        """A lot that can go nowhere costs nothing; of two others, the larger is worse to leave out."""
        least = self.problem.least_area[number]
        return float(LEFT_OUT) + least if least else 0.0

    def apart(self, choice: Choice, other: int) -> bool:
        """Whether the other lot is placed, and in another space."""
        there = self.chosen[other]
        return there is not None and there.grid != choice.grid

    def carries(self, choice: Choice) -> bool:
        """Whether the space of a choice can carry it beside what is there."""
        return self.mass_g[choice.grid] + choice.mass_g <= self.problem.grids[choice.grid].load_g

    def add(self, choice: Choice) -> bool:
        """Put a lot that is nowhere on free cells of a space and leave the others where they are; says whether."""
        place, number = choice.grid, choice.ask
        if not self.carries(choice) or choice.area > self.free[place].bit_count():
            return False
        spots = self._squeeze(place, [], {number: choice})
        if spots is None:
            return False
        self.chosen[number], self.spots[number] = choice, spots[number]
        self.inside[place].append(number)
        self._refresh(place)
        return True

    def delta(self, changes: Mapping[int, Choice | None]) -> float:
        """How much dearer the layout becomes by these changes, before asking whether they can be packed."""
        change, chosen = 0.0, self.chosen
        count: dict[int, int] = {}
        for number, new in changes.items():
            old = chosen[number]
            change += new.cost if new else self._out_cost(number)
            change -= old.cost if old else self._out_cost(number)
            if new:
                count[new.grid] = count.get(new.grid, 0) + 1
            if old:
                count[old.grid] = count.get(old.grid, 0) - 1
            for other, cost in self.near[number]:
                if other in changes and other < number:
                    continue  # counted from the other end
                there, then = chosen[other], changes.get(other, chosen[other])
                change += cost * (new is not None and then is not None and new.grid != then.grid)
                change -= cost * (old is not None and there is not None and old.grid != there.grid)
        for place, more in count.items():
            now = len(self.inside[place])
            change += self.problem.grids[place].open_cost * ((now + more > 0) - (now > 0))
        return change

    def change(self, changes: Mapping[int, Choice | None], *, tries: int) -> bool:
        """Make the changes if every space touched can be packed within so many tries; says whether."""
        touched: dict[int, tuple[list[int], list[int]]] = {}  # space: lots that go, lots that come
        for number, new in sorted(changes.items()):
            old = self.chosen[number]
            if old:
                touched.setdefault(old.grid, ([], []))[0].append(number)
            if new:
                touched.setdefault(new.grid, ([], []))[1].append(number)
        packed: dict[int, tuple[list[int], dict[int, Spot]]] = {}
        for place, (gone, come) in touched.items():
            result = self._repacked(place, gone, come, changes, tries)
            if result is None:
                return False
            packed[place] = result
        for number, new in changes.items():
            self.chosen[number], self.spots[number] = new, None
        for place, (order, spots) in packed.items():
            self.inside[place] = order
            for number, spot in spots.items():
                self.spots[number] = spot
            self._refresh(place)
        return True

    def _repacked(
        self, place: int, gone: list[int], come: list[int], changes: Mapping[int, Choice | None], tries: int
    ) -> tuple[list[int], dict[int, Spot]] | None:
        """One space after its changes: the lots in it and where they lie; ``None`` if it cannot be packed."""
        stay = [number for number in self.inside[place] if number not in gone]
        if not come:
            return stay, {number: spot for number in stay if (spot := self.spots[number])}
        new = {number: choice for number in come if (choice := changes[number])}
        old = {number: choice for number in stay if (choice := self.chosen[number])}
        area = sum(choice.area for choice in old.values()) + sum(choice.area for choice in new.values())
        mass_g = sum(choice.mass_g for choice in old.values()) + sum(choice.mass_g for choice in new.values())
        if area > self.problem.cells[place] or mass_g > self.problem.grids[place].load_g:
            return None
        spots = {number: spot for number in stay if (spot := self.spots[number])}
        added = self._squeeze(place, gone, new)
        if added is not None:
            return stay + come, {**spots, **added}
        return self._pack(place, {**old, **new}, tries)

    def _squeeze(self, place: int, gone: list[int], new: Mapping[int, Choice]) -> dict[int, Spot] | None:
        """Put the new ones on free places and leave the others where they are."""
        free, step = self.free[place], self._steps[place]
        for number in gone:
            free |= self._cells(place, number)
        spots: dict[int, Spot] = {}
        for number, choice in sorted(new.items(), key=lambda item: (-item[1].area, item[0])):
            cols, rows = choice.candidate.cols, choice.candidate.rows
            for turned in (False, True) if choice.candidate.may_turn else (False,):
                shifts, block = self._shape(place, *((rows, cols) if turned else (cols, rows)))
                mask = places(free, shifts)
                if mask:
                    bit = first(mask)
                    free &= ~(block << bit)
                    spots[number] = Spot(bit % step, bit // step, turned and cols != rows)
                    break
            else:
                return None
        return spots

    def _pack(self, place: int, choices: Mapping[int, Choice], tries: int) -> tuple[list[int], dict[int, Spot]] | None:
        """Pack the whole space anew."""
        spots = self.fill_space(place, choices, tries)
        return (list(choices), spots) if len(spots) == len(choices) else None

    def fill_space(self, place: int, choices: Mapping[int, Choice], tries: int) -> dict[int, Spot]:
        """Pack a space as fully as the tries allow; says where lots lie, those that stay out are missing."""
        numbers = sorted(choices)
        sizes = [(choices[number].candidate.cols, choices[number].candidate.rows) for number in numbers]
        turn = [choices[number].candidate.may_turn for number in numbers]
        free, step = self.problem.free[place], self._steps[place]
        packing = pack_free(free, step, sizes, tries=tries, random=self.random, turn=turn)
        self.tries += packing.tries
        return {number: spot for number, spot in zip(numbers, packing.spots, strict=True) if spot is not None}

    def take(self, chosen: Iterable[Choice | None], *, tries: int) -> None:
        """Pack a whole assignment; what does not fit into its space is left out."""
        self.chosen = list(chosen)
        self.spots = [None] * len(self.chosen)
        for place in range(len(self.problem.grids)):
            here = {n: choice for n, choice in enumerate(self.chosen) if choice and choice.grid == place}
            spots = self.fill_space(place, here, tries)
            for number in here:
                if number in spots:
                    self.spots[number] = spots[number]
                else:
                    self.chosen[number] = None
            self.inside[place] = sorted(spots)
            self._refresh(place)

    def lay(self, chosen: Iterable[Choice | None], spots: Iterable[Spot | None]) -> None:
        """Take over a layout that somebody else has packed."""
        self.restore((list(chosen), list(spots)))

    def put(self, place: int, spots: Mapping[int, Spot | None]) -> None:
        """Lay the lots of a space elsewhere in it."""
        for number, spot in spots.items():
            self.spots[number] = spot
        self._refresh(place)

    def _refresh(self, place: int) -> None:
        """Free cells and mass of a space, from what is in it."""
        free = self.problem.free[place]
        for number in self.inside[place]:
            free &= ~self._cells(place, number)
        self.free[place] = free
        self.mass_g[place] = sum(choice.mass_g for n in self.inside[place] if (choice := self.chosen[n]))

    def _cells(self, place: int, number: int) -> int:
        """The cells that a placed lot covers."""
        choice, spot = self.chosen[number], self.spots[number]
        if choice is None or spot is None:
            return 0
        cols, rows = choice.candidate.cols, choice.candidate.rows
        _, block = self._shape(place, *((rows, cols) if spot.turned else (cols, rows)))
        return block << (spot.row * self._steps[place] + spot.col)

    def _shape(self, place: int, cols: int, rows: int) -> tuple[tuple[int, ...], int]:
        """Shifts and cells of a footprint in a space, worked out once."""
        key = (self._steps[place], cols, rows)
        if key not in self._shapes:
            self._shapes[key] = (shifts_for(cols, rows, key[0]), rectangle(cols, rows, key[0]))
        return self._shapes[key]
