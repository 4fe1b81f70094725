"""A filler: a plain strip between panel and wall, with a lip on both long edges and tongues that key it to the panel.

Both edges stand up, not only the one at the wall: a panel's edge of 0.6 would ride up over a flat strip in a slam.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.layout.liner import EDGE_INSET, FillerSpec
from nookwright.module.estimates import Plastic
from nookwright.module.seat import whole_layers
from nookwright.parts.keys import HEAD, LENGTH, NECK, tongue
from nookwright.parts.model import Kind, Part, size_name
from nookwright.shapes.regions import Rect, RegionMove
from nookwright.shapes.solids import Move, Prism, Solid, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

LIP = Fact(2.0, unit="mm", kind=SourceKind.CALCULATED, source="A lip of 2 keeps an edge of 0.6 from riding over it.")
LIP_WIDTH = Fact(1.2, unit="mm", kind=SourceKind.CHOICE, source="The same whole lines as a wall.")
ROOT = Fact(1.0, unit="mm", kind=SourceKind.CHOICE, source="A tongue starts this far inside the strip.")


def filler(module: Module, spec: FillerSpec) -> Part:
    """A filler strip.

    Args:
        module: the household's module.
        spec: its sizes.
    """
    seat = module.seat
    width = spec.width - EDGE_INSET
    high = whole_layers(seat.panel + LIP, seat.layer)
    strip = Rect(spec.length, width)
    lip = Prism(Rect(spec.length, LIP_WIDTH), high)
    keys = tuple(_key(seat.panel, x, spec.width) for x in spec.tongues)
    area = spec.length * width + len(spec.tongues) * (HEAD + NECK) / 2 * LENGTH
    return Part(
        kind=Kind.FILLER,
        name=f"filler {size_name(spec.length, width)}",
        parameters=(
            ("length", spec.length),
            ("lip", high),
            ("thickness", seat.panel),
            ("tongues", spec.tongues),
            ("width", width),
        ),
        recipe=Union((Prism(strip, seat.panel), lip, Move(lip, y=width - LIP_WIDTH), *keys)),
        plastic=Plastic(
            body_mm3=area * seat.panel + 2 * spec.length * LIP_WIDTH * (high - seat.panel),
            sparse_mm3=0.0,
            first_mm2=area,
            height=high,
            hops=0.0,
        ),
    )


def _key(thickness: float, x: float, border: float) -> Solid:
    """A tongue whose neck lies on the border between strip and panel."""
    return Prism(RegionMove(tongue(-EDGE_INSET - ROOT), x=x, y=border), thickness)
