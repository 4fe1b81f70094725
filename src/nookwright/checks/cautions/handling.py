"""Cautions of the whole kit: glue, ballast, lids that are no locks, heights, heat, food, service paths."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from nookwright.checks.cautions.naming import named
from nookwright.checks.cautions.whereabouts import called
from nookwright.checks.cautions.words import caution
from nookwright.checks.forces.densities import one_g
from nookwright.checks.weights import G_PER_KG, loads_g
from nookwright.ground.findings import Against
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.checks.cautions.whereabouts import Whereabouts
    from nookwright.exchange.kit import KitPart
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Space

EYES = Fact(
    1430.0, unit="mm", kind=Kind.MEMORY, source="Eyes of a small woman who stands (DIN 33402-2, 5th percentile)."
)
WARM_C = Fact(
    40.0, unit="degC", kind=Kind.CHOICE, source="Warmer than any room in summer: something there gives off heat."
)
_CLOSURES = frozenset({"lid", "cap", "drawer"})


def about_glue(where: Whereabouts) -> Iterator[Finding]:
    """What to mind with glue, once a kit, where a part in pieces must be glued."""
    glued = [part.name for part in where.kit.parts if any(not joint.dry for joint in part.joints)]
    if glued:
        yield caution("glue", "kit", f"Printed in pieces that must be glued: {named(glued)}.")


def about_ballast(where: Whereabouts) -> Iterator[Finding]:
    """Dust and wet cement, where a riser may be filled."""
    hollow = [part for part in where.kit.parts if _takes_ballast(part)]
    if hollow:
        yield caution("ballast", "kit", f"What may be filled with ballast: {named(part.name for part in hollow)}.")


def _takes_ballast(part: KitPart) -> bool:
    return part.kind == "riser" and part.parameters.get("inside") == "hollow"


def about_closures(where: Whereabouts) -> Iterator[Finding]:
    """Lids, caps and little drawers, where there are children or things to be kept from them."""
    closing = [part.name for part in where.kit.parts if part.kind in _CLOSURES]
    kept = any(lot.out_of_reach for lot in where.room.lot)
    if closing and (where.children_about or kept):
        yield caution("latch-no-lock", "kit", f"The kit has {named(closing)}.")


def about_heights(where: Whereabouts) -> Iterator[Finding]:
    """Spaces with parts or things above the eyes, each with the load that stands in it."""
    tops: dict[str, float] = defaultdict(float)
    for placement in where.kit.placements:
        top = placement.space_from_part[2][3] + where.parts[placement.part].size[2]
        tops[placement.space] = max(tops[placement.space], top)
    stands_g = loads_g(where.kit, where.room, one_g)
    for name, top in sorted(tops.items()):
        space = where.spaces[name]
        high = space.floor_height + space.mat + top
        if high > EYES:
            mass_kg = stands_g[name] / G_PER_KG
            what = f"In {called(space)} {mass_kg:.1f} kg stand up to {high:.0f} mm above the room's floor"
            text = f"{what}; a small adult's eyes are {EYES:g} mm high."
            yield caution("overhead", name, text, Against(high, float(EYES), "mm"))


def about_heat(where: Whereabouts) -> Iterator[Finding]:
    """Warm spaces with something printed in them."""
    used = set(where.space_of.values())
    warm = [space for space in where.room.space if _is_warm(space) and space.id in used]
    if warm:
        yield caution("heat", "kit", f"It gets warm: {named(called(space) for space in warm)}.")


def _is_warm(space: Space) -> bool:
    """Whether a space is said to be warm, or was read to be."""
    return space.warm or (space.warmest_c is not None and space.warmest_c >= WARM_C)


def about_food(where: Whereabouts) -> Iterator[Finding]:
    """Lots that are food, or touch it."""
    food = [lot for lot, places in where.lots() if lot.food and places]
    if food:
        yield caution("food-contact", "kit", f"Food, or what touches it: {named(called(lot) for lot in food)}.")


def about_services(where: Whereabouts) -> Iterator[Finding]:
    """Service and ventilation paths, by space."""
    for space in where.room.space:
        reasons = [box.reason for box in space.blocked if box.service]
        if space.kept_free:
            yield caution("service-path", space.id, f"All of {called(space)} is a service or ventilation path.")
        elif reasons:
            yield caution(
                "service-path",
                space.id,
                f"A service or ventilation path goes through {called(space)}: {named(reasons)}.",
            )
