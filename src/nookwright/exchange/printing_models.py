"""What kit.json says of the printing: with which settings, when, from which spool, and what it costs."""

from __future__ import annotations

from pydantic import Field

from nookwright.ground.frozen import Model


class BedSettings(Model):
    """What a bedful is meant to be printed with: what its estimate rests on, and what its card says."""

    nozzle: float = Field(description="Diameter.")
    layer: float = Field(description="Height of every layer.")
    line_width: float = Field(description="Of every line.")
    walls: int = Field(description="Lines along each contour.")
    skin_below: int = Field(description="Solid layers below an infill.")
    skin_above: int = Field(description="Solid layers above an infill.")
    infill_percent: float = Field(description="Density of the infill.")
    infill: str = Field(description="Its pattern.")
    seam: str = Field(description="Where outlines begin and end.")
    brim: float = Field(description="Width of a brim; 0 for none.")
    skirt_loops: int = Field(description="Lines round all pieces; 0 for none.")
    skirt: float = Field(description="From pieces, or their brims, to the first of them.")


class BedPads(Model):
    """The pads of one piece of a bedful: thin discs at its corners, in the first layer, that are torn off after."""

    piece: str = Field(description="Id of the piece; each of its copies on the bed has them.")
    reach: float = Field(description="How far they reach beyond its corners.")
    height: float = Field(description="Of the pads: one layer.")
    count: int = Field(description="Of one copy.")
    mass_g: float = Field(description="Of those of one copy; in the mass of the bedful, not in that of the piece.")


class BedChange(Model):
    """A change of filament by hand on the way, for lettering on top of all that lies on the bed."""

    material: str = Field(description="Id of the new one.")
    layer: int = Field(description="The first that is printed with it, counted from 1.")
    height: float = Field(description="Where that layer begins.")
    after_s: float = Field(description="About so long after the start: someone must be there.")
    purge_g: float = Field(description="What is purged; in the mass of the bedful.")


class AlsoOn(Model):
    """Another printer that could print a bedful as it is."""

    printer: str = Field(description="Id of the printer.")
    time_s: float = Field(description="What it would take there.")


class KitSlot(Model):
    """One bedful in the schedule. Times are seconds from midnight of the schedule's first day."""

    bedful: str = Field(description="Id of the bedful; those of trials begin with `trial`.")
    printer: str = Field(description="Id of the printer.")
    change_s: float = Field(description="When someone begins to change the bed.")
    start_s: float = Field(description="When the print begins.")
    likely_s: float = Field(description="When it ends by its estimate.")
    end_s: float = Field(description="When it ends at the latest, as planned.")
    filament: bool = Field(description="Whether the filament is changed before it.")
    night: bool = Field(description="Whether it runs through a night with nobody there.")
    spool: str = Field(description="Id of the spool that it is printed from; empty where it has none.")


class KitReady(Model):
    """When a space is complete."""

    space: str = Field(description="Id of the space.")
    at_s: float = Field(description="When its last piece is printed, from midnight of the first day.")


class KitPurchase(Model):
    """Filament that has to be bought, of one batch."""

    material: str = Field(description="Id of the material.")
    spools: int = Field(description="How many.")
    spool_g: float = Field(description="Filament on each.")
    spare: int = Field(description="How many of them only for prints that fail.")
    by_s: float = Field(description="When the first is needed, from midnight of the first day.")
    price: float = Field(description="Of all of them.")


class KitMixed(Model):
    """A space in which one colour comes from several batches, so that it may differ from part to part."""

    space: str = Field(description="Id of the space.")
    material: str = Field(description="Id of the material.")
    batches: tuple[str, ...] = Field(description="The batches.")


class KitLearned(Model):
    """What was learned from the prints that were noted, for one printer and material."""

    printer: str = Field(description="Id of the printer.")
    material: str = Field(description="Id of the material.")
    slowness: float = Field(description="How many times longer moves take than estimated.")
    start_s: float = Field(description="What each start takes more than estimated.")
    heaviness: float = Field(description="How many times heavier prints are than estimated.")
    timed: int = Field(description="How many prints of the printer were timed.")
    weighed: int = Field(description="How many were weighed.")
    fails: float = Field(description="Share of bedfuls that are expected to fail.")


class KitCost(Model):
    """What the printing costs, in the person's currency; labour and margin only for an offer."""

    filament: float = Field(description="All filament.")
    electricity: float = Field(description="Of the printers.")
    machine: float = Field(description="Wear and upkeep.")
    spoiled: float = Field(description="Of prints that are expected to fail.")
    labour: float = Field(description="Work; 0 unless it is an offer.")
    margin: float = Field(description="On top of everything; 0 unless it is an offer.")
    total: float = Field(description="The sum.")
    energy_kwh: float = Field(description="Electricity used.")
    printing_h: float = Field(description="Hours that printers run.")


class KitPrinting(Model):
    """How the kit is printed from here on; what was noted as printed is left out."""

    first: str = Field(default="", description="First day, as 2026-03-02; empty where no start was given.")
    begin_s: float = Field(default=0.0, description="When it begins, from midnight of the first day.")
    end_s: float = Field(default=0.0, description="When the last print ends.")
    bound_s: float = Field(default=0.0, description="No schedule under the same rules ends earlier; proven.")
    gap: float = Field(default=0.0, description="By which share of its length it could be shorter at most.")
    slots: tuple[KitSlot, ...] = Field(default=(), description="In order of time.")
    unplaced: tuple[str, ...] = Field(default=(), description="Bedfuls that no hours allow.")
    ready: tuple[KitReady, ...] = Field(default=(), description="When each space is complete, in order of time.")
    purchases: tuple[KitPurchase, ...] = Field(default=(), description="What has to be bought.")
    mixed: tuple[KitMixed, ...] = Field(default=(), description="Where a colour may differ from part to part.")
    learned: tuple[KitLearned, ...] = Field(default=(), description="Of each printer and material in use.")
    spoilage: float = Field(default=0.0, description="Share of bedfuls that are expected to fail.")
    cost: KitCost | None = Field(default=None, description="What is still to print.")
    chart: str = Field(default="", description="Drawing of the schedule; empty where nothing is to print.")
    loading_list: str = Field(default="", description="The same as a table, one row a bedful.")
    calendar: str = Field(default="", description="The same for a calendar; empty where there are no dates.")
