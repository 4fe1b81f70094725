"""How hard the layout is tried: counts and shares, so that a result can be repeated, and a clock as a safety net."""

from __future__ import annotations

from dataclasses import dataclass, replace

from nookwright.ground.sources import Fact, Kind

FACTOR = Fact(
    0.97,
    unit="1",
    kind=Kind.MEASURED,
    source="Spaces filled to this share of their free cells could nearly all be packed.",
)
REL_GAP = Fact(
    0.01,
    unit="1",
    kind=Kind.CHOICE,
    source="An assignment within one percent of the best is proven in about a second.",
)
MAX_NODES = Fact(20_000, unit="nodes", kind=Kind.CHOICE, source="Ends a search that does not reach its gap.")
TRIES = Fact(
    20_000,
    unit="tries",
    kind=Kind.MEASURED,
    source="All of 60 generated drawers at 97 % fill were packed within these.",
)
ROUNDS = Fact(
    3,
    unit="rounds",
    kind=Kind.CHOICE,
    source="Repairs by a new assignment; what they do not place, annealing may.",
)
MOVES = Fact(
    40_000,
    unit="steps",
    kind=Kind.CHOICE,
    source="For each lot, of annealing on packed spaces: half a second in all for 80.",
)
LOOSE_SHARE = Fact(
    0.1,
    unit="1",
    kind=Kind.MEASURED,
    source="So many moves of the assignment for each step on packed spaces; they go first.",
)
PARTS = Fact(50, unit="1", kind=Kind.CHOICE, source="Parts of an annealing; it cools and looks up between them.")
PLAIN_SHARE = Fact(
    0.02,
    unit="1",
    kind=Kind.MEASURED,
    source="Moves of the annealing in plain Python for each step of the compiled one.",
)
STARTS = Fact(
    3,
    unit="1",
    kind=Kind.MEASURED,
    source="Assignments that are packed; on from the best. One alone may hang on a space.",
)
PATIENCE = Fact(
    20_000,
    unit="tries",
    kind=Kind.MEASURED,
    source="In vain for one set of footprints, then it is given up; best of 1000 up.",
)
FEW_COLUMNS = Fact(
    3000,
    unit="columns",
    kind=Kind.MEASURED,
    source="So small a room is assigned by the solver too, in a second or two.",
)
FEW_NODES = Fact(40, unit="nodes", kind=Kind.CHOICE, source="Of that: it is only one beginning of several.")
MOST_COLUMNS = Fact(
    6000,
    unit="columns",
    kind=Kind.MEASURED,
    source="The programme of a larger room takes longer than the prices' bound is worth.",
)
LARGE = Fact(
    200,
    unit="lots",
    kind=Kind.MEASURED,
    source="With more, many moves and few tries for each do better: gaps of 4.6 % instead of 5.6 % for 300 on average.",
)
HASTY_GLIMPSE = Fact(20, unit="tries", kind=Kind.MEASURED, source="In so large a room; best of 5 to 150.")
HASTY_PATIENCE = Fact(500, unit="tries", kind=Kind.MEASURED, source="In so large a room; best of 50 to 20000.")
GLIMPSE = Fact(150, unit="tries", kind=Kind.CHOICE, source="Packings for each space that a move touches.")
CLOCK_S = Fact(
    120,
    unit="s",
    kind=Kind.CHOICE,
    source="Safety net, far above what the counts allow on a usual machine; more in a large room.",
)
NOISE = Fact(1e-6, unit="1", kind=Kind.MEASURED, source="Feasibility tolerance of the solver.")
TIGHTEN = Fact(
    0.98,
    unit="1",
    kind=Kind.CHOICE,
    source="A space that could not be packed is offered this share of before.",
)


@dataclass(frozen=True)
class Effort:
    """How hard to try; all but the last are counts or shares, so that a result can be repeated.

    Attributes:
        seed: of every random choice.
        factor: share of its free cells that a space is filled to by the assignment.
        rel_gap: relative distance at which the assignment and the bound may stop.
        max_nodes: nodes of the assignment's search.
        tries: packings of one space.
        rounds: repairs by a new assignment.
        moves: steps of annealing for each lot.
        glimpse: packings for each space that a move touches.
        patience: tries in vain after which a set of footprints is given up; both are less in large rooms.
        clock_s: safety net, s; a layout that needed it says so.
    """

    seed: int = 1
    factor: float = FACTOR
    rel_gap: float = REL_GAP
    max_nodes: int = int(MAX_NODES)
    tries: int = int(TRIES)
    rounds: int = int(ROUNDS)
    moves: int = int(MOVES)
    glimpse: int = int(GLIMPSE)
    patience: int = int(PATIENCE)
    clock_s: float = CLOCK_S

    def for_lots(self, lots: int) -> Effort:
        """The same for so many lots: a large room gains more by many moves than by trying hard at each.

        Args:
            lots: how many there are.
        """
        if lots <= LARGE:
            return self
        hasty = min(self.glimpse, int(HASTY_GLIMPSE)), min(self.patience, int(HASTY_PATIENCE))
        return replace(self, glimpse=hasty[0], patience=hasty[1], clock_s=self.clock_s * lots / LARGE)


USUAL = Effort()
