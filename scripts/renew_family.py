"""Renew the page of the whole family: docs/family.md and a picture of every part in docs/pictures/family.

::

    python -m uv run python scripts/renew_family.py
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

from nookwright.module.choice import module_of
from nookwright.parts.family import Variant, variants
from nookwright.solids.mesh import MeshKernel
from nookwright.solids.picture import Shown, View, picture

if TYPE_CHECKING:
    from nookwright.parts.model import Example

DOCS = Path(__file__).resolve().parent.parent / "docs"
PICTURES = DOCS / "pictures" / "family"
PREVIEW = 0.05  # mm; coarse is fine enough for a picture
COLOUR = (222, 178, 104)
WIDTH, HEIGHT = 320, 240
PLA_G_CM3 = 1.24

HEAD = """# The whole family

Every kind of part at its smallest, a middle and its largest size, drawn by the tool itself; made by
`scripts/renew_family.py`. Cells of {pitch:g} mm, layers of {layer:g} mm, walls of {wall:g} mm. Grams are those of a
closed form, in PLA of {density} g/cm3; a part that is larger than a bed is printed in pieces.
"""
TABLE = "| | part | size | outer size, mm | g |\n|---|---|---|---|---|"


def slug(name: str) -> str:
    """A part's name as a file name.

    >>> slug('tray 107x143 h48, "M4 x 20"')
    'tray-107x143-h48-m4-x-20'
    """
    return re.sub(r"[^a-z0-9.]+", "-", name.lower()).strip("-.")


def file_names(family: tuple[Variant, ...]) -> dict[str, str]:
    """A file name for each recipe; parts of one name are told apart by a number."""
    names: dict[str, str] = {}
    taken: dict[str, int] = {}
    for variant in family:
        for example in variant.examples:
            part = example.part
            if part.recipe.digest not in names:
                base = slug(part.name)
                taken[base] = taken.get(base, 0) + 1
                names[part.recipe.digest] = f"{base}.png" if taken[base] == 1 else f"{base}-{taken[base]}.png"
    return names


def row(example: Example, file: str) -> str:
    """A line of the table."""
    part = example.part
    size = " x ".join(f"{length:.1f}" for length in part.size)
    mass = part.plastic.mass_g(PLA_G_CM3)
    return f"| ![{part.name}](pictures/family/{file}) | {part.name} | {example.size} | {size} | {mass:.1f} |"


def page(family: tuple[Variant, ...], files: dict[str, str], head: str) -> str:
    """The page."""
    lines = [head]
    for variant in family:
        title = variant.name.removesuffix(" examples").capitalize()
        lines.append(f"\n## {title}\n\n{variant.about}\n\n{TABLE}")
        lines += [row(example, files[example.part.recipe.digest]) for example in variant.examples]
    return "\n".join(lines) + "\n"


def main() -> None:
    """Renew all of it."""
    module = module_of(18.0, 6.0, 0.2, "for the page of the family")
    family = variants(module)
    files = file_names(family)
    PICTURES.mkdir(parents=True, exist_ok=True)
    for old in PICTURES.glob("*.png"):
        if old.name not in files.values():
            old.unlink()
    kernel, total = MeshKernel(PREVIEW), 0
    for variant in family:
        for example in variant.examples:
            mesh = kernel.mesh(example.part.recipe)
            data = picture([Shown(mesh, COLOUR)], width=WIDTH, height=HEIGHT, view=View())
            (PICTURES / files[example.part.recipe.digest]).write_bytes(data)
            total += len(data)
    head = HEAD.format(pitch=module.pitch, layer=module.seat.layer, wall=module.wall, density=PLA_G_CM3)
    (DOCS / "family.md").write_text(page(family, files, head), encoding="utf-8")
    print(f"renewed docs/family.md and {len(files)} pictures of {total / 1000:.0f} kB in all")


if __name__ == "__main__":
    main()
