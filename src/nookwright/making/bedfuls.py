"""Pieces on beds: which printer, which colour, where on the bed, bedful by bedful. The door of ``making.beds``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.making.beds.fill import HEAT_UP_S, fill_beds
from nookwright.making.beds.model import Filled, Group, Item, Job, Load
from nookwright.making.beds.share import fits, homeless

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.survey.models import Printer

__all__ = ["HEAT_UP_S", "Filled", "Group", "Item", "Job", "Load", "bedfuls", "fill_beds", "fits", "homeless"]


def bedfuls(jobs: Sequence[Job], printers: Sequence[Printer]) -> tuple[Load, ...]:
    """All copies on beds by their boxes, in order of printer and material.

    Args:
        jobs: what is to be printed; one that fits no printer is left out (see ``homeless``).
        printers: of the household.
    """
    return fill_beds(jobs, printers).loads
