from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from nookwright.exchange.stl import read_stl
from nookwright.exchange.threemf_reader import read_3mf
from nookwright.exchange.written import Written, file_names, outer_name, unwritten, write_meshes
from nookwright.ground.digest import digest
from nookwright.ground.progress import Silent
from nookwright.making.jobs import Making, make

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.build import Designed
    from nookwright.solids.mesh import MeshKernel


@pytest.fixture(scope="module")
def making(tiny: Designed, kernel: MeshKernel) -> Making:
    """What the tiny room has to print."""
    return make(tiny.room, tiny.copies, tiny.cut, lambda piece: kernel.mesh(piece.recipe).volume_mm3)


@pytest.fixture(scope="module")
def meshes(tiny: Designed, kernel: MeshKernel) -> dict[str, object]:
    """All meshes by the digest of their recipe."""
    recipes = [r for cut in tiny.cut.values() for r in (cut.part.recipe, *(piece.recipe for piece in cut.pieces))]
    return {recipe.digest: kernel.mesh(recipe) for recipe in recipes}
