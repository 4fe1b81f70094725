"""Renew the pictures of docs/cutting.md: parts cut to a bed, their pieces drawn apart.

::

    python -m uv run python scripts/renew_cutting.py
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from nookwright.cutting.holds import fit_of
from nookwright.cutting.model import Bed
from nookwright.cutting.pieces import cut_part
from nookwright.module.choice import module_of
from nookwright.parts.cradles.cradle import cradle, pockets_of
from nookwright.parts.risers.riser import RiserInside, RiserSpec, riser
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_options import Grip, TrayOptions
from nookwright.sizing.printers.errors import unmeasured
from nookwright.solids.mesh import MeshKernel
from nookwright.solids.picture import Shown, View, picture

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.model import Part

PICTURES = Path(__file__).resolve().parent.parent / "docs" / "pictures" / "cutting"
PREVIEW = 0.05  # mm; coarse is fine enough for a picture
COLOURS = ((222, 178, 104), (128, 160, 178), (168, 178, 120), (200, 140, 120), (150, 140, 180), (180, 180, 180))
WIDTH, HEIGHT = 640, 420
APART = {"riser": 0.75}  # of its place, by which a piece is drawn apart
UP = 70.0  # mm, by which the upper piece of a tall part is drawn above the lower one
_LITTLE = 0.14  # the same of all others


def scenes(module: Module) -> dict[str, tuple[Part, Bed, View]]:
    """What is drawn, by file name."""
    pockets = pockets_of(module, cols=10, rows=4, diameter=31, columns=5, lines=2, pitch=35.4)
    cradled = cradle(module, cols=10, rows=4, height=36, pockets=pockets)
    full = riser(module, RiserSpec(9, 5, 5, inside=RiserInside.FULL))
    gripped = tray(module, cols=14, rows=9, height=48, options=TrayOptions(grip=Grip.NOTCH))
    high = tray(module, cols=8, rows=6, height=180, options=TrayOptions(grip=Grip.HAND_HOLE))
    return {
        "tray": (gripped, Bed(170.0, 170.0, 200.0), View(30.0, 48.0)),
        "six": (tray(module, cols=20, rows=13, height=36, smooth=False), Bed(140.0, 130.0, 200.0), View(25.0, 52.0)),
        "cradle": (cradled, Bed(130.0, 80.0, 200.0), View(25.0, 45.0)),
        "riser": (full, Bed(100.0, 95.0, 200.0), View(118.0, 30.0)),
        "tall": (high, Bed(170.0, 170.0, 110.0), View(28.0, 38.0)),
    }


def main() -> None:
    """Renew all of them."""
    module = module_of(18.0, 6.0, 0.2, "for the page of cutting")
    fit = fit_of(unmeasured(), layer=module.seat.layer, filament=1.75)
    kernel = MeshKernel(PREVIEW)
    PICTURES.mkdir(parents=True, exist_ok=True)
    for name, (part, bed, view) in scenes(module).items():
        done = cut_part(part, bed, fit)
        if done is None:
            raise SystemExit(f"{part.name} cannot be cut to the bed of its picture")
        apart = 1 + APART.get(name, _LITTLE)
        shown = [
            Shown(
                kernel.mesh(piece.recipe),
                COLOURS[n],
                (piece.x * apart, piece.y * apart, piece.z + (UP if piece.z else 0.0)),
            )
            for n, piece in enumerate(done.pieces)
        ]
        (PICTURES / f"{name}.png").write_bytes(picture(shown, width=WIDTH, height=HEIGHT, view=view))
        print(
            f"{name}: {part.name} in {len(done.pieces)} pieces, {[(j.hold.value, len(j.places)) for j in done.joints]}"
        )


if __name__ == "__main__":
    main()
