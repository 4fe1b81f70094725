"""What a 3MF file of ours holds, as plain data: bodies with their material, and where they lie on the bed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from nookwright.exchange.kit import Matrix
    from nookwright.exchange.stl import Triangles, Vertices

CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
PADS = "-pads"  # ends the part number of what holds the corners of a piece down
# Names that the core specification (section 3.4.1) allows without a prefix. Dates are left out on purpose.
METADATA = (
    "Title",
    "Designer",
    "Description",
    "Copyright",
    "LicenseTerms",
    "Rating",
    "CreationDate",
    "ModificationDate",
    "Application",
)


@dataclass(frozen=True)
class BaseMaterial:
    """A material as a person sees it.

    Attributes:
        name: what it is called.
        colour: as ``#rrggbb``.
    """

    name: str
    colour: str


@dataclass(frozen=True)
class Paint:
    """A run of triangles of another material than their body.

    Attributes:
        first: number of its first triangle.
        count: how many triangles it has.
        material: index into the file's materials.
    """

    first: int
    count: int
    material: int


@dataclass(frozen=True, eq=False)
class Body:
    """One mesh.

    Attributes:
        name: what people call it.
        part_number: id of the piece.
        vertices: (n, 3), mm.
        triangles: (m, 3), rows of ``vertices``, counter-clockwise seen from outside.
        material: index into the file's materials.
        paint: runs of triangles of other materials, in order, apart from each other.
    """

    name: str
    part_number: str
    vertices: Vertices
    triangles: Triangles
    material: int = 0
    paint: tuple[Paint, ...] = ()


@dataclass(frozen=True)
class Item:
    """One copy of a body on the bed.

    Attributes:
        body: index into the file's bodies.
        bed_from_body: row-major 4 x 4 matrix for column vectors, as everywhere in the kit; no perspective.
        part_number: what this copy is called; empty for none.
    """

    body: int
    bed_from_body: Matrix
    part_number: str = ""


@dataclass(frozen=True, eq=False)
class ThreeMF:
    """One file.

    Attributes:
        bodies: each distinct mesh once.
        items: the copies on the bed.
        materials: at least one.
        metadata: pairs of a well-known name (see ``METADATA``) and a text.
        thumbnail: a picture of it, PNG; not read back with the model.
    """

    bodies: tuple[Body, ...]
    items: tuple[Item, ...]
    materials: tuple[BaseMaterial, ...]
    metadata: tuple[tuple[str, str], ...] = ()
    thumbnail: bytes | None = None
