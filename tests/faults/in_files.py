"""Faults of files: gone, changed by hand, or not what kit.json says of them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.files import VOLUME_SHARE
from nookwright.checks.masses import HEAVIEST
from nookwright.checks.weights import MM3_PER_CM3
from nookwright.ground.tolerances import GRID

from .harness import shifted, turned
from .table import plain, sized

if TYPE_CHECKING:
    from .harness import Sample

COINS = "coin-cells"


def _coin_tray(sample: Sample) -> str:
    return sample.placed(COINS).part


@plain("file-unreadable")
def gone(sample: Sample) -> Sample:
    """A mesh is gone."""
    return sample.overwritten(sample.piece(_coin_tray(sample)).file, None)


@plain("file-unreadable")
def cut_short(sample: Sample) -> Sample:
    """A mesh lost its end while it was copied."""
    file = sample.piece(_coin_tray(sample)).file
    return sample.overwritten(file, (sample.folder / file).read_bytes()[:-40])


@plain("file-unreadable")
def not_finite(sample: Sample) -> Sample:
    """A corner of a mesh is no number."""
    file = sample.piece(_coin_tray(sample)).file
    data = bytearray((sample.folder / file).read_bytes())
    data[84 + 12 : 84 + 16] = b"\xff\xff\xff\xff"  # the first number of the first corner
    return sample.overwritten(file, bytes(data))


@plain("file-changed")
def changed(sample: Sample) -> Sample:
    """A mesh was saved again by another program, with another title."""
    file = sample.piece(_coin_tray(sample)).file
    data = (sample.folder / file).read_bytes()
    return sample.overwritten(file, b"saved by hand".ljust(80) + data[80:])


@plain("file-changed")
def felt_changed(sample: Sample) -> Sample:
    """The outline of a felt inlay was changed by hand."""
    file = sample.kit.sheets[0].svg
    return sample.overwritten(file, (sample.folder / file).read_bytes() + b"\n")


@sized("size-wrong", f"{GRID:g} mm")
def size_wrong(sample: Sample, size: float) -> Sample:
    """kit.json says that a part is wider than its mesh."""
    part = sample.part("shoe")
    width, depth, height = part.size
    return sample.having("parts", part.id, size=(width + size * GRID, depth, height))


@sized("volume-wrong", f"{VOLUME_SHARE:.2%} of its volume")
def volume_wrong(sample: Sample, size: float) -> Sample:
    """kit.json says that a part holds more plastic than its mesh."""
    part = sample.part("shoe")
    return sample.having("parts", part.id, volume_mm3=part.volume_mm3 * (1 + size * VOLUME_SHARE))


@plain("pieces-differ", besides=("card-differs",))
def piece_missing(sample: Sample) -> Sample:
    """A tray that is printed in two pieces has one of them only."""
    part = sample.placed("straws").part
    pieces = [piece for piece in sample.kit.pieces if piece.part == part]
    return sample.without_piece(pieces[-1].id)


@plain("id-twice")
def id_twice(sample: Sample) -> Sample:
    """Two placements have one id."""
    return sample.saying(placements=(*sample.kit.placements, sample.placed(COINS)))


@plain("reference-dangling")
def nowhere(sample: Sample) -> Sample:
    """A tray stands on a panel that is not there."""
    return sample.having("placements", sample.placed(COINS).id, stands_on=("drawer-999",))


@plain("lot-count")
def forgotten(sample: Sample) -> Sample:
    """A die has no place, and nobody says so."""
    return sample.keeping("dice", lambda place: {"count": place.count - 1, "at": place.at[:-1]})


@plain("mass-wrong")
def lot_too_light(sample: Sample) -> Sample:
    """kit.json says that the dice weigh half of what the room file says."""
    (dice,) = (lot for lot in sample.kit.lots if lot.id == "dice")
    return replace(sample.having("lots", "dice", mass_g=dice.mass_g / 2), as_weighed=True)


@sized("mass-wrong", "the most that its plastic can weigh")
def piece_too_heavy(sample: Sample, size: float) -> Sample:
    """A piece is said to weigh more than its solid can, and all sums with it."""
    piece = sample.piece(sample.part("shoe").id)
    density = next(one.density_g_cm3 for one in sample.room.material if one.id == piece.material)
    most_g = HEAVIEST * piece.volume_mm3 / MM3_PER_CM3 * density
    return sample.having("pieces", piece.id, mass_g=size * most_g)


@plain("lot-count")
def one_die_more(sample: Sample) -> Sample:
    """kit.json counts a die more than the room file."""
    (dice,) = (lot for lot in sample.kit.lots if lot.id == "dice")
    return replace(sample.having("lots", "dice", count=dice.count + 1), as_weighed=True)


@plain("part-askew")
def tray_mirrored(sample: Sample) -> Sample:
    """A tray stands mirrored in its drawer."""
    one = sample.placed(COINS)
    width = sample.part("tray", "35x35").size[0]
    mirrored = turned(shifted(one.space_from_part, x=width), np.diag([-1.0, 1.0, 1.0, 1.0]))
    return sample.having("placements", one.id, space_from_part=mirrored)


@plain("blocked-forgotten")
def lock_forgotten(sample: Sample) -> Sample:
    """The lock of a drawer is not kept free any more."""
    return sample.having("spaces", "drawer", blocked=())


@plain("space-otherwise")
def round_corners(sample: Sample) -> Sample:
    """A drawer has round corners, and the kit reckons with square ones."""
    return sample.surveyed("space", "drawer", corner_radius=12.0)


@plain("printer-otherwise")
def smaller_bed(sample: Sample) -> Sample:
    """A printer has a smaller bed than the kit says."""
    return sample.surveyed("printer", "small", bed_width=140.0)


@plain("material-otherwise", besides=("bed-file-differs", "card-differs"))
def other_colour(sample: Sample) -> Sample:
    """A material has another colour than the kit says."""
    return sample.surveyed("material", "red", colour="#30c020")


@sized("thing-smaller", f"{GRID:g} mm")
def dice_small(sample: Sample, size: float) -> Sample:
    """Dice are reckoned smaller than they were read."""
    (read,) = (lot for lot in sample.room.lot if lot.id == "dice")
    side = read.width.largest - size * GRID  # type: ignore[union-attr]
    return sample.keeping("dice", lambda _: {"size": (side, side, side)})


@plain("lid-missing", besides=("piece-count",))
def lid_left_out(sample: Sample) -> Sample:
    """The lid of a dispenser is left out."""
    return sample.lacking("placements", sample.placed("sliding lid, napkins").id)


@plain("order-lost", besides=("piece-count",))
def order_lost(sample: Sample) -> Sample:
    """A part that was ordered is not in the kit."""
    return sample.lacking("orders", "lid")


@plain("stands-otherwise")
def on_another_panel(sample: Sample) -> Sample:
    """By kit.json a tray stands on the panel of another drawer."""
    other = next(one for one in sample.kit.placements if one.space == "bay" and "panel" in one.part)
    return sample.having("placements", sample.placed(COINS).id, stands_on=(other.id,))
