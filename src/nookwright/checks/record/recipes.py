"""Whether recipes, files and exact solids belong together: one recipe is one shape, and every STEP file is there.

By its recipe a piece is known again in the next kit, and copies are counted by it. What this does not know: whether a
recipe is that of its shape; only that the same recipe has the same file, and a part that is printed whole that of its
piece.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from nookwright.checks.record.claims import Wrong, said_once, words
from nookwright.ground.digest import digest
from nookwright.ground.findings import Severity

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from nookwright.exchange.kit import Kit, Piece
    from nookwright.ground.findings import Finding


def check_recipes(folder: Path, kit: Kit) -> Iterator[Finding]:
    """Recipes with two shapes, whole parts that are not their piece, and STEP files that are missing or others.

    Args:
        folder: of the kit.
        kit: the kit, its references sound.
    """
    yield from said_once("recipe-differs", Severity.STOP, (*_whole(kit), *_shapes(kit)))
    yield from said_once("step-differs", Severity.WARN, _steps(folder, kit))


def _whole(kit: Kit) -> Iterator[Wrong]:
    """Parts that are printed whole, and their pieces."""
    pieces: dict[str, dict[str, list[Piece]]] = defaultdict(lambda: defaultdict(list))
    for piece in kit.pieces:
        pieces[piece.part][piece.material].append(piece)
    for part in kit.parts:
        alone = [some[0] for some in pieces[part.id].values() if len(some) == 1]
        for piece in alone:
            if piece.size != part.size:
                continue  # a piece of it is missing, which is found by what they hold
            yield from words(piece.id, "The recipe of its shape", piece.recipe, part.recipe)
            yield from words(piece.id, "Its file", piece.stl_sha256, part.stl_sha256)


def _shapes(kit: Kit) -> Iterator[Wrong]:
    """Recipes that stand for several files, and parts that have the recipe of another one."""
    known: dict[str, tuple[str, str]] = {}
    for owner, recipe, sha256 in (
        *((one.id, one.recipe, one.stl_sha256) for one in kit.parts),
        *((one.id, one.recipe, one.stl_sha256) for one in kit.pieces),
    ):
        first, same = known.setdefault(recipe, (owner, sha256))
        if same != sha256:
            yield Wrong(owner, f"It has the recipe of {first} by kit.json, and another shape.")
    recipes: dict[str, str] = {}
    for part in kit.parts:
        if recipes.setdefault(part.recipe, part.id) != part.id:
            yield Wrong(part.id, f"It has the recipe of {recipes[part.recipe]}: the same part is listed twice.")


def _steps(folder: Path, kit: Kit) -> Iterator[Wrong]:
    """Files of exact solids."""
    for step in kit.steps:
        try:
            found = digest((folder / step.file).read_bytes())
        except OSError as error:
            yield Wrong(step.part, f"{step.file} cannot be read: {error.strerror}.")
            continue
        yield from words(step.part, f"The content of {step.file}", found[:12], step.sha256[:12])
    parts = [step.part for step in kit.steps]
    if len(set(parts)) < len(parts):
        yield Wrong("kit", "A part has two STEP files.")
