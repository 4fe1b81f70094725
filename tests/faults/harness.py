"""A kit on disk that is changed on purpose: one thing at a time, everything else kept true.

A sample never changes. Each step makes another one, with a folder of its own where files change: the rest is linked. A
mesh that is changed gets its hash, size and volume into kit.json and its triangles into the 3MF of every bedful, so
that the fault itself is found and not a hash that differs.
"""

from __future__ import annotations

import math
import os
import shutil
import tempfile
from collections import Counter
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache, partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from nookwright.checks.bodies import matrix_of, moved_by, shape_of
from nookwright.checks.forces.check import check_forces
from nookwright.checks.joined import _measured as measured
from nookwright.checks.prove import prove
from nookwright.checks.soundness import volume_of
from nookwright.checks.strength.check import check_strength
from nookwright.checks.verdicts import Verdicts
from nookwright.exchange.kit import BlockedBox
from nookwright.exchange.stl import read_stl, write_stl
from nookwright.exchange.threemf import read_3mf, write_3mf
from nookwright.exchange.threemf_model import PADS, Item, ThreeMF
from nookwright.ground.findings import Severity
from nookwright.sizing.usable import usable_of

from .solids import arrays, solid_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    import numpy.typing as npt
    from manifold3d import Manifold

    from nookwright.checks.bodies import Shape
    from nookwright.exchange.kit import Bedful, Kit, KitPart, LotPlace, Matrix, Piece, Placement
    from nookwright.exchange.stl import Triangles, Vertices
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Room

    Floats = npt.NDArray[np.float64]
    Redraw = Callable[[Vertices, Triangles], tuple[Vertices, Triangles]]


