"""Pictures of bedfuls seen from above, for the 3MF of each: every piece is drawn once and put where it lies."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.solids.picture import Shown, View, pixels
from nookwright.solids.png import png

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from nookwright.making.beds.model import Item
    from nookwright.solids.triangles import Mesh
    from nookwright.survey.models import Printer

    Pixels = NDArray[np.uint8]

LONGEST = Fact(192, unit="px", kind=Kind.CHOICE, source="Of the bed's longer side: a small picture in a list of files.")
_BED = (236, 238, 241, 255)
_EDGE = (140, 146, 153, 255)
_FROM_ABOVE = View(around_deg=0.0, above_deg=90.0)


class BedPictures:
    """Draws bedfuls, and remembers what it has drawn."""

    def __init__(self) -> None:
        self._drawn: dict[tuple[str, str, float], Pixels] = {}

    def of(self, printer: Printer, items: Iterable[tuple[Item, str, Mesh]], colour: str) -> bytes:
        """A bedful as a PNG.

        Args:
            printer: whose bed it is.
            items: what lies on it, each with the digest of its recipe and its mesh.
            colour: of the material, #rrggbb.
        """
        scale = float(LONGEST) / max(printer.bed_width, printer.bed_depth)
        wide, deep = round(printer.bed_width * scale), round(printer.bed_depth * scale)
        bed = np.full((deep, wide, 4), _BED, np.uint8)
        bed[[0, -1], :] = bed[:, [0, -1]] = _EDGE
        for item, recipe, mesh in items:
            tile = np.rot90(self._tile(recipe, mesh, colour, scale), item.turns)
            left, bottom = round(item.x * scale), deep - round(item.y * scale)
            _put(bed, tile, left, bottom - tile.shape[0])
        return png(bed, opaque=True)

    def _tile(self, recipe: str, mesh: Mesh, colour: str, scale: float) -> Pixels:
        """One piece as it is drawn."""
        key = (recipe, colour, scale)
        if key not in self._drawn:
            width, height = (max(2, round(side * scale)) for side in np.ptp(mesh.vertices[:, :2], axis=0).tolist())
            red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
            shown = [Shown(mesh, (red, green, blue))]
            self._drawn[key] = pixels(shown, width=width, height=height, view=_FROM_ABOVE, paper=None)
        return self._drawn[key]


def _put(bed: Pixels, tile: Pixels, left: int, top: int) -> None:
    """Draw a tile over a bed, as far as it lies on it."""
    top, left = max(0, top), max(0, left)
    part = bed[top : top + tile.shape[0], left : left + tile.shape[1]]
    tile = tile[: part.shape[0], : part.shape[1]]
    cover = tile[..., 3:].astype(np.uint32)
    mixed = tile[..., :3] * cover + part[..., :3] * (255 - cover)
    part[..., :3] = (mixed // 255).astype(np.uint8)
