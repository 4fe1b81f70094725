"""The meshes of a kit written to files, with the names and hashes that kit.json records.

A file's name says what it is, its outer size in mm, how many are needed and the material:
``pieces/tray_107x143x48_3x_pla-blue.stl``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from nookwright.exchange.assemble import item_matrix
from nookwright.exchange.bed_pads import pad_objects
from nookwright.exchange.bed_pictures import BedPictures
from nookwright.exchange.sheets import sheets_to_write, write_sheets
from nookwright.exchange.stl import write_stl
from nookwright.exchange.threemf import BaseMaterial, Body, Item, Paint, ThreeMF, write_3mf
from nookwright.ground.digest import digest
from nookwright.ground.slugs import slug
from nookwright.making.cards import PrintCard
from nookwright.making.colours import lettering_of, second_material
from nookwright.making.jobs import unique
from nookwright.survey.consistency import TEXT

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from nookwright.exchange.printing_models import BedPads
    from nookwright.exchange.sheets import WrittenSheet
    from nookwright.ground.progress import Progress
    from nookwright.making.bedfuls import Load
    from nookwright.making.jobs import MadePiece, Making
    from nookwright.parts.design import Copy
    from nookwright.solids.mesh import Mesh
    from nookwright.survey.models import Material, Room


@dataclass(frozen=True)
class Written:
    """What was written.

    Attributes:
        part: by id of the part: file, sha256, volume of its mesh in mm3.
        piece: by id of the piece: file, sha256.
        bedful: in order of the bedfuls: file, sha256 of the uncompressed model part, print card, pads on it.
        sheets: what is cut from felt, cork or card.
    """

    part: Mapping[str, tuple[str, str, float]]
    piece: Mapping[str, tuple[str, str]]
    bedful: tuple[tuple[str, str, str, tuple[BedPads, ...]], ...]
    sheets: tuple[WrittenSheet, ...] = ()


def write_meshes(
    folder: Path,
    room: Room,
    making: Making,
    meshes: Mapping[str, Mesh],
    progress: Progress,
    *,
    copies: Sequence[Copy] = (),
    whole_parts: bool = True,
    version: str = "",
) -> Written:
    """Write an STL of every piece and of every part that was cut, a 3MF of every bedful, the sheets to cut.

    A part that is printed whole has no file of its own: its piece's file is the whole.

    Args:
        folder: to write to.
        room: as surveyed.
        making: pieces and bedfuls.
        meshes: by the digest of their recipe.
        progress: who is told how far it is.
        copies: all copies of all parts, for the sheets that go with them.
        whole_parts: whether a part that was cut gets a file of its own.
        version: of the tool, and of the room, as the files of bedfuls say it.
    """
    names = file_names(making.pieces, {made.id: made.part.kind.value for made in making.parts})
    piece_files = {
        piece.id: _stl(folder, f"pieces/{names[piece.id]}.stl", meshes[piece.piece.recipe.digest])
        for piece in progress.track(making.pieces, len(making.pieces), "writing pieces")
    }
    wholes = whole_names(making)
    part_files: dict[str, tuple[str, str, float]] = {}
    for made in making.parts:
        mesh = meshes[made.part.recipe.digest]
        if len(made.cut.pieces) == 1:
            same = next(piece.id for piece in making.pieces if piece.part == made.id)
            part_files[made.id] = (*piece_files[same], mesh.volume_mm3)
        elif whole_parts:
            part_files[made.id] = (*_stl(folder, f"parts/{wholes[made.id]}.stl", mesh), mesh.volume_mm3)
    beds = _Beds(folder, room, making, meshes, version)
    bedfuls = tuple(
        beds.write(number, load)
        for number, load in progress.track(tuple(enumerate(making.loads)), len(making.loads), "writing bedfuls")
    )
    return Written(part_files, piece_files, bedfuls, write_sheets(folder, copies))


def unwritten(making: Making, *, copies: Sequence[Copy] = ()) -> Written:
    """The names that files would have, each with the hash of nothing, and volumes in closed form.

    Args:
        making: pieces and bedfuls.
        copies: all copies of all parts, for the sheets that go with them.
    """
    nothing = digest("")
    return Written(
        {made.id: (f"parts/{made.id}.stl", nothing, made.part.plastic.body_mm3) for made in making.parts},
        {piece.id: (f"pieces/{piece.id}.stl", nothing) for piece in making.pieces},
        tuple((f"bedfuls/{number + 1:02d}.3mf", nothing, "", ()) for number in range(len(making.loads))),
        sheets_to_write(copies),
    )


def file_names(pieces: Sequence[MadePiece], kinds: Mapping[str, str]) -> dict[str, str]:
    """A name for every piece by its id, without its ending: what, outer size in mm, how many, which material.

    Args:
        pieces: all pieces of the kit.
        kinds: kind of part by its id.
    """
    stems = unique([f"{slug(kinds[piece.part])}_{outer_name(piece.piece.size)}" for piece in pieces])
    return {piece.id: f"{stem}_{piece.count}x_{piece.material}" for piece, stem in zip(pieces, stems, strict=True)}


def whole_names(making: Making) -> dict[str, str]:
    """A name for every part that is cut by its id, without its ending: what, outer size, how many, which materials.

    Args:
        making: parts and pieces.
    """
    cut = [made for made in making.parts if len(made.cut.pieces) > 1]
    stems = unique([f"{slug(made.part.kind)}-whole_{outer_name(made.part.size)}" for made in cut])
    return {made.id: f"{stem}_{_copies(made.id, making)}" for made, stem in zip(cut, stems, strict=True)}


def _copies(part: str, making: Making) -> str:
    """How many copies of a part are needed, in which materials."""
    count = {piece.material: piece.count for piece in making.pieces if piece.part == part}
    return f"{sum(count.values())}x_{'+'.join(sorted(count))}"


def outer_name(size: tuple[float, float, float]) -> str:
    """An outer size as it stands in a file's name.

    >>> outer_name((107.4, 143.4, 3.6))
    '107x143x3.6'
    """
    width, depth, height = size
    return f"{width:.0f}x{depth:.0f}x{round(height, 1):g}"


def _stl(folder: Path, file: str, mesh: Mesh) -> tuple[str, str]:
    return file, write_stl(_place(folder, file), mesh.vertices, mesh.triangles)


@dataclass(frozen=True)
class _Beds:
    """What bedfuls are written from."""

    folder: Path
    room: Room
    making: Making
    meshes: Mapping[str, Mesh]
    version: str
    pictures: BedPictures = field(default_factory=BedPictures)

    @cached_property
    def pieces(self) -> Mapping[str, MadePiece]:
        """By their id."""
        return {piece.id: piece for piece in self.making.pieces}

    def mesh(self, piece: str) -> Mesh:
        """Of a piece."""
        return self.meshes[self.pieces[piece].piece.recipe.digest]

    def write(self, number: int, load: Load) -> tuple[str, str, str, tuple[BedPads, ...]]:
        """One bedful: every distinct piece once, its copies by transform; its card beside it and in its metadata.

        Returns:
            The 3MF, the sha256 of its model part, the card, the pads.
        """
        distinct = list(dict.fromkeys(item.piece for item in load.items))
        material = next(one for one in self.room.material if one.id == load.material)
        second = second_material(load, self.room)
        bodies = [self._body(name, second) for name in distinct]
        items = tuple(
            Item(
                distinct.index(item.piece),
                item_matrix(item, self.pieces[item.piece].piece.size),
                f"{item.piece}-{copy}",
            )
            for copy, item in enumerate(load.items, start=1)
        )
        card = self.card(number, load, material)
        pads, pad_items, said = pad_objects(
            load,
            self.mesh,
            items,
            layer=next(one for one in self.room.printer if one.id == load.printer).layer,
            density_g_cm3=material.density_g_cm3,
            first=len(bodies),
        )
        stem = f"bedfuls/{number + 1:02d}_{load.printer}_{len(items)}-pieces_{load.material}"
        content = ThreeMF(
            bodies=(*bodies, *pads),
            items=(*items, *pad_items),
            materials=tuple(
                BaseMaterial(one.name or one.id, one.colour)
                for one in (material, *([second] if second and any(body.paint for body in bodies) else []))
            ),
            metadata=(
                ("Title", card.title),
                ("Description", card.in_one_line()),
                ("Application", f"nookwright {self.version}".strip()),
            ),
            thumbnail=self.picture(load, material),
        )
        _place(self.folder, f"{stem}.txt").write_text(card.text(), encoding="utf-8", newline="\n")
        return f"{stem}.3mf", write_3mf(_place(self.folder, f"{stem}.3mf"), content), f"{stem}.txt", said

    def _body(self, name: str, second: Material | None) -> Body:
        mesh = self.mesh(name)
        return Body(self.pieces[name].piece.name, name, mesh.vertices, mesh.triangles, paint=_paint(mesh, second))

    def card(self, number: int, load: Load, material: Material) -> PrintCard:
        """The card of a bedful."""
        distinct = dict.fromkeys(item.piece for item in load.items)
        return PrintCard(
            title=f"{self.room.room.name}: bedful {number + 1}",
            load=load,
            printer=next(one for one in self.room.printer if one.id == load.printer),
            material=material,
            settings=self.making.settings.get(load.printer),
            names={name: self.pieces[name].piece.name for name in distinct},
            lettering=lettering_of(load, self.room, [self.mesh(name) for name in distinct]),
            printers={one.id: one.name or one.id for one in self.room.printer},
        )

    def picture(self, load: Load, material: Material) -> bytes:
        """The bedful from above."""
        printer = next(one for one in self.room.printer if one.id == load.printer)
        items = [(item, self.pieces[item.piece].piece.recipe.digest, self.mesh(item.piece)) for item in load.items]
        return self.pictures.of(printer, items, material.colour)


def _paint(mesh: Mesh, second: Material | None) -> tuple[Paint, ...]:
    """The faces of a mesh that are lettering, in the second material of the file."""
    if second is None:
        return ()
    return tuple(Paint(one.first, one.count, 1) for one in mesh.features if one.name == TEXT)


def _place(folder: Path, file: str) -> Path:
    """The path of a file, its folder made. A folder without a file would look like a stranger's."""
    path = folder / file
    path.parent.mkdir(exist_ok=True)
    return path
