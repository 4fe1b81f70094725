"""A tall filler: a hollow wall beside the trays, where a rest of more than 8 would let things fall down to the floor.

It is a trough upside down: two long walls, ribs across, a deck on top that bridges the short way, open below. That is
the same from outside as a block, prints without support and weighs a quarter.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.layout.liner import EDGE_INSET, FillerSpec
from nookwright.module.estimates import Plastic, lip_height
from nookwright.module.seat import whole_layers
from nookwright.parts.liner.filler_rules import check_filler
from nookwright.parts.liner.keys import rooted_tongue, tongue_mm2
from nookwright.parts.model import Kind, Part, size_name
from nookwright.parts.refusals import refuse_part, require_whole_layers
from nookwright.shapes.cutters import open_below
from nookwright.shapes.regions import Rect, RegionRepeat
from nookwright.shapes.solids import Difference, Prism, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

DECK = Fact(1.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Five layers of 0.2 over a bridge.")
LONGEST_BRIDGE = Fact(
    20.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Bridges up to this sag by less than a layer."
)
RIBS_APART = Fact(
    40.0, unit="mm", kind=SourceKind.CHOICE, source="Between ribs a wall of 1.2 is not pressed in by a thumb."
)
LEAST_HOLLOW = Fact(
    1.0,
    unit="mm",
    kind=SourceKind.CHOICE,
    source="A narrower gap between walls fills with strings; it is left out.",
)


def tall_filler(module: Module, spec: FillerSpec) -> Part:
    """A tall filler.

    Args:
        module: the household's module.
        spec: its sizes; the height from the floor of the space, whole layers.

    Raises:
        RecipeError: lower than a lip, not in whole layers, too thin, or a tongue without a root.
    """
    check_filler(spec)
    require_whole_layers("tall filler", spec.height, module.seat.layer)
    deck = whole_layers(DECK, module.seat.layer)
    least = max(lip_height(module), whole_layers(module.seat.panel + deck + module.seat.layer, module.seat.layer))
    if spec.height < least:
        refuse_part(
            "tall filler",
            "it is at least as high as the lip of a plain one",
            found=f"{spec.height:g}",
            allowed=f"at least {least:g}",
            remedy="Take a plain filler.",
        )
    width, wall = spec.width - EDGE_INSET, module.wall
    block = Prism(Rect(spec.length, width), spec.height)
    along, across = _pockets(spec.length, wall, float(RIBS_APART)), _pockets(width, wall, float(LONGEST_BRIDGE))
    hollow = along[1] * across[1] * len(along[0]) * len(across[0]) * (spec.height - deck)
    keys = tuple(rooted_tongue(module.seat.panel, x, spec.width, EDGE_INSET) for x in spec.tongues)
    tongues = len(keys) * tongue_mm2(float(EDGE_INSET))
    outside = spec.length * width
    places = tuple((x, y) for y in across[0] for x in along[0])
    cut = open_below(RegionRepeat(Rect(along[1], across[1]), places), 0.0, spec.height - deck) if places else None
    return Part(
        kind=Kind.FILLER,
        name=f"tall filler {size_name(spec.length, width)} h{spec.height:g}",
        parameters=(
            ("height", spec.height),
            ("length", spec.length),
            ("thickness", module.seat.panel),
            ("tongues", spec.tongues),
            ("wall", wall),
            ("width", width),
        ),
        recipe=Union((Difference(block, (cut,)) if cut else block, *keys)),
        plastic=Plastic(
            body_mm3=outside * spec.height - hollow + tongues * module.seat.panel,
            sparse_mm3=0.0,
            first_mm2=outside - hollow / (spec.height - deck) + tongues,
            height=spec.height,
            hops=0.0,
        ),
    )


def _pockets(length: float, wall: float, longest: float) -> tuple[tuple[float, ...], float]:
    """Where pockets begin along one side and how long they are, equal and none longer than allowed, mm.

    >>> _pockets(65.0, 1.0, 40.0), _pockets(2.5, 1.0, 20.0)
    (((1.0, 33.0), 31.0), ((), 0.0))
    """
    inside = length - wall
    count = max(1, math.ceil(inside / (longest + wall)))
    each = inside / count - wall
    if each < LEAST_HOLLOW:
        return (), 0.0
    return tuple(wall + number * (each + wall) for number in range(count)), each
