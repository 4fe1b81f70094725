"""Ways to keep a lot: how its things stand, in rows, columns and layers, and how much room that takes. No cells yet."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nookwright.survey.models import FloorStyle, Stance


class PartKind(StrEnum):
    """The kind of part that holds a lot."""

    TRAY = "tray"
    CRADLE = "cradle"


@dataclass(frozen=True)
class ThingSize:
    """One thing at its largest, as it stands, in mm.

    Attributes:
        width: along x in the part.
        depth: along y in the part.
        height: upwards.
        round_axis: ``"z"`` for a round thing standing, ``"x"`` or ``"y"`` for one lying, ``""`` for a box.
    """

    width: float
    depth: float
    height: float
    round_axis: str


@dataclass(frozen=True)
class Way:
    """One way to keep a lot in one part.

    Attributes:
        kind: tray or cradle.
        stance: how the things stand.
        thing: one thing at its largest, as it stands.
        columns: things side by side along x.
        rows: things one behind the other along y.
        layers: things on top of each other.
        pitch_x: from thing to thing along x (the thing and the clearance, for a cradle also its wall).
        pitch_y: the same along y.
        inner_width: inside that this takes along x, room to grow included.
        inner_depth: the same along y.
        stack_height: height of the things above the floor of the part.
        wall_height: height of the part's wall above its floor, enough to keep the things in.
        floor: floor style that the things need.
        trouble: how much more trouble one thing is to get out than the handiest way, in cost units, 0 or more.
    """

    kind: PartKind
    stance: Stance
    thing: ThingSize
    columns: int
    rows: int
    layers: int
    pitch_x: float
    pitch_y: float
    inner_width: float
    inner_depth: float
    stack_height: float
    wall_height: float
    floor: FloorStyle
    trouble: float
