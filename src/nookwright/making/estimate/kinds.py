"""What a printer's time and plastic go into."""

from __future__ import annotations

from enum import StrEnum


class Laid(StrEnum):
    """What is laid."""

    OUTER = "outer walls"
    INNER = "inner walls"
    SKIN = "skins"
    INFILL = "infill"
    GAP = "gaps"
    BRIM = "brim"
    SKIRT = "skirt"
    PADS = "pads"


class Spent(StrEnum):
    """What time goes into: laying each of these, and what lays nothing."""

    OUTER = "outer walls"
    INNER = "inner walls"
    SKIN = "skins"
    INFILL = "infill"
    GAP = "gaps"
    BRIM = "brim"
    SKIRT = "skirt"
    PADS = "pads"
    TRAVEL = "travel"
    RETRACTION = "retractions"
    LAYER_CHANGE = "layer changes"
    WAITING = "waiting for a layer to be firm"
