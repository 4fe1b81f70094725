"""At which heights a part is cut that is taller than a bed: in whole layers, where its walls go straight through.

A good height is one where the part looks the same below and above: no grip, window, label or ledge begins or ends
there, and what is above hangs together. No kind of part is known here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from nookwright.cutting.fields import LEAST_FOOTING
from nookwright.cutting.laps import LAP_HEIGHT, ROOT
from nookwright.cutting.places import CHANGE, cheapest
from nookwright.cutting.sections import PLAN_GRAIN
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from nookwright.cutting.sampling import Told
    from nookwright.cutting.sections import Sections

LEVEL_STEP = Fact(2.0, unit="mm", kind=Kind.CHOICE, source="Between heights that are tried, in whole layers.")
LEAST_LEVEL = Fact(
    12.0, unit="mm", kind=Kind.CHOICE, source="A lower ring of wall is no more than the laps inside it, and bends."
)
BROKEN_WALL = Fact(
    8.0, unit="cost", kind=Kind.CHOICE, source="Times the share of wall that is missing there: a window, a low front."
)
MOST_CHANGE = Fact(
    0.2, unit="1", kind=Kind.CHOICE, source="Of a section, that may begin or end within a lap: a label, not a floor."
)
_MORE = 2  # shares beyond the fewest that are tried
_NEAR = 1e-3  # mm above a height
_ENDS = "no height has the same walls below and above it, in one piece"


def level_cuts(sections: Sections, height: float, layer: float) -> tuple[float, ...] | str:
    """The heights at which a part is cut; why it cannot be where there are none.

    Args:
        sections: of the part.
        height: of the bed, mm.
        layer: by which heights go, mm.
    """
    size = sections.high[2] - sections.low[2]
    costs = _costs(sections, layer)
    if not any(math.isfinite(cost) for cost in costs.values()):
        return _ENDS
    fewest = max(2, math.ceil(size / height)) if height > LAP_HEIGHT else 0
    for count in range(fewest, fewest + _MORE) if fewest else ():
        found = cheapest(size, costs, count, height, float(LAP_HEIGHT), least=float(LEAST_LEVEL))
        if found is not None:
            return found[1]
    return f"{_ENDS}, so that its shares go onto a bed of {height:g} mm"


def _costs(sections: Sections, layer: float) -> dict[float, float]:
    """What a cut costs at each height."""
    step = max(1, round(LEVEL_STEP / layer)) * layer
    places = [round(step * number, 6) for number in range(1, math.ceil(sections.high[2] / step))]
    plans = _Plans(sections)
    told = {place: plans.at(place) for place in places}
    whole = max((int(one.sum()) for one in told.values() if not _solid_below(one, told)), default=0)
    return {place: _cost(plans, place, whole) for place in places}


@dataclass(frozen=True)
class _Plans:
    """Sections at heights, each looked at once."""

    sections: Sections
    _made: dict[float, Told] = field(default_factory=dict)

    def at(self, place: float) -> Told:
        """What there is just above a height."""
        place = round(place, 6)
        if place not in self._made:
            (x0, y0, _), (x1, y1, _) = self.sections.low, self.sections.high
            self._made[place] = self.sections.plan(place + _NEAR, (x0, y0, x1, y1))
        return self._made[place]


def _solid_below(one: Told, told: dict[float, Told]) -> bool:
    """Whether a section is that of a floor: twice as much as the usual one of this part."""
    return bool(one.sum() > 2 * np.median([other.sum() for other in told.values()]))


def _cost(plans: _Plans, place: float, whole: int) -> float:
    """What a cut costs at one height; infinite where it must not be."""
    from scipy.ndimage import label

    here = plans.at(place)
    _, count = label(here, structure=np.ones((3, 3)))
    if count != 1 or here.sum() * PLAN_GRAIN**2 < LEAST_FOOTING:
        return math.inf
    beside = [plans.at(place + by) for by in (-ROOT - LAP_HEIGHT, -ROOT, float(LAP_HEIGHT))]
    change = max(int((one ^ here).sum()) for one in beside) / int(here.sum())
    if change > MOST_CHANGE:
        return math.inf
    return float(CHANGE * change + BROKEN_WALL * max(0.0, 1 - int(here.sum()) / whole if whole else 0.0))
