"""The parts of a space in better places: nothing is lost, nothing changes but where things lie.

For the tightest layout, and for spaces that are too full for rows. The space is packed again in other orders; then
parts of one footprint change places, what fills a rectangle is mirrored in it, and parts slide to a side, as long as
what people wish (``wishes``) and calm get better by it. It stops by counts.
"""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.bits import free_cells, rectangle, stride
from nookwright.layout.calm.quick import QuickJudge
from nookwright.layout.model import Placed
from nookwright.layout.packing import pack

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.layout.calm.judging import Judge
    from nookwright.layout.model import Candidate, Grid, Layout

PACKINGS = Fact(4, unit="packings", kind=Kind.CHOICE, source="Other orders looked at, besides the one that is there.")
TRIES = Fact(
    200, unit="tries", kind=Kind.CHOICE, source="For each of them; a space that was packed is packed soon again."
)
HARD_TRIES = Fact(20_000, unit="tries", kind=Kind.CHOICE, source="For parts that were not packed before.")
CHANGES = Fact(60, unit="changes/part", kind=Kind.MEASURED, source="On the demo's spaces, 200 found little more.")

Spots = tuple[Placed, ...]


def improved(layout: Layout, grids: Sequence[Grid], judge: Judge, *, seed: int) -> Layout:
    """The layout with the parts of each space in better places.

    Args:
        layout: what is placed.
        grids: the spaces.
        judge: says what an arrangement costs.
        seed: of what is drawn.
    """
    placed: list[Placed] = []
    for grid in grids:
        placed += settled(grid, layout.in_space(grid.space), judge, seed=seed)
    return replace(layout, placed=tuple(sorted(placed, key=lambda one: (one.space, one.row, one.col))))


def settled(grid: Grid, here: Sequence[Placed], judge: Judge, *, seed: int) -> Spots:
    """The parts of one space in better places; as they are where none is better.

    Args:
        grid: the space.
        here: what stands in it.
        judge: says what an arrangement costs.
        seed: of what is drawn.
    """
    if not here or any(one.level for one in here):  # what stands on another part moves with it, or not at all
        return tuple(here)
    random, quick = Random(seed), QuickJudge(judge, grid)  # noqa: S311 - nothing secret
    starts = [tuple(here), *_packings(grid, here, seed)]
    best = min(starts, key=lambda one: round(quick.cost(one), 6))  # of equals the first
    cost = quick.cost(best)
    for _ in range(int(CHANGES) * len(best)):
        other = _changed(grid, best, random)
        if other is None:
            continue
        price = quick.cost(other, limit=cost)
        if price <= cost:
            best, cost = other, price
    return tuple(sorted(best, key=lambda one: (one.row, one.col)))


def packed(grid: Grid, parts: Sequence[Candidate], *, seed: int) -> Spots | None:
    """Parts packed into a space; ``None`` if they do not all go in or are too heavy.

    Args:
        grid: the space.
        parts: what goes there.
        seed: of the packer.
    """
    if sum(one.mass_g for one in parts) > grid.load_g:
        return None
    sizes, turns = [(one.cols, one.rows) for one in parts], [one.may_turn for one in parts]
    packing = pack(grid.cols, grid.rows, grid.blocked, sizes, tries=int(HARD_TRIES), seed=seed, turn=turns)
    spots = [spot for spot in packing.spots if spot is not None]
    if len(spots) < len(parts):
        return None
    whole = (
        Placed(grid.space, 0, 0, one.cols, one.rows, turned=False, candidate=one, height=one.height) for one in parts
    )
    return tuple(_at(one, *spot) for one, spot in zip(whole, spots, strict=True))


