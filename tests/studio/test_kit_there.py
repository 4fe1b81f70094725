"""A kit that was built before the studio was opened is known, as long as it is of the room as it is."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING, Any

from nookwright.studio.state import Studio

if TYPE_CHECKING:
    from pathlib import Path


def test_a_kit_is_known_after_a_restart(tiny_file: Path, tmp_path: Path, planned: dict[str, Any]) -> None:
    """Fresh until the room is changed; a folder that cannot be read is none."""
    file = tmp_path / "room.toml"
    file.write_bytes(tiny_file.read_bytes())
    assert Studio(file, tmp_path / "one").kit is None
    (tmp_path / "kit").mkdir()
    shutil.copy(planned["kit"], tmp_path / "kit" / "kit.json")
    studio = Studio(file, tmp_path / "two")
    assert studio.fresh_kit is not None
    studio.edit("a comment", f"{studio.desk.text}\n# changed\n")
    assert studio.fresh_kit is None
    assert studio.kit is not None
    (tmp_path / "kit" / "kit.json").write_text("{", encoding="utf-8")
    assert Studio(file, tmp_path / "three").kit is None
