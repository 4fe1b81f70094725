"""Bedfuls, hours and rules as columns of whole numbers, as the kernels take them.

Printers, bedfuls, materials and spaces are numbers here, in the order of their ids. A printer and a bedful that it may
print have a *row* of spans for each way to begin: with the filament that is loaded, and with a change of it. Material 0
is one that no bedful needs: what a printer has loaded that nobody said.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nookwright.making.schedule.gates import dried

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from nookwright.making.schedule.model import Bedful
    from nookwright.making.schedule.spans import Spans
    from nookwright.making.schedule.starts import Starts

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]


class Columns(NamedTuple):
    """Everything that a kernel looks up.

    Attributes:
        row: by printer, bedful and whether the filament is changed: its row of spans; -1 where it has none.
        at: where each row begins in the two that follow.
        first, end: of each span in which a change of bed may begin.
        work: minutes of a change of bed, by printer and whether the filament is changed.
        run: minutes of a run, by printer and bedful.
        ready: minute at which its filament is dry, by bedful.
        material: by bedful.
        rank: see ``Rules.rank``, by bedful.
        risk_g: what is lost if it fails, by bedful.
        night_at, night_first, night_end: nights with nobody there, by printer, as the spans.
        space_at, space: the spaces that wait for each bedful.
        loaded: material at first, by printer.
        people: how many beds can be changed at the same time, and the minute of the beginning.
    """

    row: Ints
    at: Ints
    first: Ints
    end: Ints
    work: Ints
    run: Ints
    ready: Ints
    material: Ints
    rank: Ints
    risk_g: Floats
    night_at: Ints
    night_first: Ints
    night_end: Ints
    space_at: Ints
    space: Ints
    loaded: Ints
    people: Ints


class Tables(NamedTuple):
    """Columns, and what their numbers stand for."""

    columns: Columns
    printers: tuple[str, ...]
    bedfuls: tuple[str, ...]
    spaces: tuple[str, ...]


def tables_of(bedfuls: Sequence[Bedful], starts: Starts, begin: int, loaded: Mapping[str, str]) -> Tables:
    """Everything that kernels need of some bedfuls.

    Args:
        bedfuls: of one stage.
        starts: when they may begin.
        begin: minute at which they may begin.
        loaded: material that each printer has loaded.
    """
    some = sorted(bedfuls, key=lambda one: one.id)
    printers = tuple(sorted(starts.hours))
    materials = {name: number for number, name in enumerate(sorted({one.material for one in some}), start=1)}
    spaces = tuple(sorted({space for one in some for space in one.spaces}))
    rows = _Rows()
    row = np.full((len(printers), len(some), 2), -1, np.int64)
    run = np.zeros((len(printers), len(some)), np.int64)
    for number, one in enumerate(some):
        for way in one.ways:
            if way.printer in starts.hours:
                place = printers.index(way.printer)
                run[place, number] = starts.run(one, way.printer)
                for change in (False, True):
                    row[place, number, int(change)] = rows.of(starts.at(one, way.printer, change=change))
    nights = _Rows()
    for printer in printers:
        nights.add(starts.hours[printer].nights)
    ready = dried(starts, begin)
    columns = Columns(
        row,
        *rows.columns,
        work=_ints([[starts.work(printer, change=change) for change in (False, True)] for printer in printers]),
        run=run,
        ready=_ints([max(begin, ready.get(one.material, begin)) for one in some]),
        material=_ints([materials[one.material] for one in some]),
        rank=_ints([starts.rules.rank(one) for one in some]),
        risk_g=np.array([one.mass_g for one in some], np.float64),
        night_at=nights.columns[0],
        night_first=nights.columns[1],
        night_end=nights.columns[2],
        space_at=_ints(np.cumsum([0, *(len(one.spaces) for one in some)])),
        space=_ints([spaces.index(space) for one in some for space in one.spaces]),
        loaded=_ints([materials.get(loaded.get(printer, ""), 0) for printer in printers]),
        people=_ints([starts.rules.people, begin]),
    )
    return Tables(columns, printers, tuple(one.id for one in some), spaces)


class _Rows:
    """Spans one after another, each row of them once."""

    def __init__(self) -> None:
        self._known: dict[Spans, int] = {}
        self._at, self._spans = [0], list[tuple[int, int]]()

    def of(self, spans: Spans) -> int:
        """The row of some spans; -1 for none."""
        if spans and spans not in self._known:
            self._known[spans] = self.add(spans)
        return self._known.get(spans, -1)

    def add(self, spans: Spans) -> int:
        """A new row."""
        self._spans.extend(spans)
        self._at.append(len(self._spans))
        return len(self._at) - 2

    @property
    def columns(self) -> tuple[Ints, Ints, Ints]:
        """Where each row begins, and the firsts and ends of all spans."""
        pairs = _ints(self._spans).reshape(-1, 2)
        return _ints(self._at), np.ascontiguousarray(pairs[:, 0]), np.ascontiguousarray(pairs[:, 1])


def _ints(some: object) -> Ints:
    return np.asarray(some, np.int64)
