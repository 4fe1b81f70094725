"""The layout of a whole room, better and better: at once, by prices, packed, annealed, with proof of how good it is.

``search`` gives one layout after the other; ``lay_out`` waits for the last. The order of work: a first layout in plain
Python; prices of the spaces and a bound (``search/prices``); assignments by annealing, fined where spaces are too full
(``search/loose``); every space packed; annealing in which every accepted move is packed (``search/tight``); meanwhile
the solver's bound in a thread of its own (``search/proof``). Every stage stops by counts, so the same input gives the
same layout on any machine; a generous clock is only a safety net, and the layout says when it was needed.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.progress import Progress, Silent
from nookwright.layout.effort import USUAL, Effort
from nookwright.layout.problem import problem_of
from nookwright.layout.search.work import Work

if TYPE_CHECKING:
    from collections.abc import Callable, Generator

    from nookwright.layout.model import Ask, Grid, Layout
    from nookwright.layout.search.easing import Lessen

__all__ = ["Effort", "lay_out", "search"]


def _never() -> bool:
    return False


def search(
    grids: tuple[Grid, ...],
    asks: tuple[Ask, ...],
    *,
    pitch: float,
    effort: Effort = USUAL,
    stop: Callable[[], bool] = _never,
) -> Generator[Layout, None, None]:
    """Layouts of a room, each no worse than the one before; the first comes at once, the last carries the proven bound.

    Close the iterator when enough is enough.

    Args:
        grids: the spaces.
        asks: the lots.
        pitch: size of a cell, mm; only for what is said about lots that are left out.
        effort: how hard to try.
        stop: asked now and then; the search ends with its best so far, marked as stopped, once this says so.

    Raises:
        LayoutError: the solver failed.
    """
    yield from Work(problem_of(grids, asks), effort, stop, pitch).layouts()


def lay_out(
    grids: tuple[Grid, ...],
    asks: tuple[Ask, ...],
    *,
    pitch: float,
    effort: Effort = USUAL,
    progress: Progress = Silent(),  # noqa: B008 - it holds no state
    stop: Callable[[], bool] = _never,
    lessen: Lessen | None = None,
) -> Layout:
    """Decide what goes where.

    Args:
        grids: the spaces.
        asks: the lots.
        pitch: size of a cell, mm; only for what is said about lots that are left out.
        effort: how hard to try.
        progress: who is told how far it is.
        stop: asked now and then; ends the search with its best so far.
        lessen: says what a lot would be with less room to grow, for the reasons why one is left out.

    Raises:
        LayoutError: the solver failed.
    """
    work = Work(problem_of(grids, asks), effort, stop, pitch, lessen)
    for _ in progress.track(work.steps(), work.count, "laying out"):
        pass
    return work.result()
