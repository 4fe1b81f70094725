"""What runners carry when a drawer is pulled out: the load, and where its middle lies.

Ratings of runners are for a load whose middle is that of the drawer (EN 14749 tests so). Pulled out by e, a load with
its middle y behind the front weighs on them at an arm of ``e - y``, an even one at ``e - d / 2``; their ratio makes
the load that an even one would have to be. Masses that nobody gave are assumed, and said to be.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.forces.densities import one_g
from nookwright.checks.forces.masses import together
from nookwright.checks.in_words import names
from nookwright.checks.weights import G_PER_KG
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.models import SpaceKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.checks.forces.masses import Mass
    from nookwright.checks.forces.stands import Loads
    from nookwright.exchange.kit import KitSpace
    from nookwright.survey.models import Space

FORWARD = Fact(1.15, unit="1", kind=Kind.CHOICE, source="From here on a load counts as far forward: as 15 % more.")
WORTH_SAYING = Fact(0.5, unit="1", kind=Kind.CHOICE, source="Of the rating: a lighter load may lie where it likes.")
LEAST_ARM = Fact(0.1, unit="1", kind=Kind.CHOICE, source="Of its depth: a drawer that hardly comes out has no arm.")


def load_of(space: str, loads: Loads) -> Mass:
    """All parts and things in a space, as one."""
    names = [one.id for one in loads.kit.placements if one.space == space]
    return together(mass for name in names for mass in (loads.of_part(name), *loads.things.get(name, ())))


def pulled_out(space: Space, inside: KitSpace) -> float:
    """How far a drawer comes out, mm; all of its depth where the survey does not say."""
    return space.pulls_out if space.pulls_out is not None else inside.usable[0].depth


def even_g(load: Mass, out: float, depth: float) -> float:
    """Mass of an even load that would weigh on the runners of a pulled-out drawer as this one does, g.

    Args:
        load: with its centre, y from the front.
        out: how far the drawer is pulled out, mm.
        depth: of the drawer, mm.
    """
    even = out - depth / 2
    if even <= LEAST_ARM * depth:
        return load.mass_g
    return max(0.0, load.mass_g * (out - float(load.centre[1])) / even)


def overloaded_runners(space: Space, inside: KitSpace, loads: Loads) -> Iterator[Finding]:
    """What is to be said of the load of a space.

    Args:
        space: as surveyed.
        inside: the same in the kit.
        loads: of the kit.
    """
    load = load_of(space.id, loads)
    limit_g = space.load_kg * G_PER_KG
    assumed_g = sum(_assumed_g(space.id, loads).values())
    if load.mass_g > limit_g >= load.mass_g - assumed_g:
        yield _assumed_over(space, load.mass_g, assumed_g)
    if space.kind is not SpaceKind.DRAWER or load.mass_g <= 0:
        return
    even = even_g(load, pulled_out(space, inside), inside.usable[0].depth)
    if even > limit_g >= load.mass_g:
        yield _forward(space, load, even, Severity.WARN)
    elif limit_g >= load.mass_g >= WORTH_SAYING * limit_g and even >= FORWARD * load.mass_g:
        yield _forward(space, load, even, Severity.NOTE)


def assumed_masses(loads: Loads) -> Iterator[Finding]:
    """Once a kit, the lots that nobody weighed."""
    assumed: dict[str, float] = {}
    for space in loads.kit.spaces:
        for lot, mass_g in _assumed_g(space.id, loads).items():
            assumed[lot] = assumed.get(lot, 0.0) + mass_g
    if not assumed:
        return
    worst = max(sorted(assumed), key=lambda lot: assumed[lot])
    named = names([loads.lots[lot].name or lot for lot in sorted(assumed)], most=6)
    text = (
        f"Nobody gave the mass of {named}. By shape and material they are taken to weigh "
        f"{sum(assumed.values()) / G_PER_KG:.2f} kg together, one of {loads.lots[worst].name or worst} "
        f"{one_g(loads.lots[worst]):.0f} g."
    )
    yield Finding("mass-assumed", Severity.NOTE, worst, text, "Weigh one on a kitchen scale and write its mass_g.")


def _assumed_g(space: str, loads: Loads) -> dict[str, float]:
    """Mass in a space that is only assumed, by lot."""
    found: dict[str, float] = {}
    for kept in loads.kit.lots:
        lot = loads.lots[kept.id]
        if lot.mass_g is not None:
            continue
        count = sum(place.count for place in kept.places if loads.placements[place.placement].space == space)
        if count:
            found[kept.id] = one_g(lot) * count
    return found


def _assumed_over(space: Space, mass_g: float, assumed_g: float) -> Finding:
    text = (
        f"Prints and things weigh {mass_g / G_PER_KG:.2f} kg, {assumed_g / G_PER_KG:.2f} kg of them assumed; allowed "
        f"{space.load_kg:.2f} kg."
    )
    remedy = "Weigh one of each lot without a mass and write its mass_g; take heavy things elsewhere if it stays so."
    against = Against(mass_g / G_PER_KG, space.load_kg, "kg")
    return Finding("load-assumed-over", Severity.WARN, space.id, text, remedy, against=against)


def _forward(space: Space, load: Mass, even: float, severity: Severity) -> Finding:
    y = float(np.round(load.centre[1]))
    text = (
        f"Its load of {load.mass_g / G_PER_KG:.2f} kg has its middle {y:.0f} mm behind the front: pulled out, it "
        f"weighs on the runners as {even / G_PER_KG:.2f} kg in the middle of the drawer would; allowed "
        f"{space.load_kg:.2f} kg."
    )
    remedy = "Move what is heavy to the back of the drawer, or into another one."
    against = Against(even / G_PER_KG, space.load_kg, "kg")
    return Finding("load-forward", severity, space.id, text, remedy, against=against)