def _packings(grid: Grid, here: Sequence[Placed], seed: int) -> list[Spots]:
    """The same parts packed in other orders; only packings that hold them all."""
    sizes = [(one.cols, one.rows) for one in here]
    turns = [one.candidate is None or one.candidate.may_turn for one in here]
    found = []
    for number in range(int(PACKINGS)):
        packing = pack(grid.cols, grid.rows, grid.blocked, sizes, tries=int(TRIES), seed=seed + number, turn=turns)
        spots = [spot for spot in packing.spots if spot is not None]
        if len(spots) == len(here):
            found.append(tuple(_at(one, *spot) for one, spot in zip(here, spots, strict=True)))
    return found


def _at(one: Placed, col: int, row: int, turned: bool) -> Placed:  # noqa: FBT001 - as the packer says it
    """A part elsewhere, and turned once more if so."""
    cols, rows = (one.rows, one.cols) if turned else (one.cols, one.rows)
    return replace(one, col=col, row=row, cols=cols, rows=rows, turned=one.turned != turned)


def _changed(grid: Grid, spots: Spots, random: Random) -> Spots | None:
    """Some change that keeps everything apart; ``None`` where the draw makes no sense."""
    return random.choice((_swapped, _mirrored, _mirrored, _slid))(grid, spots, random)


def _swapped(_: Grid, spots: Spots, random: Random) -> Spots | None:
    """Two parts of one footprint change places."""
    one = random.randrange(len(spots))
    size = (spots[one].cols, spots[one].rows)
    alike = [n for n, other in enumerate(spots) if n != one and (other.cols, other.rows) == size]
    if not alike:
        return None
    other = random.choice(alike)
    changed = list(spots)
    changed[one] = replace(spots[one], col=spots[other].col, row=spots[other].row)
    changed[other] = replace(spots[other], col=spots[one].col, row=spots[one].row)
    return tuple(changed)


def _mirrored(grid: Grid, spots: Spots, random: Random) -> Spots | None:
    """All that lies in the rectangle round two parts, or in the whole space, is mirrored in it."""
    one, other = random.choice(spots), random.choice(spots)
    left, front = min(one.col, other.col), min(one.row, other.row)
    right, back = max(one.col + one.cols, other.col + other.cols), max(one.row + one.rows, other.row + other.rows)
    if one is other:
        left, front, right, back = 0, 0, grid.cols, grid.rows
    inside = {
        n: p
        for n, p in enumerate(spots)
        if p.col < right and left < p.col + p.cols and p.row < back and front < p.row + p.rows
    }
    if not all(
        left <= p.col and p.col + p.cols <= right and front <= p.row and p.row + p.rows <= back for p in inside.values()
    ):
        return None
    across = random.randrange(2)
    changed = list(spots)
    for number, p in inside.items():
        if across:
            changed[number] = replace(p, col=left + right - p.col - p.cols)
        else:
            changed[number] = replace(p, row=front + back - p.row - p.rows)
    free = free_cells(grid.cols, grid.rows, grid.blocked)  # the others lie outside of the rectangle
    return tuple(changed) if all(_lies(grid, changed[number], free) for number in inside) else None


def _slid(grid: Grid, spots: Spots, random: Random) -> Spots | None:
    """One part slides to a side as far as it can."""
    number = random.randrange(len(spots))
    dx, dy = random.choice(((1, 0), (-1, 0), (0, 1), (0, -1)))
    free = free_cells(grid.cols, grid.rows, grid.blocked)
    for other in (*spots[:number], *spots[number + 1 :]):
        free &= ~_cells(grid, other)
    far, one = 0, spots[number]
    while _lies(grid, further := replace(one, col=one.col + dx, row=one.row + dy), free):
        far, one = far + 1, further
    return (*spots[:number], one, *spots[number + 1 :]) if far else None


def _cells(grid: Grid, one: Placed) -> int:
    """The cells of a part."""
    step = stride(grid.cols)
    return rectangle(one.cols, one.rows, step) << (one.row * step + one.col)


def _lies(grid: Grid, one: Placed, free: int) -> bool:
    """Whether a part lies inside, on free cells."""
    inside = one.col >= 0 and one.row >= 0 and one.col + one.cols <= grid.cols and one.row + one.rows <= grid.rows
    return inside and not _cells(grid, one) & ~free
