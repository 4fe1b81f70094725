"""What each bedful takes on its printer: its pieces together or one by one, its skirt, its pads."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.tolerances import GRID
from nookwright.making.beds.elsewhere import others_for
from nookwright.making.beds.footprints import turned_contours
from nookwright.making.estimate.first_layer import NOTHING, both, pads_laid, skirt_laid, skirt_of, skirt_reach
from nookwright.making.estimate.together import one_by_one, together
from nookwright.making.estimate.travel import tour
from nookwright.making.pads import corner_pads, corners_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from nookwright.making.beds.model import Item, Job, Load, Outlines
    from nookwright.making.estimate.first_layer import Around
    from nookwright.making.estimate.many import Estimates
    from nookwright.making.estimate.settings import PrintSettings
    from nookwright.making.estimate.together import BedfulEstimate
    from nookwright.solids.triangles import Mesh
    from nookwright.survey.models import Printer

    Array = NDArray[np.float64]


@dataclass(frozen=True)
class BedTimes:
    """Works out what bedfuls take.

    Attributes:
        recipes: digest of the recipe of each piece, by its id.
        sizes: of each piece, by its id, mm.
        estimates: of all pieces on all printers.
        meshes: by the digest of their recipe.
        outlines: of pieces seen from above, by their id; their boxes count where there is none.
        jobs: that say which printers pieces are meant for.
    """

    recipes: Mapping[str, str]
    sizes: Mapping[str, tuple[float, float, float]]
    estimates: Estimates
    meshes: Mapping[str, Mesh]
    outlines: Outlines
    jobs: Sequence[Job]

    def of(self, load: Load, printers: Sequence[Printer]) -> tuple[Load, BedfulEstimate]:
        """A bedful that knows whether it has a skirt and who else could print it, and what it takes.

        Args:
            load: what lies on the bed.
            printers: of the household.
        """
        others = [(one.id, self._on(load, one)[1].time_s) for one in others_for(load, printers, self.sizes, self.jobs)]
        own = next(printer for printer in printers if printer.id == load.printer)
        return self._on(replace(load, also_on=tuple(others)), own)

    def _on(self, load: Load, printer: Printer) -> tuple[Load, BedfulEstimate]:
        """A bedful on a printer, and what it takes there."""
        settings = self.estimates.settings[printer.id]
        reach = dict(load.pads)
        points = np.concatenate([self._covered(item, reach.get(item.piece, 0.0)) for item in load.items])
        room = bool(settings.skirt_loops) and skirt_fits(points, printer, skirt_reach(settings))
        load = replace(load, skirt=room)
        around = both(
            skirt_laid(skirt_of(points, settings), settings) if load.skirt else NOTHING, self._pads(load, settings)
        )
        ways = tour(np.array([(item.x, item.y) for item in load.items]))
        between = float(ways.mean()) if len(ways) else 0.0
        machine = settings.machine
        if load.one_by_one:
            pieces = [(self.estimates.of(self.recipes[item.piece], printer.id), 1) for item in load.items]
            lifts = lifts_of([self.sizes[item.piece][2] for item in load.items], printer.profile.hop)
            lift_s = sum(lifts) / printer.profile.hop_mm_s
            return load, one_by_one(pieces, machine, between=between, lift_s=lift_s, around=around)
        count = Counter(item.piece for item in load.items)
        pieces = [(self.estimates.of(self.recipes[name], printer.id), number) for name, number in sorted(count.items())]
        return load, together(pieces, machine, between=between, around=around)

    def _covered(self, item: Item, pads: float) -> Array:
        """Points that a copy reaches to, with its pads, where it lies."""
        width, depth, _ = self.sizes[item.piece]
        contours = self.outlines(item.piece)
        if contours is None:
            contours = [np.array([(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)])]
        turned = np.concatenate(list(turned_contours(contours, width, depth, item.turns)))
        around = np.array([(x, y) for x in (-pads, pads) for y in (-pads, pads)])  # of every point, if it were a corner
        found: Array = (corners_of(turned)[:, None] + around).reshape(-1, 2) if pads else turned
        placed: Array = np.concatenate([turned, found]) + np.array([item.x, item.y])
        return placed

    def _pads(self, load: Load, settings: PrintSettings) -> Around:
        """What the pads of a bedful take."""
        count = Counter(item.piece for item in load.items)
        area, pads = 0.0, 0
        for name, reach in load.pads:
            mesh = self.meshes.get(self.recipes[name])
            if mesh is not None:
                one = corner_pads(mesh, reach, settings.layer)
                area, pads = area + count[name] * one.area_mm2, pads + count[name] * one.count
        return pads_laid(area, pads, settings)


def lifts_of(heights: Sequence[float], hop: float) -> list[float]:
    """How far the nozzle rises and comes down in all between each piece and the next, one by one, mm.

    It rises over the highest that is finished, and comes down to the bed.

    Args:
        heights: of the pieces, in their order.
        hop: over what stands, mm.

    >>> lifts_of([10.0, 4.0, 30.0], 0.5)
    [11.0, 17.0]
    """
    found, highest = [], 0.0
    for height in heights[:-1]:
        highest = max(highest, height)
        found.append(2 * (highest + hop) - height)
    return found


def skirt_fits(points: Array, printer: Printer, reach: float) -> bool:
    """Whether a skirt round points stays on the bed, and off the places that stay free.

    Args:
        points: (n, 2), that pieces cover or end at, mm.
        printer: whose bed it is.
        reach: of the skirt, mm.
    """
    from manifold3d import CrossSection, JoinType

    low, high = points.min(axis=0) - reach, points.max(axis=0) + reach
    if (low < -GRID).any() or (high > np.array([printer.bed_width, printer.bed_depth]) + GRID).any():
        return False
    if not printer.keep_out:
        return True
    whole = CrossSection.hull_points(np.ascontiguousarray(points, np.float64)).offset(reach, JoinType.Round)
    zones = (CrossSection.square((one.width, one.depth)).translate((one.x, one.y)) for one in printer.keep_out)
    return all((whole ^ zone).is_empty() for zone in zones)
