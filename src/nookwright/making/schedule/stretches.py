"""Which bedful begins in which stretch of someone's presence: the heart of a schedule, and a bound of it.

In a stretch the printer gets a few bedfuls that end while someone is there, and one at last that may run on through the
absence. This alone decides most of when all is done. What is left out makes it easier than it is: the order inside a
stretch, hands that are busy at another printer, changes of filament but those of several colours in one stretch; so its
bound holds for every schedule, and its answer is a plan from which a schedule is made.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from nookwright.ground.sources import Fact, Kind
from nookwright.making.schedule.effort import solver_of
from nookwright.making.schedule.gates import dried
from nookwright.making.schedule.spans import both

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.schedule.model import Bedful, Slot
    from nookwright.making.schedule.spans import Span
    from nookwright.making.schedule.starts import Starts


WORKS = Fact(4, unit="1", kind=Kind.CHOICE, source="A stretch of fewer changes of a bed has no time to wait for hands.")


@dataclass(frozen=True)
class Planned:
    """Orders of bedfuls, one for each printer in each, and the minute before which no schedule can end."""

    orders: tuple[Mapping[str, tuple[str, ...]], ...]
    bound: int


@dataclass(frozen=True)
class _Place:
    """A bedful that begins in a stretch: literals for that, and for being the last that does."""

    bedful: Bedful
    begins: Any
    last: Any


def plan_stretches(
    bedfuls: Sequence[Bedful], starts: Starts, begin: int, *, quick: Sequence[Slot], bound: int, effort: float
) -> Planned:
    """Plan in which stretch each bedful begins, so that all ends as early as can be.

    Args:
        bedfuls: of one stage.
        starts: when they may begin.
        begin: minute at which they may begin.
        quick: a schedule of them.
        bound: minute before which none can end, as far as is known.
        effort: how long, in the solver's steps.
    """
    horizon = max(slot.end for slot in quick)
    easy = _solved(_Model(bedfuls, starts, begin, horizon), quick, least=bound, effort=effort / 2)
    if easy is None:
        return Planned((), bound)
    strict = _solved(_Model(bedfuls, starts, begin, horizon, strict=True), quick, least=easy.bound, effort=effort / 2)
    return Planned((*easy.orders, *(strict.orders if strict else ())), easy.bound)


def _solved(model: _Model, quick: Sequence[Slot], *, least: int, effort: float) -> Planned | None:
    """The best plan of a model that was found, and its bound; ``None`` where none was."""
    model.model.add(model.end >= least)
    model.model.minimize(model.end)
    model.hint(quick)
    solver = solver_of(effort)
    status = solver.solve(model.model)
    if status == model.cp.INFEASIBLE and not model.strict:  # not even the easier plan ends by then
        return Planned((), model.horizon)
    if status not in (model.cp.OPTIMAL, model.cp.FEASIBLE):
        return None
    bound = max(least, -int(-solver.best_objective_bound // 1))
    return Planned((model.order(solver),), min(bound, model.horizon))


class _Model:
    """The stretches of all printers up to a minute, and what begins in them.

    A strict model counts more changes of filament than there may be, and hands that are busy elsewhere once a stretch:
    it proves nothing, and its plans can be kept.
    """

    def __init__(
        self, bedfuls: Sequence[Bedful], starts: Starts, begin: int, horizon: int, *, strict: bool = False
    ) -> None:
        from ortools.sat.python import cp_model

        self.cp, self.model, self.strict = cp_model, cp_model.CpModel(), strict
        self.busy = strict and starts.rules.people < len(starts.hours)
        self.starts, self.begin, self.horizon = starts, begin, horizon
        self.end = self.model.new_int_var(begin, horizon, "end")
        self.dried = dried(starts, begin)
        self.places: dict[str, list[tuple[Span, list[_Place]]]] = {}
        homes: dict[str, list[Any]] = {one.id: [] for one in bedfuls}
        for printer in starts.hours:
            mine = [one for one in bedfuls if any(way.printer == printer for way in one.ways)]
            self.places[printer] = self._printer(printer, mine)
            for _, places in self.places[printer]:
                for place in places:
                    homes[place.bedful.id].append(place.begins)
        for literals in homes.values():
            self.model.add_exactly_one(literals)

    def _printer(self, printer: str, mine: Sequence[Bedful]) -> list[tuple[Span, list[_Place]]]:
        """The stretches of one printer in a row, each free from when what ran before it ends."""
        found: list[tuple[Span, list[_Place]]] = []
        carried: Any = 0  # minutes that a run goes on beyond the end of the stretch before
        ended = self.begin
        for first, end in both(self.starts.hours[printer].there, ((self.begin, self.horizon + 1),)):
            places = self._places(printer, mine, (first, end))
            if places:
                carried = self._stretch(printer, places, (first, end), carried - (first - ended))
                ended = end
                found.append(((first, end), places))
        self._in_order([places for _, places in found])
        return found

    def _places(self, printer: str, mine: Sequence[Bedful], stretch: Span) -> list[_Place]:
        """What may begin in a stretch; a bedful that cannot end in it must be its last."""
        found = []
        work = self.starts.work(printer, change=False)
        for bedful in mine:
            run = self.starts.run(bedful, printer)
            first = max(stretch[0], self.dried.get(bedful.material, self.begin))
            allowed = both(self.starts.at(bedful, printer, change=False), ((first, stretch[1]),))
            if not allowed or allowed[0][0] + work + run > self.horizon:
                continue
            begins = self.model.new_bool_var("")
            inside = allowed[0][0] + work + run < stretch[1]
            last = self.model.new_bool_var("") if inside else begins
            if inside:
                self.model.add_implication(last, begins)
            found.append(_Place(bedful, begins, last))
        return found

    def _stretch(self, printer: str, places: Sequence[_Place], stretch: Span, carried: Any) -> Any:  # noqa: ANN401
        """Tie the minutes of a stretch; what is returned is by how many its last run goes on beyond it."""
        first, end = stretch
        work, change = self.starts.work(printer, change=False), self.starts.hours[printer].change_min
        most = max(0, self.horizon - first)
        taken, through = self.model.new_int_var(0, end - first, ""), self.model.new_int_var(0, most, "")
        self.model.add(taken + through >= carried)
        used, last = self.model.new_bool_var(""), self.model.new_bool_var("")
        self.model.add_max_equality(used, [place.begins for place in places])
        self.model.add(sum(place.last for place in places) == last)
        self.model.add(through == 0).only_enforce_if(used)
        minutes = {place.bedful.id: work + self.starts.run(place.bedful, printer) for place in places}
        inner = sum(
            minutes[place.bedful.id] * (place.begins - place.last) for place in places if place.begins is not place.last
        ) + change * self._colours(places, used)
        if self.busy and end - first > WORKS * work:
            inner += work * used
        run_on = sum(minutes[place.bedful.id] * place.last for place in places)
        self.model.add(taken + inner + work * last <= end - first)
        over = self.model.new_int_var(0, max(0, self.horizon - end), "")
        self.model.add(over >= through)
        self.model.add(over >= taken + inner + run_on - (end - first))
        self.model.add(self.end >= first + taken + inner + run_on).only_enforce_if(used)
        for place in places:
            self._allowed(printer, place, stretch, (first + taken, inner, first + taken + inner + run_on))
        return over

    def _allowed(self, printer: str, place: _Place, stretch: Span, at: tuple[Any, Any, Any]) -> None:
        """A last bedful begins where its hours allow."""
        start, inner, after = at
        work, run = self.starts.work(printer, change=False), self.starts.run(place.bedful, printer)
        allowed = both(self.starts.at(place.bedful, printer, change=False), (stretch,))
        self.model.add(start + inner <= allowed[-1][1] - 1).only_enforce_if(place.last)
        ready = max(allowed[0][0], self.dried.get(place.bedful.material, self.begin))
        if ready > stretch[0]:
            self.model.add(after >= ready + work + run).only_enforce_if(place.begins)

    def _colours(self, places: Sequence[_Place], used: Any) -> Any:  # noqa: ANN401 - the solver's own type
        """How many colours beyond one begin in a stretch: so often at least the filament is changed in it."""
        colours: dict[str, list[Any]] = {}
        for place in places:
            colours.setdefault(place.bedful.material, []).append(place.begins)
        if len(colours) == 1 and not self.strict:
            return 0
        seen = []
        for literals in colours.values():
            seen.append(self.model.new_bool_var(""))
            self.model.add_max_equality(seen[-1], literals)
        return sum(seen) if self.strict else sum(seen) - used

    def _in_order(self, stretches: Sequence[Sequence[_Place]]) -> None:
        """Spaces never go back: what comes later in value begins in no earlier stretch."""
        rank = self.starts.rules.rank
        ranks = sorted({rank(place.bedful) for places in stretches for place in places})
        if len(ranks) < 2:  # noqa: PLR2004 - two, of which one comes first
            return
        lowest, highest = ranks[0], ranks[-1]
        level: Any = lowest
        for places in stretches:
            top = self.model.new_int_var(lowest, highest, "")
            self.model.add(top >= level)
            for place in places:
                mine = rank(place.bedful)
                self.model.add(level <= mine).only_enforce_if(place.begins)
                self.model.add(top >= mine).only_enforce_if(place.begins)
                if place.last is not place.begins or mine < highest:
                    self.model.add(top <= mine).only_enforce_if(place.last)
            level = top

    def hint(self, quick: Sequence[Slot]) -> None:
        """Begin from a schedule."""
        begins = {(slot.printer, slot.bedful): slot.work for slot in quick}
        for printer, stretches in self.places.items():
            for (first, end), places in stretches:
                for place in places:
                    at = begins.get((printer, place.bedful.id), -1)
                    self.model.add_hint(place.begins, first <= at < end)

    def order(self, solver: Any) -> Mapping[str, tuple[str, ...]]:  # noqa: ANN401 - the solver's own type
        """The bedfuls of each printer: stretch by stretch, by value, few changes of colour, the last last."""
        found = {}
        for printer, stretches in self.places.items():
            chosen: list[Bedful] = []
            for _, places in stretches:
                mine = [place for place in places if solver.boolean_value(place.begins)]
                last = next((place.bedful.id for place in mine if solver.boolean_value(place.last)), "")
                loaded = chosen[-1].material if chosen else self.starts.hours[printer].loaded
                chosen += self._in_turn([place.bedful for place in mine], loaded=loaded, last=last)
            found[printer] = tuple(one.id for one in chosen)
        return found

    def _in_turn(self, mine: Sequence[Bedful], *, loaded: str, last: str) -> list[Bedful]:
        """The bedfuls of one stretch: the colour that is loaded first, that of the last one at the end."""
        final = next((one.material for one in mine if one.id == last), "")
        return sorted(
            mine,
            key=lambda one: (
                one.id == last,
                self.starts.rules.rank(one),
                one.material != loaded,
                one.material == final,
                one.material,
                one.id,
            ),
        )
