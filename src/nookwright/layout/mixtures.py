"""Before anything is designed: what mixes, and what settling on one size, or sharing a tray, would save.

Every figure is found by making the candidates again as they would be then, and comparing the cheapest ones. Nothing is
changed: the person decides, and each note says what to write.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import combinations
from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.layout.candidates import priced, ranked
from nookwright.module.estimates import MM2_PER_DM2
from nookwright.sizing.tray_needs import PLAIN
from nookwright.sizing.ways import PartKind
from nookwright.sizing.ways.every import ways_of
from nookwright.sizing.ways.household import together
from nookwright.survey.models import Keep, Shape
from nookwright.survey.tray_wishes import TrayWishes

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.layout.model import Candidate
    from nookwright.module.module import Module
    from nookwright.sizing.lot_sizes import Terms
    from nookwright.sizing.tray_needs import TrayNeeds
    from nookwright.sizing.ways import Limits, Way
    from nookwright.survey.models import Lot, Room

NEARLY = Fact(
    1.25,
    unit="1",
    kind=Kind.CHOICE,
    source="Sizes of one kind that differ by less serve the same; one of them would do.",
)
SAME = Fact(1.01, unit="1", kind=Kind.CHOICE, source="Sizes that differ by less are one size, measured twice.")
WORTH_G = Fact(12.0, unit="g", kind=Kind.CHOICE, source="Less plastic is not worth a note: half an hour of printing.")
WORTH_DM2 = Fact(0.4, unit="dm2", kind=Kind.CHOICE, source="Less floor is no place for anything: 60 x 60 mm.")
MOST_NOTES = Fact(3, unit="1", kind=Kind.CHOICE, source="Of each kind, the ones that save most; the others can wait.")
MOST_TRIED = Fact(
    6, unit="1", kind=Kind.CHOICE, source="Of a group, so many of the smallest trays are tried with each other."
)
MOST_SHARING = Fact(3, unit="1", kind=Kind.CHOICE, source="More lots side by side make a gutter that no hand lifts.")
_LEAST_SAID_DM2 = 0.05  # less is none in the tenths that are said


@dataclass(frozen=True)
class Household:
    """What candidates are made with.

    Attributes:
        room: as surveyed.
        module: the household's module.
        limits: the largest insides of the room.
        needs: by id of a lot, what the options of its tray take.
        ways: by id of a lot, all ways to keep it.
        terms: what holds for all lots.
    """

    room: Room
    module: Module
    limits: Limits
    needs: Mapping[str, TrayNeeds]
    ways: Mapping[str, Sequence[Way]]
    terms: Terms

    def best(self, lot: str, ways: Sequence[Way]) -> Candidate | None:
        """The cheapest candidate of some ways; boxes of the person's own do not count."""
        printed = [way for way in ways if way.box is None]
        found = ranked(priced(lot, printed, self.module, 0.0, weights=self.room.choices.weights))
        return found[0] if found else None

    @cached_property
    def owns(self) -> dict[str, Candidate | None]:
        """The cheapest candidate of every lot as it is."""
        return {lot.id: self.best(lot.id, self.ways[lot.id]) for lot in self.room.lot}

    def own(self, lot: Lot) -> Candidate | None:
        """The cheapest candidate of a lot as it is."""
        return self.owns[lot.id]

    def dm2(self, candidates: Sequence[Candidate]) -> float:
        """Floor that some candidates take."""
        return sum(one.cols * one.rows for one in candidates) * self.module.pitch**2 / MM2_PER_DM2


