"""What the tests of several stages share: a tiny room, a module, one mesh kernel."""

from __future__ import annotations

import os
import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

from nookwright.build import plan_and_design
from nookwright.ground.progress import Silent
from nookwright.layout.place import Effort
from nookwright.making.printing import plan_printing
from nookwright.making.schedule.effort import Effort as Search
from nookwright.module.choice import module_of
from nookwright.solids.mesh import MeshKernel
from nookwright.survey.load import load_room

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.build import Designed
    from nookwright.module.module import Module
    from nookwright.survey.models import Room

sys.path.append(str(Path(__file__).resolve().parents[1]))  # tests draw random shapes and parts as ``fuzz`` does
settings.register_profile("ours", deadline=None, derandomize=True, max_examples=40)  # the same on every machine
settings.register_profile("long", deadline=None, max_examples=400)  # HYPOTHESIS_PROFILE=long, before a release
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "ours"))

LITTLE = Search(steps=0.3, puts=200_000, passed=3_000_000)

TINY_ROOM = """\
format = 1

[room]
name = "A drawer of odds and ends"

[module]
pitch = 18

[choices.colours]
liner = "white"
game = "red"

[[space]]
id = "drawer"
kind = "drawer"
width = 200
depth = 150
height = 70
floor_height = 800
load_kg = 6

[[space.blocked]]
reason = "the lock"
x = 80
y = 135
width = 30
depth = 15

[[lot]]
id = "corks"
shape = "round"
diameter = 22
height = 40
count = 3
mass_g = 4
stands = ["upright"]
keep = "cradle"

[[lot]]
id = "dice"
group = "game"
shape = "box"
width = 16
depth = 16
height = 16
count = 10
mass_g = 5

[[lot]]
id = "notes"
shape = "flat"
width = 76
depth = 51
thickness = 0.5
count = 40
mass_g = 0.4

[[printer]]
id = "small"
bed_width = 120
bed_depth = 130
bed_height = 100
materials = ["white", "red"]

[[material]]
id = "white"
colour = "#f0f0f0"
density_g_cm3 = 1.24
price_per_kg = 20

[[material]]
id = "red"
colour = "#c03020"
density_g_cm3 = 1.27
price_per_kg = 25
"""
QUICK = Effort(moves=500, tries=500, rounds=1)


@pytest.fixture(scope="session")
def module() -> Module:
    """The module with cells of 18 mm at layers of 0.2 mm."""
    return module_of(18.0, 6.0, 0.2, "for the tests")


@pytest.fixture(scope="session")
def kernel() -> MeshKernel:
    """One kernel for all tests, so that each recipe is made once."""
    return MeshKernel()


@pytest.fixture(scope="session", autouse=True)
def little_search() -> Iterator[None]:
    """Schedules of kits that are built here are searched shortly; what the search finds has tests of its own."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("nookwright.build.plan_printing", partial(plan_printing, effort=LITTLE))
        yield


@pytest.fixture(scope="session")
def quick() -> Effort:
    """An effort that is enough for a tiny room."""
    return QUICK


@pytest.fixture(scope="session")
def tiny_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The room file of one drawer with a lock in its back, three lots and one printer; all of it is invented."""
    path = tmp_path_factory.mktemp("tiny") / "room.toml"
    path.write_text(TINY_ROOM, encoding="utf-8")
    return path


@pytest.fixture(scope="session")
def tiny_room(tiny_file: Path) -> Room:
    """That room, loaded."""
    return load_room(tiny_file)


@pytest.fixture(scope="session")
def tiny(tiny_room: Room) -> Designed:
    """That room, planned and designed."""
    return plan_and_design(tiny_room, effort=QUICK, progress=Silent())
