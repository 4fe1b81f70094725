"""How likely every seated part goes on, by the clearances that were found in its file, in every turn.

Drawn are scale, skew, the float of panels in their joints and a local error of each cone, as in ``module/seating.py``.
A bow adds what it does for certain: where a part hangs its cones reach less far in, so there is more room; and cones
lean. Each set of sockets is tried once for each pattern, size of panels, calibration, bow and turn. Turned by 180
degrees a part has the same scales and skew as before, and any place on the pattern is as likely: that case is the first
one again. A part that never meets more than one cone is certain: shifted, it meets that one.

Promise: a part that is named here goes on in less than the share that is asked for, or may. What it does not know: what
the printer adds to outsides and takes from insides everywhere; coupon and trials tell.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.seats.cones import pattern_of
from nookwright.checks.seats.sockets import matched
from nookwright.checks.seats.standing import hang_at
from nookwright.ground.digest import digest
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.module.pattern import PERIOD, Pattern, has_cone
from nookwright.module.seating import Seating, Turn, seating_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.checks.boxes import Floats
    from nookwright.checks.seats.drawn import Drawn
    from nookwright.checks.seats.members import Member
    from nookwright.checks.seats.standing import Stand
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import Kit, KitSpace
    from nookwright.ground.progress import Progress
    from nookwright.module.seating import Spread

LEAST = Fact(
    0.97, unit="1", kind=Kind.CHOICE, source="What the seat promises for any two parts of a household, in every turn."
)
TRIALS = Fact(
    1000, unit="1", kind=Kind.CALCULATED, source="A share of 97 % is then known to 0.9 % with a confidence of 95 %."
)
SEED = Fact(47, unit="1", kind=Kind.CHOICE, source="Any; fixed, so that the same kit gives the same figures.")
ONE_PANEL = Fact(
    100_000, unit="cells", kind=Kind.CHOICE, source="Side of a deck in the trials: no joint ever lies under a part."
)
_HALF = 0.5  # of a matrix of quarter turns: between 0 and 1
_TURNS = (Turn.NONE, Turn.QUARTER)


@dataclass(frozen=True, eq=False)
class Case:
    """What the probability of a part depends on.

    Attributes:
        places: (n, 2), middles of its sockets from its middle, one a cell, row by row, mm.
        clearances: (n,), of each, infinite where the part is open, mm.
        cells: along x and along y.
        pattern: of the cones under it.
        panel_cells: along each side of the panels.
        spread: how inexact the household is.
    """

    places: Floats
    clearances: Floats
    cells: tuple[int, int]
    pattern: Pattern
    panel_cells: int
    spread: Spread

    @property
    def question(self) -> str:
        """What a verdict depends on."""
        sockets = digest(np.round(np.column_stack([self.places, self.clearances]), _DIGITS).tobytes())
        return f"going on {sockets} {self.cells} {self.pattern} {self.panel_cells} {self.spread} {TRIALS:g} {SEED:g}"


@dataclass(frozen=True)
class Chance:
    """How likely a part goes on in one turn.

    Attributes:
        share: the likeliest value.
        at_most: upper bound with 95 % confidence.
    """

    share: float
    at_most: float


_DIGITS = 3  # of a clearance, mm


def check_going_on(
    kit: Kit, stands: Sequence[Stand], drawn: Drawn, verdicts: Verdicts, progress: Progress
) -> Iterator[Finding]:
    """Parts that are too unlikely to go on, and how likely all of them do.

    Args:
        kit: the kit, its references sound.
        stands: every seated part in its place.
        drawn: the seat of the household.
        verdicts: those reached before.
        progress: hears of every set of sockets that is tried.
    """
    cases: dict[str, Case] = {}
    stood: list[tuple[Stand, str]] = []
    panels = _panel_cells(kit, drawn)
    spaces = {space.id: space for space in kit.spaces}
    for stand in stands:
        if len(stand.cones):
            case = _case(stand, spaces[stand.placement.space], panels.get(stand.placement.space), drawn)
            cases.setdefault(case.question, case)
            stood.append((stand, case.question))
    chances = {
        question: _chances(case, verdicts)
        for question, case in progress.track(cases.items(), len(cases), "trying seats")
    }
    for question, names in _parts(stood).items():
        yield from _unlikely(names, chances[question])
    if stood:
        yield _together(stood, chances)


def most_met(case: Case) -> int:
    """The most cones that a part meets, over all places on its pattern.

    Args:
        case: the part.
    """
    cells = [(col, row) for row in range(case.cells[1]) for col in range(case.cells[0])]
    socket = np.isfinite(case.clearances)
    return max(
        sum(
            has_cone(col + right, row + back, case.pattern)
            for (col, row), one in zip(cells, socket, strict=True)
            if one
        )
        for right, back in product(PERIOD, PERIOD)
    )


def _case(stand: Stand, space: KitSpace, panel: int | None, drawn: Drawn) -> Case:
    """What a part in its place is tried with."""
    footprint, sockets = stand.footprint, stand.member.sockets
    nearest, _ = matched(sockets, footprint.places, drawn.pitch / 2)
    there = nearest >= 0
    places = footprint.places.copy()
    places[there] = sockets.places[nearest[there]]
    clearances = np.full(len(places), np.inf)
    clearances[there] = sockets.wide[nearest[there]] - drawn.seat.cone_base
    places = places - np.array(footprint.middle)
    if stand.on_floor:
        clearances = clearances + _by_bow(stand, space, places, drawn)
        pattern = pattern_of(space) or Pattern.EVERY_CELL
    else:
        pattern = Pattern.CHESSBOARD
    # Cones under a layout thin out a chessboard; the chessboard is the harder of the two.
    pattern = Pattern.CHESSBOARD if pattern is Pattern.UNDER_LAYOUT else pattern
    side = panel if stand.on_floor and panel else int(ONE_PANEL)
    return Case(places, clearances, (footprint.cols, footprint.rows), pattern, side, drawn.spread)


def _by_bow(stand: Stand, space: KitSpace, places: Floats, drawn: Drawn) -> Floats:
    """What a bow adds to each clearance, mm: room where the part hangs, less the lean of the cone there."""
    if not space.bow or not space.usable:
        return np.zeros(len(places))
    turned = np.abs(stand.matrix[:2, :2])
    from_middle = np.abs(places) @ turned.T
    half = turned @ np.array([stand.footprint.cols, stand.footprint.rows]) * drawn.pitch / 2
    sides = np.array([space.usable[0].width, space.usable[0].depth])
    lean = 8 * abs(space.bow) * np.hypot(*(from_middle / sides**2).T)
    added: Floats = drawn.draw * hang_at(space, from_middle, half) - drawn.seat.cone_height * lean
    return added


def _panel_cells(kit: Kit, drawn: Drawn) -> Mapping[str, int]:
    """The shortest side of the pieces of panels in each space, cells: joints lie no nearer to each other."""
    kinds = {part.id: part.kind for part in kit.parts}
    sides: dict[str, int] = {}
    for piece in kit.pieces:
        if kinds[piece.part] == "panel":
            side = max(1, math.ceil((min(piece.size[:2]) - drawn.pitch / 4) / drawn.pitch))
            sides[piece.part] = min(side, sides.get(piece.part, side))
    found: dict[str, int] = {}
    for one in kit.placements:
        if one.part in sides:
            found[one.space] = min(sides[one.part], found.get(one.space, sides[one.part]))
    return found


def _chances(case: Case, verdicts: Verdicts) -> dict[Turn, Chance]:
    """How likely a part goes on in each turn."""
    found = {}
    if most_met(case) <= 1:
        return dict.fromkeys(_TURNS, Chance(1.0, 1.0))
    for turn in _TURNS:
        (fits,) = verdicts.of(f"{case.question} {turn}", lambda turn=turn: (float(_tried(case, turn).fits),))  # type: ignore[misc]
        failed = Seating(int(TRIALS), int(TRIALS) - int(fits))
        found[turn] = Chance(fits / TRIALS, 1 - failed.at_least)
    return found


def _tried(case: Case, turn: Turn) -> Seating:
    """The trials of a case."""
    return seating_of(
        case.places, case.clearances, case.cells, panel_cells=case.panel_cells, spread=case.spread,
        trials=int(TRIALS), seed=int(SEED), turn=turn, pattern=case.pattern,
    )  # fmt: skip


def _parts(stood: Sequence[tuple[Stand, str]]) -> Mapping[str, tuple[Member, ...]]:
    """The distinct parts of each case."""
    found: dict[str, dict[str, Member]] = {}
    for stand, question in stood:
        found.setdefault(question, {}).setdefault(stand.member.part.id, stand.member)
    return {question: tuple(members.values()) for question, members in found.items()}


def _unlikely(members: tuple[Member, ...], chances: Mapping[Turn, Chance]) -> Iterator[Finding]:
    """Parts of one case that go on too seldom in a turn."""
    turn, chance = min(chances.items(), key=lambda one: one[1].share)
    if chance.share >= LEAST:
        return
    surely = chance.at_most < LEAST
    severity = Severity.STOP if surely else Severity.WARN
    for member in members:
        text = (
            f"{'Turned' if turn is Turn.QUARTER else 'Put down'} {turn} it goes onto its cones in "
            f"{100 * chance.share:.1f} of 100 trials; it should in {100 * LEAST:.0f}."
        )
        remedy = "Print the coupon of each printer and type in its readings, or make two shorter parts of it."
        against = Against(chance.share, float(LEAST), "1")
        yield Finding("seat-unlikely", severity, member.part.id, text, remedy, against)


def _together(stood: Sequence[tuple[Stand, str]], chances: Mapping[str, Mapping[Turn, Chance]]) -> Finding:
    """How likely all parts go on where they stand, and which of them is the least likely."""
    each = []
    for stand, question in stood:
        turned = abs(stand.matrix[0, 0]) < _HALF
        each.append(chances[question][Turn.QUARTER if turned else Turn.NONE].share)
    least = int(np.argmin(each))
    share = float(np.prod(each))
    text = (
        f"All {len(each)} seated parts go onto their cones with a probability of {_percent(share)}, counted as if each "
        f"were on its own; the least likely is {stood[least][0].placement.label} with {_percent(each[least])}."
    )
    remedy = "A coupon of each printer makes it surer; one that does not go down is turned by 180 degrees first."
    return Finding("seats-go-on", Severity.NOTE, "kit", text, remedy, Against(share, float(LEAST), "1"))


def _percent(share: float) -> str:
    """A share in words: trials do not tell more than a thousandth from certain.

    >>> _percent(0.9931), _percent(1.0)
    ('99.3 %', 'more than 99.9 %')
    """
    return "more than 99.9 %" if share > 1 - 1 / TRIALS else f"{100 * share:.1f} %"
