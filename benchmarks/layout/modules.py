"""How long the choice of a module takes, as a household grows.

    modules.py [--spaces 60] [--lots 600]

The household is invented, drawn with one seed. The ways of keeping the lots are worked out before the clock of the
choice starts; how long they take is said beside it.
"""

from __future__ import annotations

import argparse
import time
from random import Random

from nookwright.layout.spaces import HEADROOM
from nookwright.module.choice import Inside, ModuleChoice, choose
from nookwright.sizing.usable import BlockedBox, Usable
from nookwright.sizing.ways import Limits, Way, ways_of
from nookwright.survey.models import FloorStyle, Lot

SEED = 5
LAYER = 0.2
GROWS = ((6, 60), (20, 200), (60, 600))


def spaces_of(count: int, random: Random) -> tuple[Inside, ...]:
    """Drawers and shelves, a third of them with a pipe in the back."""
    found = []
    for number in range(count):
        width, depth, height = random.uniform(280, 900), random.uniform(260, 560), random.uniform(50, 260)
        blocked = (pipe(width, depth, height),) if random.random() < 1 / 3 else ()
        radius = random.choice((0.0, 6.0, 12.0))
        found.append(Inside(Usable(f"space-{number}", width, depth, height, radius, blocked), headroom=float(HEADROOM)))
    return tuple(found)


def pipe(width: float, depth: float, height: float) -> BlockedBox:
    """What goes through the back of a space."""
    left = 0.4 * width
    return BlockedBox("a pipe", service=True, x0=left, y0=depth - 90, z0=0.0, x1=left + 110, y1=depth, z1=height)


def lots_of(count: int, random: Random) -> tuple[Lot, ...]:
    """Boxes, round things and stacks of sheets."""
    return tuple(Lot.model_validate(_lot(number, random)) for number in range(count))


def _lot(number: int, random: Random) -> dict[str, object]:
    shape = random.choice(("box", "round", "flat"))
    typed: dict[str, object] = {"id": f"lot-{number}", "shape": shape, "count": random.randint(1, 24)}
    if shape == "round":
        return typed | {"diameter": random.uniform(8, 80), "height": random.uniform(10, 120)}
    typed |= {"width": random.uniform(15, 160), "depth": random.uniform(10, 120)}
    return typed | ({"height": random.uniform(8, 90)} if shape == "box" else {"thickness": random.uniform(0.2, 3)})


def ways_for(lots: tuple[Lot, ...], spaces: tuple[Inside, ...]) -> list[tuple[Way, ...]]:
    """The ways to keep all lots."""
    usables = [one.usable for one in spaces]
    length = max(max(usable.width, usable.depth) for usable in usables)
    limits = Limits(length, max(usable.height for usable in usables), 1.2, FloorStyle.SHELL)
    return [ways_of(lot, limits) for lot in lots]


def household(spaces: int, lots: int) -> tuple[tuple[Inside, ...], list[tuple[Way, ...]]]:
    """An invented household: its spaces, and the ways to keep its lots."""
    random = Random(SEED)  # noqa: S311 - nothing secret
    insides = spaces_of(spaces, random)
    return insides, ways_for(lots_of(lots, random), insides)


def main() -> None:
    """Say the seconds."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--spaces", type=int)
    parser.add_argument("--lots", type=int)
    asked = parser.parse_args()
    sizes = ((asked.spaces or 60, asked.lots or 600),) if asked.spaces or asked.lots else GROWS
    print("| spaces | lots | ways | ways, s | choice, s | module |\n|---|---|---|---|---|---|")
    for spaces, lots in sizes:
        start = time.perf_counter()
        insides, ways = household(spaces, lots)
        middle = time.perf_counter()
        choice: ModuleChoice = choose(LAYER, insides, ways)
        end = time.perf_counter()
        said = f"{choice.module.pitch:g} / {choice.module.rise:g}"
        count = sum(map(len, ways))
        print(f"| {spaces} | {lots} | {count} | {middle - start:.2f} | {end - middle:.2f} | {said} |")


if __name__ == "__main__":
    main()
