"""What kit.json says of the joints of a part that is printed in pieces."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from pydantic import Field

from nookwright.exchange.rounding import rounded
from nookwright.ground.frozen import Model

if TYPE_CHECKING:
    from nookwright.cutting.model import Joint


class KitPin(Model):
    """Pins that a person cuts for a joint."""

    name: str = Field(description="What they are cut from.")
    diameter: float = Field(description="Of a pin.")
    length: float = Field(description="To cut it to.")
    hole: float = Field(description="From flat to flat of its hole.")
    depth: float = Field(description="Of the hole in each piece.")


class KitLap(Model):
    """A tongue of the lower piece that stands up inside a wall of the upper one, and reaches into the part's inside."""

    low: tuple[float, float, float] = Field(description="Corner of its box nearest the origin, in the part's axes.")
    high: tuple[float, float, float] = Field(description="Corner opposite.")


class KitJoint(Model):
    """Where two pieces of a part meet."""

    hold: Literal["tongues", "pins", "laps", "faces"] = Field(
        description="What holds them in line: dovetails in the floor, pins, laps inside walls, or only the glue."
    )
    axis: Literal["x", "y", "z"] = Field(description="The axis of the part that the cut is across.")
    at: float = Field(description="Where the cut is along that axis, in the part's axes.")
    span: tuple[float, float] = Field(
        description="From where to where it goes along the other axis; across z, along x."
    )
    across: tuple[float, float] = Field(
        default=(0.0, 0.0), description="Of a cut across z, from where to where it goes along y."
    )
    places: tuple[tuple[float, float], ...] = Field(
        default=(),
        description="Middles of its dovetails or pins: along the other axis, and height (0 for a dovetail). Of a cut "
        "across z: along x and y.",
    )
    laps: tuple[KitLap, ...] = Field(default=(), description="Of a cut across z, inside the walls.")
    area_mm2: float = Field(default=0.0, description="Of one of the two faces that are glued.")
    pin: KitPin | None = Field(default=None, description="Of a joint with pins.")
    dry: bool = Field(default=False, description="It may stay unglued where the part stands.")


_AXES: tuple[Literal["x", "y", "z"], ...] = ("x", "y", "z")


def joint_record(joint: Joint) -> KitJoint:
    """A joint as the kit tells it."""
    pin = joint.pin
    return KitJoint(
        hold=joint.hold.value,
        axis=_AXES[joint.axis],
        at=rounded(joint.at),
        span=(rounded(joint.span[0]), rounded(joint.span[1])),
        places=tuple((rounded(along), rounded(height)) for along, height in joint.places),
        pin=KitPin(name=pin.name, diameter=pin.diameter, length=pin.length, hole=pin.hole, depth=pin.depth)
        if pin
        else None,
        dry=joint.dry,
        across=(rounded(joint.across[0]), rounded(joint.across[1])),
        laps=tuple(KitLap(low=_corner(lap.low), high=_corner(lap.high)) for lap in joint.laps),
        area_mm2=rounded(joint.area_mm2),
    )


def _corner(corner: tuple[float, float, float]) -> tuple[float, float, float]:
    x, y, z = corner
    return rounded(x), rounded(y), rounded(z)