@dataclass(frozen=True)
class Mixture:
    """Lots that could be kept in less, and how much that saves.

    Attributes:
        lots: which, the one that the others follow first.
        saved_g: plastic of their parts.
        saved_dm2: floor that they take.
        fewer_parts: distinct parts that fall away.
    """

    lots: tuple[Lot, ...]
    saved_g: float
    saved_dm2: float
    fewer_parts: int

    @property
    def worth_saying(self) -> bool:
        """Whether it saves enough of one, and costs nothing of the other."""
        much = self.saved_g >= WORTH_G or self.saved_dm2 >= WORTH_DM2
        return much and min(self.saved_g, self.saved_dm2) >= 0

    @property
    def words(self) -> str:
        """What it saves, in words."""
        said = [f"{self.saved_g:.0f} g of plastic"] if self.saved_g >= 1 else []
        said += [f"{self.saved_dm2:.1f} dm2 of floor"] if self.saved_dm2 >= _LEAST_SAID_DM2 else []
        said += [f"{self.fewer_parts} different part{'s' * (self.fewer_parts > 1)}"] if self.fewer_parts > 0 else []
        return _listed(said)


def about_mixtures(household: Household) -> tuple[Finding, ...]:
    """Notes on sizes that mix and on trays that could be shared, those first that save most.

    Args:
        household: what candidates are made with.
    """
    sizes = _most(settling(household))
    sharing_too = _most(sharing(household))
    return (*(_about_sizes(one) for one in sizes), *(_about_sharing(one) for one in sharing_too))


def _most(found: Sequence[Mixture]) -> list[Mixture]:
    """The few that save most, each lot in one of them."""
    kept: list[Mixture] = []
    for one in sorted(found, key=lambda each: (-round(each.saved_g, 6), each.lots[0].id)):
        named = {lot.id for other in kept for lot in other.lots}
        if len(kept) < MOST_NOTES and not named & {lot.id for lot in one.lots}:
            kept.append(one)
    return kept


def settling(household: Household) -> list[Mixture]:
    """Lots of things that differ a little in size, which one size would do for.

    Args:
        household: what candidates are made with.
    """
    found = []
    for family in _families(household.room.lot):
        one = _settled(household, family)
        if one and one.worth_saying:
            found.append(one)
    return found


def _families(lots: Sequence[Lot]) -> Iterator[tuple[Lot, ...]]:
    """Lots of nearly equal things, the size of the most things first; published sizes are what they are."""
    open_lots = [lot for lot in lots if lot.standard is None and lot.shape in _SIDES and _free(lot)]
    while open_lots:
        first = max(open_lots, key=lambda lot: lot.count)
        family = [lot for lot in open_lots if _nearly(first, lot)]
        open_lots = [lot for lot in open_lots if lot not in family]
        if len({_sizes(lot) for lot in family}) > 1 and any(_differ(first, lot) for lot in family):
            yield (first, *(lot for lot in family if lot is not first))


_SIDES = {Shape.ROUND: ("diameter", "height"), Shape.BOX: ("width", "depth", "height")}


def _free(lot: Lot) -> bool:
    return lot.shares is None and lot.box is None and lot.nests_by is None and lot.keep is not Keep.LOOSE


def _sizes(lot: Lot) -> tuple[float, ...]:
    return tuple(getattr(lot, side).largest for side in _SIDES[lot.shape or Shape.BOX])


def _nearly(one: Lot, other: Lot) -> bool:
    """Whether two lots hold things of one kind in nearly one size."""
    alike = one.shape is other.shape and one.group == other.group and one.keep is other.keep
    return alike and all(max(a, b) <= NEARLY * min(a, b) for a, b in zip(_sizes(one), _sizes(other), strict=True))


def _differ(one: Lot, other: Lot) -> bool:
    return any(max(a, b) > SAME * min(a, b) for a, b in zip(_sizes(one), _sizes(other), strict=True))


def _settled(household: Household, family: Sequence[Lot]) -> Mixture | None:
    """What it saves to have all things of a family in the size of its first lot, each lot in a part of its own."""
    first = family[0]
    sizes = {side: getattr(first, side) for side in (*_SIDES[first.shape or Shape.BOX], "made", "measured")}
    now = [household.own(lot) for lot in family]
    then = [household.best(lot.id, _ways(household, lot.model_copy(update=sizes))) for lot in family]
    before, after = [one for one in now if one], [one for one in then if one]
    if len(before) < len(family) or len(after) < len(family):
        return None
    return _mixture(household, family, before, after)


