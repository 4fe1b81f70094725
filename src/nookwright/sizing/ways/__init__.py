"""Ways to keep a lot: how its things stand, in columns, rows, layers, heaps and boxes, and how much room that takes.

All in mm, no cells yet. Each way is one part for a whole lot, room to grow included.
"""

from nookwright.sizing.ways.clearances import (
    FINGER_ROOM,
    HAND_WIDTH,
    SHELL_FILLET,
    SMALL,
    SMOOTH_FILLET,
    TRAY_CLEARANCE,
    capacity,
)
from nookwright.sizing.ways.every import ways_of
from nookwright.sizing.ways.rows import HEAP, MOST_LAYERS
from nookwright.sizing.ways.walls import LEAST_WALL, MOST_WALL, RIM_OVER
from nookwright.sizing.ways.way import Arrangement, Limits, LongThings, PartKind, ThingSize, Way

__all__ = [
    "FINGER_ROOM",
    "HAND_WIDTH",
    "HEAP",
    "LEAST_WALL",
    "MOST_LAYERS",
    "MOST_WALL",
    "RIM_OVER",
    "SHELL_FILLET",
    "SMALL",
    "SMOOTH_FILLET",
    "TRAY_CLEARANCE",
    "Arrangement",
    "Limits",
    "LongThings",
    "PartKind",
    "ThingSize",
    "Way",
    "capacity",
    "ways_of",
]