@dataclass(frozen=True, eq=False)
class Sample:
    """A kit, where it lies, and its room.

    Attributes:
        folder: its files; those that did not change are links to the first kit's.
        kit: what kit.json would say.
        room: what the survey says.
        scratch: where folders of changed kits are made.
        cache: verdicts of all samples.
        redone: meshes that are not those of the first kit.
        as_weighed: whether masses stay as they are stated, also where they no longer are true.
        aside: codes of findings that are left out.
    """

    folder: Path
    kit: Kit
    room: Room
    scratch: Path
    cache: Path | None = None
    redone: frozenset[str] = frozenset()
    as_weighed: bool = False
    aside: frozenset[str] = frozenset()

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What proving it says."""
        kit = self.kit if self.as_weighed else summed(weighed(self.kit, self.room), self.room)
        found = prove(self.folder, kit, room=self.room, cache=self.cache)
        return tuple(one for one in found if one.code not in self.aside)

    def figure(self, code: str, subject: str = "") -> tuple[float, float]:
        """What was computed and its limit, of the worst finding of a code."""
        found = [one for one in self.findings if one.code == code and one.against and subject in one.subject]
        if not found:
            raise LookupError(f"proving does not say {code} of {subject or 'anything'}")
        worst = max(found, key=lambda one: one.severity is Severity.STOP)
        assert worst.against
        return worst.against.computed, worst.against.limit

    # ------------------------------------------------------------------------------------------- what there is

    def placed(self, label: str) -> Placement:
        """The first placement with a label, or whose part has this id."""
        return next(one for one in self.kit.placements if label in (one.label, one.part, one.id))

    def part(self, kind: str, holding: str = "") -> KitPart:
        """The first part of a kind whose id holds a text."""
        return next(one for one in self.kit.parts if one.kind == kind and holding in one.id)

    def solid(self, part: str) -> Manifold:
        """The solid of a part, from its file."""
        (one,) = (entry for entry in self.kit.parts if entry.id == part)
        return solid_of(*read_stl(self.folder / one.stl))

    def piece(self, part: str) -> Piece:
        """The first piece of a part."""
        return next(one for one in self.kit.pieces if one.part == part)

    @cached_property
    def shapes(self) -> dict[str, Shape]:
        """The meshes of all parts as the checks see them, by file."""
        return {part.stl: self.shape_of(part.id) for part in self.kit.parts}

    @cached_property
    def piece_shapes(self) -> dict[str, Shape]:
        """The same of all pieces."""
        return {one.file: _shape_at(one.stl_sha256, self.folder / one.file) for one in self.kit.pieces}

    @cached_property
    def trial_shapes(self) -> dict[str, Shape]:
        """The same of all pieces of trials."""
        pieces = [piece for trial in self.kit.first.trials for piece in trial.pieces]
        return {one.file: _shape_at(one.sha256, self.folder / one.file) for one in pieces}

    @cached_property
    def strengths(self) -> tuple[Finding, ...]:
        """What the checks of strength alone say."""
        shapes = self.shapes | self.piece_shapes
        return check_strength(self.kit, self.room, shapes, Verdicts(self.cache))

    @cached_property
    def forces(self) -> tuple[Finding, ...]:
        """What the checks of forces alone say."""
        return check_forces(self.kit, self.room, self.shapes | self.piece_shapes)

    def fitted(self, lot: str, fit: str) -> Sample:
        """With the things of a lot held otherwise by their pockets."""
        (one,) = (entry for entry in self.kit.lots if entry.id == lot)
        sizes = tuple(
            size.model_copy(update={"pocket": size.pocket.model_copy(update={"fit": fit})}) if size.pocket else size
            for size in one.sizes
        )
        return self.having("lots", lot, sizes=sizes)

    def shape_of(self, part: str) -> Shape:
        """A part as the checks see it."""
        (one,) = (entry for entry in self.kit.parts if entry.id == part)
        return _shape_at(one.stl_sha256, self.folder / one.stl)

    def joined(self, part: KitPart) -> tuple[float, ...]:
        """What ``checks.joined`` measures on a part that is printed in pieces, mm3 but for the second, mm."""
        pieces = self.pieces_of(part.id)
        files = (part.stl, *(piece.file for piece in pieces))
        return measured(part, pieces, {file: shape_of(file, *read_stl(self.folder / file)) for file in files})

    def box_of(self, label: str) -> tuple[Floats, Floats]:
        """The least and greatest corner of a placed part, in its space."""
        one = self.placed(label)
        points = moved_by(matrix_of(one.space_from_part), self.shape_of(one.part).vertices)
        return points.min(axis=0), points.max(axis=0)

    def in_space(self, space: str) -> list[tuple[Floats, Floats]]:
        """The same of every part in a space."""
        return [self.box_of(one.id) for one in self.kit.placements if one.space == space]

    def pieces_of(self, part: str) -> tuple[Piece, ...]:
        """All pieces of a part."""
        return tuple(one for one in self.kit.pieces if one.part == part)

    def on_bed(self, bedful: Bedful) -> list[tuple[Floats, Floats]]:
        """The least and greatest corner of each copy on a bed, in the order of the items."""
        files = {piece.id: piece.file for piece in self.kit.pieces}
        found = []
        for item in bedful.items:
            at = np.array(item.bed_from_piece)
            points = read_stl(self.folder / files[item.piece])[0] @ at[:3, :3].T + at[:3, 3]
            found.append((points.min(axis=0), points.max(axis=0)))
        return found

    def bedful_of(self, piece: str) -> Bedful:
        """The first bedful that has a piece on it."""
        return next(one for one in self.kit.bedfuls if any(item.piece == piece for item in one.items))

    # ------------------------------------------------------------------------------------ what kit.json says

    def saying(self, **changes: Any) -> Sample:  # noqa: ANN401 - any key of the kit
        """With keys of kit.json changed."""
        return replace(self, kit=self.kit.model_copy(update=changes))

    def having(self, what: str, name: str, **changes: Any) -> Sample:  # noqa: ANN401 - any key of an entry
        """With one entry of a list of kit.json changed."""
        entries = getattr(self.kit, what)
        if not any(one.id == name for one in entries):
            raise LookupError(f"no {name!r} among the {what}")
        return self.saying(
            **{what: tuple(one.model_copy(update=changes) if one.id == name else one for one in entries)}
        )

    def lacking(self, what: str, name: str) -> Sample:
        """With one entry of a list of kit.json gone."""
        return self.saying(**{what: tuple(one for one in getattr(self.kit, what) if one.id != name)})

    def without_piece(self, piece: str) -> Sample:
        """With a piece, and its copies on beds, gone."""
        sample = self.lacking("pieces", piece)
        for bedful in self.kit.bedfuls:
            left = tuple(item for item in bedful.items if item.piece != piece)
            if len(left) < len(bedful.items):
                sample = sample.having("bedfuls", bedful.id, items=left).with_beds({bedful.id})
        return sample

    def keeping(self, lot: str, change: Callable[[LotPlace], dict[str, Any]]) -> Sample:
        """With the first place of a lot changed; the function gives the keys that differ."""
        (one,) = (entry for entry in self.kit.lots if entry.id == lot)
        first = one.places[0].model_copy(update=change(one.places[0]))
        return self.having("lots", lot, places=(first, *one.places[1:]))

    def lowered(self, space: str, height: float) -> Sample:
        """With another clear height of a space."""
        (one,) = (entry for entry in self.kit.spaces if entry.id == space)
        usable = (*one.usable[:-1], one.usable[-1].model_copy(update={"z": height}))
        return self.having("spaces", space, usable=usable, height=height)

    def blocking(self, space: str, low: Sequence[float], high: Sequence[float]) -> Sample:
        """With one more box in a space that nothing may enter."""
        (one,) = (entry for entry in self.kit.spaces if entry.id == space)
        corners = {name: tuple(map(float, corner)) for name, corner in (("low", low), ("high", high))}
        box = BlockedBox.model_validate({"reason": "a pipe", "service": True, **corners})
        return self.having("spaces", space, blocked=(*one.blocked, box))

    def moved(self, label: str, x: float = 0, y: float = 0, z: float = 0) -> Sample:
        """With a part moved in its space, mm; what stands on it, and what it holds, moves along."""
        names = {self.placed(label).id}
        for _ in self.kit.placements:  # as often as anything may stand on anything
            names |= {other.id for other in self.kit.placements if names & set(other.stands_on)}
        sample = self
        for one in self.kit.placements:
            if one.id in names:
                sample = sample.having("placements", one.id, space_from_part=shifted(one.space_from_part, x, y, z))
        return sample

    def moved_alone(self, name: str, x: float = 0, y: float = 0, z: float = 0) -> Sample:
        """With one placement moved, and nothing else."""
        return self.having("placements", name, space_from_part=shifted(self.placed(name).space_from_part, x, y, z))

    def with_items(self, bedful: str, change: Callable[[Item], Item]) -> Sample:
        """With every copy on a bed handed through a function, in kit.json and in the 3MF."""
        (one,) = (entry for entry in self.kit.bedfuls if entry.id == bedful)
        new = tuple(change(Item(0, item.bed_from_piece, item.piece)) for item in one.items)
        items = tuple(
            item.model_copy(update={"bed_from_piece": moved.bed_from_body})
            for item, moved in zip(one.items, new, strict=True)
        )
        return self.having("bedfuls", bedful, items=items).with_beds({bedful})

    # ------------------------------------------------------------------------------------------- what was read

    def where(self, **changes: Any) -> Sample:  # noqa: ANN401 - any key of the room
        """With keys of the room changed."""
        return replace(self, room=_checked(self.room, changes))

    def surveyed(self, what: str, name: str, **changes: Any) -> Sample:  # noqa: ANN401 - any key of an entry
        """With one entry of a list of the room changed, checked as if it stood in the file."""
        entries = getattr(self.room, what)
        if not any(one.id == name for one in entries):
            raise LookupError(f"the room has no {what} {name!r}")
        new = tuple(_checked(one, changes) if one.id == name else one for one in entries)
        return replace(self, room=self.room.model_copy(update={what: new}))

    # ---------------------------------------------------------------------------------------- what was written

    def cut(self, part: str, change: Callable[[Manifold], Manifold]) -> Sample:
        """With the solid of a part changed, in its own axes, and all of its pieces with it.

        Args:
            part: id of the part.
            change: takes and gives a solid.
        """
        (whole,) = (one for one in self.kit.parts if one.id == part)
        sample = self._redrawn(whole.stl, lambda *mesh: arrays(change(solid_of(*mesh))))
        for piece in self.kit.pieces:
            if piece.part == part and piece.file != whole.stl:
                sample = sample._redrawn(piece.file, _in_axes(piece.part_from_piece, change))
        return sample.with_beds()

    def cut_piece(self, piece: str, change: Callable[[Manifold], Manifold]) -> Sample:
        """With the solid of one piece changed, in its own axes, and not its part."""
        (one,) = (entry for entry in self.kit.pieces if entry.id == piece)
        return self._redrawn(one.file, lambda *mesh: arrays(change(solid_of(*mesh)))).with_beds()

    def redrawn(self, part: str, change: Redraw) -> Sample:
        """With the triangles of a part that is printed whole changed, whatever comes of it.

        Args:
            part: id of the part.
            change: takes vertices and triangles, and gives others.
        """
        (whole,) = (one for one in self.kit.parts if one.id == part)
        return self._redrawn(whole.stl, change).with_beds()

    def overwritten(self, file: str, data: bytes | None) -> Sample:
        """With other bytes in a file, and nothing else changed; ``None`` for no file at all."""
        sample = self._own()
        (sample.folder / file).unlink()
        if data is not None:
            (sample.folder / file).write_bytes(data)
        return sample

    def with_bed_file(self, bedful: str, change: Callable[[ThreeMF], ThreeMF], *, hashed: bool = True) -> Sample:
        """With the content of a bedful's 3MF changed, and its hash in kit.json renewed unless asked not to."""
        (one,) = (entry for entry in self.kit.bedfuls if entry.id == bedful)
        sample = self._own()
        path = sample.folder / one.file
        content = change(read_3mf(path))
        path.unlink()
        sha256 = write_3mf(path, content)
        return sample.having("bedfuls", bedful, model_sha256=sha256) if hashed else sample

    def _redrawn(self, file: str, change: Redraw) -> Sample:
        """Another mesh in a file, with hash, size and volume renewed wherever it is named."""
        sample = self._own()
        sample = replace(sample, redone=self.redone | {file})
        path = sample.folder / file
        mesh = change(*read_stl(path))
        path.unlink()
        sha256 = write_stl(path, *mesh)
        vertices, triangles = read_stl(path)
        size = tuple((vertices.max(axis=0) - vertices.min(axis=0)).tolist())
        figures = {"stl_sha256": sha256, "size": size, "volume_mm3": volume_of(vertices[triangles])}
        for one in self.kit.parts:
            if one.stl == file:
                sample = sample.having("parts", one.id, **figures)
        for piece in self.kit.pieces:
            if piece.file == file:
                solid = abs(figures["volume_mm3"] / piece.volume_mm3)  # type: ignore[operator]
                sample = sample.having("pieces", piece.id, **figures, mass_g=piece.mass_g * solid)
        return sample

    def with_beds(self, only: set[str] | None = None) -> Sample:
        """With the 3MF of bedfuls that no longer hold what kit.json says written anew, each body as its STL is now."""
        sample = self
        redone = {piece.id for piece in self.kit.pieces if piece.file in self.redone}
        for bedful in self.kit.bedfuls:
            stale = bedful.id in only if only else any(item.piece in redone for item in bedful.items)
            if stale:
                sample = sample.with_bed_file(bedful.id, partial(self._filled, bedful))
        return sample

    def _filled(self, bedful: Bedful, content: ThreeMF) -> ThreeMF:
        """The content of a 3MF with meshes and places as they are now; colours and paint stay."""
        files = {piece.id: piece.file for piece in self.kit.pieces}
        bodies = []
        wanted = {item.piece for item in bedful.items}
        for body in content.bodies:
            piece = body.part_number.removesuffix(PADS)
            if piece not in wanted:
                continue
            file = files[piece]
            if file in self.redone and piece == body.part_number:
                vertices, triangles = read_stl(self.folder / file)
                body = replace(body, vertices=vertices, triangles=triangles, paint=())  # noqa: PLW2901
            bodies.append(body)
        number = {body.part_number: index for index, body in enumerate(bodies)}
        items = tuple(
            Item(number[name], item.bed_from_piece)
            for item in bedful.items
            for name in (item.piece, f"{item.piece}{PADS}")
            if name in number
        )
        return replace(content, bodies=tuple(bodies), items=items)

    def _own(self) -> Sample:
        """The same in a folder of its own, its files linked."""
        folder = Path(tempfile.mkdtemp(dir=self.scratch)) / "kit"
        shutil.copytree(self.folder, folder, copy_function=_link)
        return replace(self, folder=folder)


