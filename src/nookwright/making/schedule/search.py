"""The schedule that ends first, exactly, where the bedfuls are few: a path through them for each printer.

A path tells which bedful comes right before which, so that changes of filament are known; the hours become the minutes
at which a change of bed may begin. For more bedfuls see ``improve`` and ``prices``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from nookwright.ground.sources import Fact, Kind
from nookwright.making.schedule.decode import slot_at
from nookwright.making.schedule.effort import solver_of
from nookwright.making.schedule.gates import dried
from nookwright.making.schedule.spans import both

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.schedule.model import Bedful, Slot
    from nookwright.making.schedule.spans import Spans
    from nookwright.making.schedule.starts import Starts

FEW = Fact(8, unit="1", kind=Kind.CHOICE, source="Bedfuls of a stage up to which the exact model ends in a second.")


@dataclass(frozen=True)
class Found:
    """What the search found: slots in order of time, and the minute before which none can end."""

    slots: tuple[Slot, ...]
    bound: int


def exact(
    bedfuls: Sequence[Bedful],
    starts: Starts,
    begin: int,
    *,
    quick: Sequence[Slot],
    bound: int,
    effort: float,
    loaded: Mapping[str, str],
    by: Mapping[str, int] | None = None,
) -> Found:
    """Search from an instant answer.

    Args:
        bedfuls: of one stage; each is in the instant answer.
        starts: when they may begin.
        begin: minute at which they may begin.
        quick: the instant answer.
        bound: minute before which no schedule can end, by counting.
        effort: how long, in the solver's steps.
        loaded: material that each printer has loaded.
        by: minute by which a bedful must have ended, by its id; those that have time are left out.
    """
    model = _Model(bedfuls, starts, begin, max(slot.end for slot in quick), loaded=loaded, by=by or {})
    return model.soonest(tuple(quick), bound, effort)


@dataclass
class _Times:
    """The variables of one bedful: when its work begins, when its run begins, when it ends."""

    work: Any
    begin: Any
    end: Any
    change: Any
    here: dict[str, Any] = field(default_factory=dict)  # whether on a printer


class _Model:
    """The model of one schedule; every schedule of it ends by a given minute."""

    def __init__(
        self,
        bedfuls: Sequence[Bedful],
        starts: Starts,
        begin: int,
        horizon: int,
        *,
        loaded: Mapping[str, str],
        by: Mapping[str, int],
    ) -> None:
        from ortools.sat.python import cp_model

        self.loaded, self.by = loaded, by
        self.cp, self.model = cp_model, cp_model.CpModel()
        self.bedfuls, self.starts, self.begin, self.horizon = tuple(bedfuls), starts, begin, horizon
        self.times = {one.id: self._times(one) for one in self.bedfuls}
        self.arcs: dict[str, list[tuple[int, int, Any]]] = {}
        for printer in starts.hours:
            self._path(printer)
        self._hands()
        self.end = self.model.new_int_var(begin, horizon, "end")
        self.model.add_max_equality(self.end, [times.end for times in self.times.values()])

    def _domain(self, spans: Spans) -> Any:  # noqa: ANN401 - the solver's own type
        kept = both(spans, ((self.begin, self.horizon + 1),))
        return self.cp.Domain.from_intervals([[first, end - 1] for first, end in kept])

    def _times(self, bedful: Bedful) -> _Times:
        """A bedful's variables, tied to the hours of the printer that it is on."""
        ready = dried(self.starts, self.begin).get(bedful.material, self.begin)
        work, begin, end = (
            self.model.new_int_var(ready, self.horizon, f"{name} {bedful.id}") for name in ("work", "begin", "end")
        )
        times = _Times(work, begin, end, self.model.new_bool_var(f"change {bedful.id}"))
        self.model.add(end <= self.by.get(bedful.id, self.horizon))
        for way in bedful.ways:
            here = self.model.new_bool_var(f"{bedful.id} on {way.printer}")
            times.here[way.printer] = here
            run = self.starts.run(bedful, way.printer)
            self.model.add(end == begin + run).only_enforce_if(here)
            for change, literal in ((False, ~times.change), (True, times.change)):
                minutes = self.starts.work(way.printer, change=change)
                allowed = self._domain(self.starts.at(bedful, way.printer, change=change))
                self.model.add(begin == work + minutes).only_enforce_if(here, literal)
                self.model.add_linear_expression_in_domain(work, allowed).only_enforce_if(here, literal)
        self.model.add_exactly_one(times.here.values())
        return times

    def _path(self, printer: str) -> None:
        """The order of the bedfuls on a printer, as a path, and the changes of filament that follow from it."""
        mine = [one for one in self.bedfuls if printer in self.times[one.id].here]
        arcs: list[tuple[int, int, Any]] = [(0, 0, self.model.new_bool_var(f"{printer} idle"))]
        busy = []
        for at, one in enumerate(mine, start=1):
            times = self.times[one.id]
            first, last = self.model.new_bool_var(""), self.model.new_bool_var("")
            arcs += [(0, at, first), (at, 0, last), (at, at, ~times.here[printer])]
            self._tie(first, times, change=one.material != self.loaded.get(printer, ""))
            least = self.starts.work(printer, change=False) + self.starts.run(one, printer)
            busy.append(
                self.model.new_optional_interval_var(
                    times.end - least, least, times.end, times.here[printer], f"{one.id} on {printer}"
                )
            )
        for before, one in enumerate(mine, start=1):
            for after, other in enumerate(mine, start=1):
                if before != after:
                    arc = self.model.new_bool_var("")
                    arcs.append((before, after, arc))
                    self._tie(arc, self.times[other.id], change=one.material != other.material)
                    self.model.add(self.times[other.id].work >= self.times[one.id].end).only_enforce_if(arc)
        if mine:
            self.model.add_circuit(arcs)
            self.model.add_no_overlap(busy)
        self.arcs[printer] = arcs

    def _tie(self, arc: Any, times: _Times, *, change: bool) -> None:  # noqa: ANN401 - the solver's own type
        self.model.add_implication(arc, times.change if change else ~times.change)

    def _hands(self) -> None:
        """No more beds are changed at a time than there are people."""
        if self.starts.rules.people >= len(self.starts.hours):
            return
        changes = [
            self.model.new_interval_var(times.work, self._length(one), times.begin, f"change of {one.id}")
            for one in self.bedfuls
            for times in (self.times[one.id],)
        ]
        self.model.add_cumulative(changes, [1] * len(changes), self.starts.rules.people)

    def _length(self, bedful: Bedful) -> Any:  # noqa: ANN401 - the solver's own type
        longest = max(self.starts.work(way.printer, change=True) for way in bedful.ways)
        return self.model.new_int_var(0, longest, f"length of change of {bedful.id}")

    def soonest(self, slots: tuple[Slot, ...], bound: int, effort: float) -> Found:
        """The slots that end first, and the minute before which none can."""
        self.model.add(self.end >= bound)
        self.model.minimize(self.end)
        self._hint(slots)
        solver = solver_of(effort)
        solver.parameters.relative_gap_limit = 0.0
        status = solver.solve(self.model)
        if status not in (self.cp.OPTIMAL, self.cp.FEASIBLE):
            return Found(slots, bound)
        found = self._slots(solver)
        end = max(slot.end for slot in found)
        return Found(found, min(end, max(bound, -int(-solver.best_objective_bound // 1))))

    def _hint(self, slots: Sequence[Slot]) -> None:
        """Begin from these slots."""
        order: dict[str, list[Slot]] = {}
        for slot in sorted(slots):
            times = self.times[slot.bedful]
            for variable, value in (
                (times.work, slot.work), (times.begin, slot.begin), (times.end, slot.end), (times.change, slot.changes),
            ):  # fmt: skip
                self.model.add_hint(variable, value)
            for printer, here in times.here.items():
                self.model.add_hint(here, printer == slot.printer)
            order.setdefault(slot.printer, []).append(slot)
        for printer, arcs in self.arcs.items():
            self._hint_path(printer, arcs, [slot.bedful for slot in order.get(printer, [])])
        self.model.add_hint(self.end, max(slot.end for slot in slots))

    def _hint_path(self, printer: str, arcs: Sequence[tuple[int, int, Any]], names: Sequence[str]) -> None:
        number = {
            one.id: at
            for at, one in enumerate((one for one in self.bedfuls if printer in self.times[one.id].here), start=1)
        }
        path = [0, *(number[name] for name in names), 0]
        taken = set(pairwise(path))
        for before, after, arc in arcs:
            if before != after or before == 0:
                self.model.add_hint(arc, (before, after) in taken)

    def _slots(self, solver: Any) -> tuple[Slot, ...]:  # noqa: ANN401 - the solver's own type
        """The slots that the solver holds."""
        found = []
        for one in self.bedfuls:
            times = self.times[one.id]
            printer = next(name for name, here in times.here.items() if solver.boolean_value(here))
            work, begin, end = (solver.value(variable) for variable in (times.work, times.begin, times.end))
            found.append(
                slot_at(one, self.starts, printer, (work, begin, end), changes=solver.boolean_value(times.change))
            )
        return tuple(sorted(found))
