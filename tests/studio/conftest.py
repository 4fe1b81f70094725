"""What tests of the studio share: the tiny room, planned once, on a desk of its own for each test."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from nookwright.ground.progress import Silent
from nookwright.studio import work
from nookwright.studio.jobs import Job, State
from nookwright.studio.state import Studio

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture(scope="module")
def planned(tiny_file: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What the plan of the tiny room gives."""
    return work.plan(room=tiny_file, out=tmp_path_factory.mktemp("planned"), progress=Silent())


@pytest.fixture
def studio(tiny_file: Path, tmp_path: Path, planned: dict[str, Any]) -> Studio:
    """A studio with the tiny room planned."""
    file = tmp_path / "room.toml"
    file.write_bytes(tiny_file.read_bytes())
    made = Studio(file, tmp_path / "scratch")
    made._job_changed(Job("plan", State.DONE, result=planned))
    return made
