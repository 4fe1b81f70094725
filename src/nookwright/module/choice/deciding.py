"""The choice of the module: first the pitch, then the rise at that pitch, each with its reason."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.module.choice.candidates import RISE_START, module_of, pitches, rises
from nookwright.module.choice.judging import judge
from nookwright.module.choice.keeping import CHANGE_PERCENT, Change, Dimension, change
from nookwright.module.choice.lots import USUAL
from nookwright.module.seat import CLEARANCE_GROWTH, whole_layers

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.module.choice.judging import ModuleRow
    from nookwright.module.choice.spaces import Inside
    from nookwright.module.module import Module
    from nookwright.sizing.ways import Way
    from nookwright.survey.layout_wishes import Weights


@dataclass(frozen=True)
class Decided:
    """What the person has decided about the module, mm; ``None`` where it is left to the tool.

    Attributes:
        pitch, rise: as they must be.
        kept_pitch, kept_rise: of what is printed or published already.
        change_percent: what another module must save of floor or grams to be taken instead of these.
    """

    pitch: float | None = None
    rise: float | None = None
    kept_pitch: float | None = None
    kept_rise: float | None = None
    change_percent: float = CHANGE_PERCENT


FREE = Decided()


@dataclass(frozen=True)
class ModuleChoice:
    """The module of a household, and all that it was chosen from.

    Attributes:
        module: pitch, rise, seat and wall.
        pitches: every pitch that was judged, at the rise that the choice began from.
        rises: every rise that was judged, at the pitch that was chosen.
        changes: what was kept against what is judged best; the pitch only where one is kept.
    """

    module: Module
    pitches: tuple[ModuleRow, ...]
    rises: tuple[ModuleRow, ...]
    changes: tuple[Change, ...]

    @property
    def row(self) -> ModuleRow:
        """The row of the module that was chosen."""
        return next(row for row in self.rises if row.rise == self.module.rise)


def choose(
    layer: float,
    insides: Sequence[Inside],
    ways: Sequence[tuple[Way, ...]],
    *,
    decided: Decided = FREE,
    growth: float = CLEARANCE_GROWTH,
    weights: Weights = USUAL,
) -> ModuleChoice:
    """The module for a household.

    Args:
        layer: the common layer, mm.
        insides: the spaces that get trays.
        ways: for each lot, its ways of being kept.
        decided: what the person has decided.
        growth: of a socket's clearance with its distance from a part's middle, mm/mm.
        weights: what counts how much.
    """
    begun = whole_layers(decided.rise or decided.kept_rise or RISE_START, layer)

    def judged(pitches: Sequence[float], steps: Sequence[float]) -> tuple[ModuleRow, ...]:
        return judge(pitches, steps, layer=layer, insides=insides, ways=ways, growth=growth, weights=weights)

    by_pitch = judged(_pitches(decided), (begun,))
    first, changes, why = _pitch(by_pitch, decided)
    steps = (begun,) if decided.rise else tuple(sorted({*rises(layer), begun}))
    by_rise = judged((first.pitch,), steps)
    rise = change(Dimension.RISE, by_rise, begun, decided.change_percent)
    reason = f"{why}; rise {begun:g} as the room file says" if decided.rise else f"{why}; {rise.said}"
    changes = (*changes, rise) if not decided.rise else changes
    return ModuleChoice(
        module=module_of(first.pitch, rise.chosen.rise, layer, reason, growth),
        pitches=by_pitch,
        rises=by_rise,
        changes=changes,
    )


def _pitches(decided: Decided) -> tuple[float, ...]:
    """The pitches that are judged: the one that is decided, or all candidates and the one that is kept."""
    if decided.pitch:
        return (decided.pitch,)
    return tuple(sorted({*pitches(), *((decided.kept_pitch,) if decided.kept_pitch else ())}))


def _pitch(rows: tuple[ModuleRow, ...], decided: Decided) -> tuple[ModuleRow, tuple[Change, ...], str]:
    """The row of the pitch, what was weighed for it, and why."""
    if decided.pitch:
        return rows[0], (), f"pitch {decided.pitch:g} as the room file says"
    if decided.kept_pitch:
        weighed = change(Dimension.PITCH, rows, decided.kept_pitch, decided.change_percent)
        return weighed.chosen, (weighed,), weighed.said
    best = min(rows, key=lambda row: row.rank)
    return (
        best,
        (),
        (
            f"pitch {best.pitch:g} is best of {len(rows)} tried: {best.edge_dm2:.1f} dm2 lost at edges, "
            f"{best.inside_dm2:.1f} dm2 inside trays, {best.liner_g:.0f} g of liner, {best.trays_g:.0f} g of trays, "
            f"{best.parts} kinds of part"
        ),
    )
