"""What a bedful is printed with, as kit.json says it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.exchange.printing_models import BedChange, BedSettings
from nookwright.exchange.rounding import rounded
from nookwright.making.costs import PERCENT

if TYPE_CHECKING:
    from nookwright.making.bedfuls import Load
    from nookwright.making.jobs import Making
    from nookwright.survey.models import Room


def settings_record(load: Load, room: Room, making: Making) -> BedSettings | None:
    """The settings of a bedful, those that its estimate rests on; nothing before there is an estimate.

    Args:
        load: the bedful.
        room: as surveyed.
        making: with the settings of each printer.
    """
    settings = making.settings.get(load.printer)
    if settings is None:
        return None
    return BedSettings(
        nozzle=next(one.nozzle for one in room.printer if one.id == load.printer),
        layer=settings.layer,
        line_width=rounded(settings.line_width),
        walls=settings.walls,
        skin_below=settings.skin_below,
        skin_above=settings.skin_above,
        infill_percent=rounded(settings.infill_share * PERCENT),
        infill=settings.pattern.value,
        seam=settings.seam.value,
        brim=settings.brim,
        skirt_loops=settings.skirt_loops if load.skirt else 0,
        skirt=settings.skirt if load.skirt else 0.0,
    )


def change_record(load: Load) -> BedChange | None:
    """The change of filament on the way of a bedful; nothing where there is none.

    Args:
        load: the bedful.
    """
    change = load.change
    if change is None:
        return None
    return BedChange(
        material=change.material,
        layer=change.layer,
        height=rounded(change.height),
        after_s=rounded(change.after_s),
        purge_g=rounded(change.purge_g),
    )
