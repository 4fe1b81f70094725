from __future__ import annotations

import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from nookwright.ground.errors import FolderError
from nookwright.ground.lock import only_one

if TYPE_CHECKING:
    from pathlib import Path


def test_the_lock_is_gone_when_the_work_is_done(tmp_path: Path) -> None:
    """Nothing is left behind, and the next one gets it."""
    for _ in range(2):
        with only_one(tmp_path / "lock"):
            assert (tmp_path / "lock").exists()
        assert not (tmp_path / "lock").exists()


def test_a_second_holder_is_refused(tmp_path: Path) -> None:
    """While one holds it nobody else does, and the first still holds it afterwards."""
    with only_one(tmp_path / "lock"):
        for _ in range(2):
            with pytest.raises(FolderError, match="another run is at work"), only_one(tmp_path / "lock"):
                pytest.fail("held twice")


def test_a_dead_holder_holds_nothing(tmp_path: Path) -> None:
    """The file of a run that was killed stays, but the lock does not."""
    code = "import os, sys; from pathlib import Path; from nookwright.ground.lock import only_one\n"
    code += "with only_one(Path(sys.argv[1])): os._exit(9)"
    died = subprocess.run([sys.executable, "-c", code, str(tmp_path / "lock")], check=False)
    assert died.returncode == 9
    assert (tmp_path / "lock").exists()
    with only_one(tmp_path / "lock"):
        pass
    assert not (tmp_path / "lock").exists()
