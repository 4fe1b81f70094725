"""Packing the footprints of one space into its cells.

An order of the footprints, each with the way it lies, is turned into a packing by putting one after the other
on the front-most, then left-most place that is free (bottom-left, after Baker, Coffman and Rivest 1980). The
search changes the order and the turns, keeps what is not worse, and stops when everything is in or the tries
are used up: it never looks at a clock. What it does not know: masses, heights, costs.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING, NamedTuple

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.bits import free_cells, rectangle, shifts_for, stride

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

LEG = Fact(
    100,
    unit="tries",
    kind=Kind.MEASURED,
    source="For each footprint: on perfect packings of 16 to 30, best of 100 to 400.",
)
BRING_SHARE = Fact(0.1, unit="1", kind=Kind.CHOICE, source="Share of changes that bring forward what stayed out.")
TURN_SHARE = Fact(0.2, unit="1", kind=Kind.CHOICE, source="Share of changes that turn one footprint.")
MOVE_SHARE = Fact(0.4, unit="1", kind=Kind.CHOICE, source="Share of changes that move one; the others swap two.")

# How large a footprint of a short and a long side is, first by area, long side, short side, girth; largest first.
_MEASURES: tuple[Callable[[int, int], tuple[int, int]], ...] = (
    lambda short, long: (-short * long, -long),
    lambda short, long: (-long, -short),
    lambda short, long: (-short, -long),
    lambda short, long: (-short - long, -long),
)


class Spot(NamedTuple):
    """Where a footprint lies: its front left cell, and whether it is turned by 90 degrees."""

    col: int
    row: int
    turned: bool


@dataclass(frozen=True)
class Packing:
    """What the search found.

    Attributes:
        spots: one for each footprint, in the order asked; ``None`` for one that stayed out.
        order: the order and turns that give this packing, to start the next search from.
        tries: packings made.
    """

    spots: tuple[Spot | None, ...]
    order: tuple[tuple[int, bool], ...]
    tries: int

    @property
    def complete(self) -> bool:
        """Whether everything is in."""
        return None not in self.spots


class _Search:
    """One search on one space; holds the current order and the state before each of its steps."""

    def __init__(self, free: int, step: int, items: Sequence[tuple[int, int]], *, turn: bool) -> None:
        self.step = step
        self.areas = [cols * rows for cols, rows in items]
        made: dict[tuple[int, int], tuple[tuple[int, ...], int]] = {}
        for cols, rows in items:
            for size in ((cols, rows), (rows, cols)):
                made.setdefault(size, (shifts_for(*size, step), rectangle(*size, step)))
        self.lies = [(made[cols, rows], made[rows, cols] if turn and cols != rows else None) for cols, rows in items]
        self.free = free
        self.order: list[tuple[int, bool]] = []
        self.before: list[tuple[int, int]] = []  # free cells and area left out before each step
        self.at: list[int] = []  # bit of the place taken in each step; -1 for none
        self.lying: list[bool] = []  # whether it lies turned there
        self.left = sum(self.areas) + 1  # area that stayed out
        self.tries = 0
        self.turn_share = float(TURN_SHARE) if turn else 0.0

    def decode(self, order: list[tuple[int, bool]], start: int) -> bool:
        """Pack in this order from step ``start`` on; take it over unless more area stays out than before."""
        self.tries += 1
        free, left = self.before[start] if start else (self.free, 0)
        limit, areas, lies = self.left, self.areas, self.lies
        before: list[tuple[int, int]] = []
        at: list[int] = []
        lying: list[bool] = []
        for number in range(start, len(order)):
            item, turned = order[number]
            before.append((free, left))
            ways = lies[item]
            way = ways[turned] or ways[0]
            mask = free
            for shift in way[0]:
                mask &= mask >> shift
            if not mask:
                other = ways[not turned]
                if other is not None:
                    way, turned, mask = other, not turned, free
                    for shift in way[0]:
                        mask &= mask >> shift
                if not mask:
                    left += areas[item]
                    if left > limit:
                        return False
                    at.append(-1)
                    lying.append(False)
                    continue
            bit = (mask & -mask).bit_length() - 1
            free ^= way[1] << bit
            at.append(bit)
            lying.append(turned and ways[1] is not None)
        self.order, self.left = order, left
        self.before[start:], self.at[start:], self.lying[start:] = before, at, lying
        return True

    def run(self, starts: Sequence[list[tuple[int, bool]]], tries: int, random: Random) -> Packing:
        """The best packing of several legs, each from the starts on; stops when all is in or the tries are used up."""
        leg = int(LEG * max(1, len(self.areas)))
        best, least = self._result(), sum(self.areas) + 1
        while least and self.tries < tries:
            self.left = sum(self.areas) + 1
            self._leg(starts, min(tries, self.tries + leg), random)
            if self.left < least:
                best, least = self._result(), self.left
        return Packing(best.spots, best.order, self.tries)

    def _leg(self, starts: Sequence[list[tuple[int, bool]]], tries: int, random: Random) -> None:
        """Decode the starts, then change the best of them until all is in or the tries are used up."""
        for start in starts:
            if self.left and self.tries < tries:
                self.decode(start, 0)
        while self.left and self.tries < tries:
            order = self.order.copy()
            self.decode(order, self._change(order, random))

    def _change(self, order: list[tuple[int, bool]], random: Random) -> int:
        """Change the order in place; says from which step on."""
        count = len(order)
        draw = random.random()
        one = int(random.random() * count)
        if draw < BRING_SHARE:
            out = [step for step, bit in enumerate(self.at) if bit < 0]
            one = out[int(random.random() * len(out))]
            two = int(random.random() * (one + 1))
            order.insert(two, order.pop(one))
            return two
        if draw < BRING_SHARE + self.turn_share:
            item, turned = order[one]
            order[one] = (item, not turned)
            return one
        two = int(random.random() * count)
        if draw < BRING_SHARE + self.turn_share + MOVE_SHARE:
            order.insert(two, order.pop(one))
        else:
            order[one], order[two] = order[two], order[one]
        return min(one, two)

    def _result(self) -> Packing:
        """The current packing."""
        spots: list[Spot | None] = [None] * len(self.areas)
        for (item, _), bit, turned in zip(self.order, self.at, self.lying, strict=True):
            if bit >= 0:
                spots[item] = Spot(bit % self.step, bit // self.step, turned)
        return Packing(tuple(spots), tuple(self.order), self.tries)


def _starts(items: Sequence[tuple[int, int]]) -> list[list[tuple[int, bool]]]:
    """Orders worth a first look: large before small by several measures, lying wide or deep."""
    return [
        [
            (number, (items[number][0] < items[number][1]) == wide)
            for number in sorted(range(len(items)), key=lambda one: (*measure(*sorted(items[one])), one))
        ]
        for measure in _MEASURES
        for wide in (True, False)
    ]


def pack(
    cols: int,
    rows: int,
    blocked: Iterable[tuple[int, int]],
    items: Sequence[tuple[int, int]],
    *,
    tries: int,
    seed: int,
    turn: bool = True,
    start: Sequence[tuple[int, bool]] | None = None,
) -> Packing:
    """Pack footprints into a space as fully as the tries allow; the same arguments give the same packing."""
    random = Random(seed)  # noqa: S311 - nothing secret
    return pack_free(
        free_cells(cols, rows, blocked),
        stride(cols),
        items,
        tries=tries,
        random=random,
        turn=turn,
        start=start,
    )


def pack_free(
    free: int,
    step: int,
    items: Sequence[tuple[int, int]],
    *,
    tries: int,
    random: Random,
    turn: bool = True,
    start: Sequence[tuple[int, bool]] | None = None,
) -> Packing:
    """Pack into a mask of free cells (see ``bits``); ``start`` is an order to begin with."""
    search = _Search(free, step, items, turn=turn)
    return search.run([list(start)] if start is not None else _starts(items), tries, random)
