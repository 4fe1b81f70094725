"""Groups of cells: what hangs together, and what hangs together well enough to be one panel."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection

Cell = tuple[int, int]
Border = tuple[Cell, Cell]


def neighbours(cell: Cell) -> tuple[Cell, ...]:
    """The four cells beside one."""
    col, row = cell
    return (col + 1, row), (col - 1, row), (col, row + 1), (col, row - 1)


def components(cells: Collection[Cell], closed: Collection[Border] = ()) -> tuple[tuple[Cell, ...], ...]:
    """Groups of cells that hang together by their sides, each sorted, in order of their first cell.

    Args:
        cells: all cells.
        closed: borders, as sorted pairs of cells, across which nothing hangs together.
    """
    left, groups = set(cells), []
    while left:
        start = min(left)
        left.discard(start)
        group, edge = {start}, [start]
        while edge:
            cell = edge.pop()
            near = {other for other in neighbours(cell) if other in left and _border(cell, other) not in closed}
            left -= near
            group |= near
            edge += sorted(near)
        groups.append(tuple(sorted(group)))
    return tuple(groups)


def in_squares(cells: Collection[Cell]) -> set[Cell]:
    """Those of the cells that lie in a square of 2 x 2 of them: a panel needs one to carry a cell."""
    there = set(cells)
    squares = ({(c, r), (c + 1, r), (c, r + 1), (c + 1, r + 1)} for c, r in there)
    return {cell for square in squares if square <= there for cell in square}


def sound_groups(cells: Collection[Cell]) -> tuple[tuple[Cell, ...], ...]:
    """Groups of cells none of which hangs on the rest by a single cell side; each makes a panel.

    A side whose loss would part a group is where a panel would break, so the group is parted there at once.
    """
    return components(cells, _bridges(set(cells)))


def holes(cols: int, rows: int, missing: Collection[Cell]) -> tuple[tuple[Cell, ...], ...]:
    """Groups of missing cells of a rectangle, corner to corner too, that do not reach its outside.

    Args:
        cols: of the rectangle.
        rows: of it.
        missing: its cells that are not there.

    >>> holes(3, 3, [(1, 1)]), holes(3, 3, [(1, 1), (0, 0)])
    ((((1, 1),),), ())
    """
    left, found = set(missing), []
    while left:
        group, edge = set(), [min(left)]
        while edge:
            col, row = edge.pop()
            group.add((col, row))
            near = {(col + x, row + y) for x in (-1, 0, 1) for y in (-1, 0, 1)} & left - group
            left -= near
            edge += sorted(near)
        left -= group
        if all(0 < col < cols - 1 and 0 < row < rows - 1 for col, row in group):
            found.append(tuple(sorted(group)))
    return tuple(found)


def _bridges(cells: set[Cell]) -> set[Border]:
    """Borders without which the cells on both sides no longer hang together.

    A border that two neighbouring pairs of cells share is none, so only the few that are left are tried.
    """
    return {
        border
        for border in sorted(_lone_borders(cells))
        if not any({*border} <= set(group) for group in components(cells, {border}))
    }


def _lone_borders(cells: set[Cell]) -> set[Border]:
    """Borders between two cells that lie side by side in no square of 2 x 2."""
    found = set()
    for col, row in cells:
        for dx, dy in ((1, 0), (0, 1)):
            other = (col + dx, row + dy)
            if other not in cells:
                continue
            beside = ({(col + s * dy, row + s * dx), (other[0] + s * dy, other[1] + s * dx)} for s in (-1, 1))
            if not any(pair <= cells for pair in beside):
                found.add(((col, row), other))
    return found


def _border(one: Cell, other: Cell) -> Border:
    return (one, other) if one < other else (other, one)
