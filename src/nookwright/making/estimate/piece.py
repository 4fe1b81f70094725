"""The estimate of one piece: its layers cut, turned into lines, and the moves along them timed."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.making.estimate.brim import brim_of
from nookwright.making.estimate.contours import chained, loops_of
from nookwright.making.estimate.fills import chords_of, directions_of, fill_s
from nookwright.making.estimate.kinds import Laid, Spent
from nookwright.making.estimate.layers import layers_of
from nookwright.making.estimate.model import PieceEstimate
from nookwright.making.estimate.motion import loops_s
from nookwright.making.estimate.regions import LEAST_FILL_MM2, Region, regions_of
from nookwright.making.estimate.skins import neighbours, sparse_of
from nookwright.making.estimate.travel import Hops, hops, seams, tour
from nookwright.survey.printer_profile import Pattern

if TYPE_CHECKING:
    from collections.abc import Sequence

    from manifold3d import CrossSection
    from numpy.typing import NDArray

    from nookwright.making.estimate.contours import Loops
    from nookwright.making.estimate.layers import Layers
    from nookwright.making.estimate.settings import PrintSettings, Speeds
    from nookwright.solids.triangles import Mesh

    Array = NDArray[np.float64]
    Indices = NDArray[np.int64]

_ALIKE_DECIMALS = 5  # of mm and mm2: loops that agree so far take the same time


@dataclass(frozen=True, eq=False)
class _Layer:
    """What one layer takes: mm2 laid and seconds spent by kind, and its retractions."""

    laid_mm2: dict[Laid, float]
    spent_s: dict[Spent, float]
    retractions: int


def estimate(mesh: Mesh, settings: PrintSettings) -> PieceEstimate:
    """What a piece takes, printed as it stands.

    Args:
        mesh: the piece, standing on its lowest point.
        settings: what it is printed with.
    """
    layers = layers_of(mesh, settings.layer)
    regions, offsets = regions_of(mesh, layers, settings)
    walls = _walls(regions, settings, settings.speeds)
    first_walls = _walls(regions[:1], settings, settings.speeds.in_first_layer())
    alike: dict[tuple[int, tuple[int, ...] | None, bool], list[int]] = defaultdict(list)
    for number, section in enumerate(layers.section.tolist()):
        covers = neighbours(layers, number, settings) if regions[section].fill_mm2 else None
        alike[section, covers, number == 0].append(number)
    made = {}
    for (section, covers, first), numbers in alike.items():
        speeds = settings.speeds.in_first_layer() if first else settings.speeds
        base = first_walls[0] if first else walls[section]
        layer = _filled(
            base, regions[section], sparse_of(regions[section], covers, regions), speeds, settings, number=numbers[0]
        )
        if first and settings.brim:
            layer = _with_brim(layer, regions[section].outline, settings, speeds)
        made.update(dict.fromkeys(numbers, layer))
    return _summed([made[number] for number in range(layers.count)], regions, layers, settings, offsets)


def _walls(regions: Sequence[Region], settings: PrintSettings, speeds: Speeds) -> list[_Layer]:
    """The walls of each region, all timed at once, the gaps between them, and the way from outline to outline."""
    machine = settings.machine
    inner = [bool(k) for region in regions for k, _ in enumerate(region.walls)]
    lines = [wall.lines for region in regions for wall in region.walls]
    loops, counts = chained(lines), [one.count for one in lines]
    first = seams(loops, settings.seam)
    speed = np.repeat(np.where(inner, speeds.inner_mm_s, speeds.outer_mm_s), counts)
    times = np.split(_loops_s(loops, first, speed, settings), np.cumsum(counts)[:-1])
    begun = np.split(loops.points[first], np.cumsum(counts)[:-1])
    found, at = [], 0
    for region in regions:
        laid: defaultdict[Laid, float] = defaultdict(float)
        spent: defaultdict[Spent, float] = defaultdict(float)
        way = Hops()
        for number, wall in enumerate(region.walls):
            laid[Laid.INNER if number else Laid.OUTER] += wall.laid_mm2
            spent[Spent.INNER if number else Spent.OUTER] += float(times[at].sum()) * wall.share
            way += hops(np.full(wall.lines.count, settings.spacing) if number else tour(begun[at]), machine)
            at += 1
        laid[Laid.GAP] += region.gap_mm2
        spent[Spent.GAP] += region.gap_mm2 / settings.spacing / speeds.gap_mm_s
        spent[Spent.TRAVEL] += way.travel_s
        found.append(_Layer(dict(laid), dict(spent), way.retractions))
    return found


def _loops_s(loops: Loops, first: Indices, speed: Array, settings: PrintSettings) -> Array:
    """Time of each loop; those that are alike are timed once."""
    machine = settings.machine
    if not loops.count:
        return np.zeros(0)
    marks = np.column_stack([speed, loops.sizes, loops.lengths, loops.areas, loops.spans])
    _, chosen, which = np.unique(np.round(marks, _ALIKE_DECIMALS), axis=0, return_index=True, return_inverse=True)
    some = np.zeros(loops.count, dtype=bool)
    some[chosen] = True
    number = np.cumsum(some) - 1
    few = loops.only(some)
    begin = few.starts + (first - loops.starts)[some]
    time = loops_s(few, begin, speed[some], machine.acceleration_mm_s2, machine.corner_mm_s)
    found: Array = time[number[chosen]][which.reshape(-1)]
    return found


def _filled(
    base: _Layer,
    region: Region,
    sparse: CrossSection | None,
    speeds: Speeds,
    settings: PrintSettings,
    *,
    number: int,
) -> _Layer:
    """A layer with its fill, solid and sparse."""
    if not region.fill_mm2:
        return base
    laid, spent, way = dict(base.laid_mm2), dict(base.spent_s), Hops()
    spacing, share = settings.spacing, settings.infill_share
    solid, thin = _parted(region, sparse)
    directions = directions_of(settings.pattern, number)
    jobs = [
        (Laid.SKIN, solid, 1.0, directions_of(Pattern.LINES, number), speeds.skin_mm_s),
        (Laid.INFILL, thin, share, directions, speeds.infill_mm_s),
    ]
    for kind, (loops, mm2), dense, headings, speed in jobs:
        laid[kind] = mm2 * dense
        for heading in headings if laid[kind] else ():
            chords = chords_of(loops, heading, len(headings) * spacing / dense)
            length = mm2 * dense / spacing / len(headings)
            took = fill_s(chords, length, speed, settings.machine.acceleration_mm_s2, settings.machine.corner_mm_s)
            spent[Spent(kind)] = spent.get(Spent(kind), 0.0) + took
            way += hops(np.full(chords.starts, mm2**0.5 / 2), settings.machine)
    spent[Spent.TRAVEL] += way.travel_s
    return _Layer(laid, spent, base.retractions + way.retractions)


def _parted(region: Region, sparse: CrossSection | None) -> tuple[tuple[Loops, float], tuple[Loops, float]]:
    """The fill of a region, solid and sparse: contours and area of each."""
    nothing = loops_of([]), 0.0
    sparse_mm2 = sparse.area() if sparse else 0.0
    if sparse is None or sparse_mm2 < LEAST_FILL_MM2:
        return (region.inside, region.fill_mm2), nothing
    inner = loops_of(sparse.to_polygons())
    if region.fill_mm2 - sparse_mm2 < LEAST_FILL_MM2:
        return nothing, (inner, region.fill_mm2)
    return (loops_of((region.fill - sparse).to_polygons()), region.fill_mm2 - sparse_mm2), (inner, sparse_mm2)


def _with_brim(layer: _Layer, outline: Loops, settings: PrintSettings, speeds: Speeds) -> _Layer:
    """A first layer with its brim."""
    brim = brim_of(outline, settings.brim, settings.spacing)
    speed = np.full(brim.count, speeds.first_mm_s)
    time = float(_loops_s(brim, seams(brim, settings.seam), speed, settings).sum())
    laid = layer.laid_mm2 | {Laid.BRIM: brim.length * settings.spacing}
    return _Layer(laid, layer.spent_s | {Spent.BRIM: time}, layer.retractions)


def _summed(
    stack: Sequence[_Layer], regions: Sequence[Region], layers: Layers, settings: PrintSettings, offsets: int
) -> PieceEstimate:
    """All layers together."""
    machine = settings.machine
    laid, spent = dict.fromkeys(Laid, 0.0), dict.fromkeys(Spent, 0.0)
    layer_s = []
    for layer in stack:
        for kind, mm2 in layer.laid_mm2.items():
            laid[kind] += mm2 * settings.layer
        for what, seconds in layer.spent_s.items():
            spent[what] += seconds
        spent[Spent.RETRACTION] += layer.retractions * machine.retract_s
        layer_s.append(sum(layer.spent_s.values()) + layer.retractions * machine.retract_s)
    spent[Spent.LAYER_CHANGE] = layers.count * machine.layer_change_s
    spent[Spent.WAITING] = sum(max(0.0, machine.least_layer_s - one - machine.layer_change_s) for one in layer_s)
    times = layers.times.tolist()
    return PieceEstimate(
        laid_mm3=laid,
        spent_s=spent,
        layer_s=tuple(layer_s),
        first_mm2=regions[0].area_mm2,
        retractions=sum(layer.retractions for layer in stack),
        missing_mm3=settings.layer * sum(n * one.missing_mm2 for n, one in zip(times, regions, strict=True)),
        sections_mm3=settings.layer * sum(n * one.area_mm2 for n, one in zip(times, regions, strict=True)),
        sections=len(regions),
        offsets=offsets,
    )