def weighed(kit: Kit, room: Room) -> Kit:
    """A kit with the sums of all masses as they follow from its pieces and from what the room says of things."""
    things = {lot.id: lot.mass_g or 0.0 for lot in room.lot}
    boxes = {box.id: box.mass_g for box in room.box}
    counts = {lot.id: lot.count for lot in room.lot}
    limits = {space.id: 1000 * space.load_kg for space in room.space}
    space_of = {one.id: one.space for one in kit.placements}
    parts = {one.id: one.mass_g for one in kit.parts}
    first = {piece.part: piece.material for piece in reversed(kit.pieces)}
    pieces = {piece.id: piece.mass_g for piece in kit.pieces}
    for part, material in first.items():
        parts[part] = sum(one.mass_g for one in kit.pieces if one.part == part and one.material == material)
    prints, loads = dict.fromkeys(limits, 0.0), dict.fromkeys(limits, 0.0)
    for placed in kit.placements:
        prints[placed.space] += parts[placed.part]
    for lot in kit.lots:
        for place in lot.places:
            loads[space_of[place.placement]] += things.get(lot.id, 0.0) * place.count + boxes.get(place.box, 0.0)
    return kit.model_copy(
        update={
            "lots": tuple(
                one.model_copy(update={"mass_g": things[one.id] * counts[one.id], "count": counts[one.id]})
                for one in kit.lots
            ),
            "parts": tuple(one.model_copy(update={"mass_g": parts[one.id]}) for one in kit.parts),
            "spaces": tuple(
                one.model_copy(
                    update={
                        "mass_g": prints[one.id],
                        "load_g": prints[one.id] + loads[one.id],
                        "load_limit_g": limits[one.id],
                    }
                )
                for one in kit.spaces
            ),
            "bedfuls": tuple(
                one.model_copy(update={"mass_g": max(one.mass_g, sum(pieces[item.piece] for item in one.items))})
                for one in kit.bedfuls
            ),
        }
    )


