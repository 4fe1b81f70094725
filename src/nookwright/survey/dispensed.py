"""What is drawn through the slot of a dispenser; the slot suits it."""

from __future__ import annotations

from enum import StrEnum


class Dispensed(StrEnum):
    """What is drawn through a slot."""

    SHEETS = "sheets"  # a narrow slot: two fingertips pinch the uppermost
    BAGS = "bags"  # rolled or folded, drawn by a corner
    GLOVES = "gloves"  # an oval for a hand's fingers
