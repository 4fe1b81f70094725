"""Faults of files: gone, changed by hand, or not what kit.json says of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.files import VOLUME_SHARE
from nookwright.ground.tolerances import GRID

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