def summed(kit: Kit, room: Room) -> Kit:
    """A kit with its sums and times as they follow from its pieces, bedfuls and places."""
    price = {one.id: one.price_per_kg / 1000 for one in room.material}
    spool_g = {one.id: one.spool_g for one in room.material}
    first = {piece.part: piece.material for piece in reversed(kit.pieces)}
    time_s = {
        part: sum(one.time_s for one in kit.pieces if one.part == part and one.material == material)
        for part, material in first.items()
    }
    parts = tuple(one.model_copy(update={"time_s": time_s.get(one.id, one.time_s)}) for one in kit.parts)
    times = {one.id: one.time_s for one in parts}
    grams = Counter[str]()
    for piece in kit.pieces:
        grams[piece.material] += piece.mass_g * piece.count  # type: ignore[assignment]
    mass_g = sum(piece.mass_g * piece.count for piece in kit.pieces)
    insides = {one.id: usable_of(one, room.found) for one in room.space}
    area_dm2 = sum(insides[name].width * insides[name].depth for name in {one.space for one in kit.placements}) / 10_000
    trials = tuple(
        one.model_copy(
            update={
                "lengths": tuple(
                    strip.model_copy(update={"gap": getattr(insides[one.subject], strip.axis) - strip.length})
                    for strip in one.lengths
                )
            }
        )
        if one.subject in insides
        else one
        for one in kit.first.trials
    )
    totals = kit.totals.model_copy(
        update={
            "spaces": len({one.space for one in kit.placements}),
            "lots": len(room.lot),
            "lots_placed": sum(any(place.count for place in lot.places) for lot in kit.lots),
            "parts": len(kit.parts),
            "pieces": sum(piece.count for piece in kit.pieces),
            "bedfuls": len(kit.bedfuls),
            "mass_g": mass_g,
            "time_s": sum(one.time_s for one in kit.bedfuls),
            "area_dm2": area_dm2,
            "g_per_dm2": mass_g / area_dm2,
            "price": sum(piece.mass_g * piece.count * price.get(piece.material, 0.0) for piece in kit.pieces),
        }
    )
    return kit.model_copy(
        update={
            "parts": parts,
            "first": kit.first.model_copy(update={"trials": trials}),
            "spaces": tuple(
                one.model_copy(
                    update={"time_s": sum(times[placed.part] for placed in kit.placements if placed.space == one.id)}
                )
                for one in kit.spaces
            ),
            "materials": tuple(
                one.model_copy(
                    update={
                        "mass_g": grams[one.id],
                        "price": grams[one.id] * price.get(one.id, 0.0),
                        "spools": math.ceil(round(grams[one.id] / spool_g.get(one.id, 1000.0), 6)),
                    }
                )
                for one in kit.materials
            ),
            "totals": totals,
        }
    )


