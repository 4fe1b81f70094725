"""What each bedful is expected to take, by its estimate and by what was noted of earlier prints."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.making.learning.factors import factors_of
from nookwright.making.learning.intervals import mass_of, time_of
from nookwright.making.learning.observed import observed
from nookwright.making.schedule.from_loads import bedfuls_of, needs_of
from nookwright.making.schedule.model import Stage, Way

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.making.estimate.together import BedfulEstimate
    from nookwright.making.jobs import Making
    from nookwright.making.learning.factors import Factors
    from nookwright.making.learning.observed import Observed
    from nookwright.making.records import PrintRecord
    from nookwright.making.schedule.model import Bedful
    from nookwright.parts.design import Copy
    from nookwright.survey.models import Room

KIT_BEDFUL = "bedful-{:02d}"
TRIAL_BEDFUL = "trial-{:02d}"


@dataclass(frozen=True)
class Batch:
    """What is made for one purpose: its bedfuls, and the copies that they are for."""

    making: Making
    copies: Sequence[Copy]
    stage: Stage

    @property
    def ids(self) -> tuple[str, ...]:
        """Of its bedfuls, in their order."""
        name = TRIAL_BEDFUL if self.stage is Stage.TRIAL else KIT_BEDFUL
        return tuple(name.format(number) for number, _ in enumerate(self.making.loads, start=1))


@dataclass(frozen=True)
class Learned:
    """What was learned of a printer in a material."""

    printer: str
    material: str
    factors: Factors


@dataclass(frozen=True)
class Expected:
    """Everything that is to be printed, as the schedule takes it.

    Attributes:
        bedfuls: trials first.
        learned: of each printer and material in use.
        spoilage: share of these bedfuls that are expected to fail.
        strange: prints that were noted and that no bedful of this kit is known for.
    """

    bedfuls: tuple[Bedful, ...]
    learned: tuple[Learned, ...]
    spoilage: float
    strange: tuple[PrintRecord, ...]


def expected(room: Room, batches: Sequence[Batch], records: Sequence[PrintRecord] = ()) -> Expected:
    """What all bedfuls are expected to take.

    Args:
        room: as surveyed.
        batches: trials and the kit itself, with their estimates.
        records: what was noted of earlier prints.
    """
    estimates = {name: one for batch in batches for name, one in zip(batch.ids, batch.making.estimates, strict=True)}
    density = {material.id: material.density_g_cm3 for material in room.material}
    seen, strange = observed(records, estimates, density)
    learned = _learned(batches, seen)
    factors = {(one.printer, one.material): one.factors for one in learned}
    spaces = tuple(space.id for space in room.space)
    bedfuls = tuple(
        _believed(one, estimates[one.id], factors[one.ways[0].printer, one.material], density[one.material])
        for batch in batches
        for one in bedfuls_of(
            batch.making.loads, needs_of(batch.making, batch.copies, spaces), ids=batch.ids, stage=batch.stage
        )
    )
    shares = [factors[one.ways[0].printer, one.material].spoilage.share for one in bedfuls]
    return Expected(bedfuls, learned, sum(shares) / len(shares) if shares else 0.0, strange)


def _learned(batches: Sequence[Batch], seen: Sequence[Observed]) -> tuple[Learned, ...]:
    pairs = sorted({(load.printer, load.material) for batch in batches for load in batch.making.loads})
    return tuple(Learned(printer, material, factors_of(seen, printer, material)) for printer, material in pairs)


def _believed(bedful: Bedful, estimate: BedfulEstimate, factors: Factors, density_g_cm3: float) -> Bedful:
    """A bedful with the intervals of what is believed of its printer."""
    time_s, mass_g = time_of(estimate, factors), mass_of(estimate, factors, density_g_cm3)
    ways = tuple(Way(way.printer, time_s.likely, time_s.low, time_s.high) for way in bedful.ways)
    return replace(bedful, ways=ways, mass_g=mass_g.likely, high_g=mass_g.high)