def _ways(household: Household, lot: Lot) -> tuple[Way, ...]:
    return ways_of(lot, household.limits, household.needs.get(lot.id, PLAIN), household.terms)


def _mixture(
    household: Household, lots: Sequence[Lot], before: Sequence[Candidate], after: Sequence[Candidate]
) -> Mixture:
    return Mixture(
        lots=tuple(lots),
        saved_g=sum(one.part_g for one in before) - sum(one.part_g for one in after),
        saved_dm2=household.dm2(before) - household.dm2(after),
        fewer_parts=len({_made(one) for one in before}) - len({_made(one) for one in after}),
    )


def _made(one: Candidate) -> tuple[object, ...]:
    """What makes a part another part."""
    way = one.way
    pockets = (way.columns, way.rows, way.arrangement) if way.pocket else ()
    return (way.kind, way.floor, *sorted((one.cols, one.rows)), one.height, way.pocket, pockets)


def sharing(household: Household) -> list[Mixture]:
    """Lots of one group that would take less in one tray with dividers, up to three of them.

    Args:
        household: what candidates are made with.
    """
    found = []
    for group in _groups(household):
        for number in range(2, int(MOST_SHARING) + 1):
            tried = (_shared(household, lots) for lots in combinations(group, number) if _uses(lots))
            found += [one for one in tried if one and one.worth_saying]
    return found


def _groups(household: Household) -> Iterator[list[Lot]]:
    """By group, the lots that have a small tray without wishes of its own."""
    groups: dict[str, list[tuple[int, int, Lot]]] = {}
    taken = {lot.shares for lot in household.room.lot}
    for number, lot in enumerate(household.room.lot):
        if not lot.group or not _free(lot) or lot.id in taken or lot.tray != TrayWishes():
            continue
        own = household.own(lot)
        if own and own.way.kind is PartKind.TRAY and lot.hazard is None:
            groups.setdefault(lot.group, []).append((own.cols * own.rows, number, lot))
    for rows in groups.values():
        yield [lot for _, _, lot in sorted(rows, key=lambda row: row[:2])[: int(MOST_TRIED)]]


def _uses(lots: Sequence[Lot]) -> bool:
    """Whether lots may lie together: the same must hold of where they may be kept, and how often they are used."""
    return len({(lot.use, lot.out_of_reach, lot.keep_cool, lot.keep_dry) for lot in lots}) == 1


def _shared(household: Household, lots: Sequence[Lot]) -> Mixture | None:
    """What it saves to keep some lots in one tray."""
    needs = household.needs.get(lots[0].id, PLAIN)
    one = household.best(lots[0].id, together(lots, household.limits, needs, household.terms))
    before = [own for lot in lots if (own := household.own(lot))]
    return _mixture(household, lots, before, [one]) if one and len(before) == len(lots) else None


def _about_sizes(one: Mixture) -> Finding:
    first, *others = one.lots
    names = _listed([lot.name or lot.id for lot in others])
    size = " x ".join(f"{side:g}" for side in _sizes(first))
    differ = "differ" if len(others) > 1 else "differs"
    text = (
        f"{names} {differ} a little from {first.name or first.id}: all in its size, {size} mm, they save {one.words}."
    )
    remedy = f"Before printing: get {names} in that size, or leave it as it is."
    return Finding("sizes-mix", Severity.NOTE, first.id, text, remedy)


def _about_sharing(one: Mixture) -> Finding:
    first, *others = one.lots
    names = _listed([lot.name or lot.id for lot in one.lots])
    text = f"In one tray with dividers, {names} save {one.words}."
    where = _listed([lot.id for lot in others])
    return Finding("tray-shared", Severity.NOTE, first.id, text, f'Write shares = "{first.id}" in the lot {where}.')


def _listed(names: Sequence[str]) -> str:
    """Names as a person lists them.

    >>> _listed(["a"]), _listed(["a", "b", "c"])
    ('a', 'a, b and c')
    """
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