def shifted(matrix: Matrix, x: float = 0, y: float = 0, z: float = 0) -> Matrix:
    """A matrix, moved."""
    rows = tuple((*row[:3], row[3] + by) for row, by in zip(matrix[:3], (x, y, z), strict=True))
    return (*rows, matrix[3])  # type: ignore[return-value]


def turned(matrix: Matrix, by: npt.ArrayLike) -> Matrix:
    """A matrix after a 4 x 4 one of the part's own axes."""
    return tuple(tuple(row) for row in (np.array(matrix) @ np.asarray(by)).tolist())  # type: ignore[return-value]


def _in_axes(part_from_piece: Matrix, change: Callable[[Manifold], Manifold]) -> Redraw:
    """A change of a part, as its piece sees it."""
    there = np.array(part_from_piece)
    back = np.linalg.inv(there)

    def redraw(vertices: Vertices, triangles: Triangles) -> tuple[Vertices, Triangles]:
        part = solid_of(vertices, triangles).transform(np.ascontiguousarray(there[:3]))
        return arrays(change(part).transform(np.ascontiguousarray(back[:3])))

    return redraw


def _checked(model: Any, changes: dict[str, Any]) -> Any:  # noqa: ANN401 - whatever model
    """A copy of a model with some keys changed, each turned into what the model holds."""
    kept = {key: getattr(model, key) for key in model.model_fields_set}
    return type(model).model_validate(kept | changes)


@lru_cache(maxsize=400)
def _shape_at(key: str, path: Path) -> Shape:
    """A mesh as the checks see it, by its content."""
    return shape_of(key, *read_stl(path))


def _link(source: str, target: str) -> None:
    os.link(source, target)
