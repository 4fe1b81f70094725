"""Opening the studio from the command line: what cannot be opened is refused in words, what is missing is begun."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.cli import Exit, main
from nookwright.studio import main as server

if TYPE_CHECKING:
    from pathlib import Path


def run(*arguments: str) -> int:
    """Run the command line and hand back its exit code."""
    with pytest.raises(SystemExit) as left:
        main(arguments)
    assert isinstance(left.value.code, int)
    return left.value.code


@pytest.fixture(autouse=True)
def served(monkeypatch: pytest.MonkeyPatch) -> None:
    """A server that says where it is, and ends."""
    monkeypatch.setattr(server, "_serve", lambda studio, _port, key, tell: tell(f"{studio.file.name} {key}"))


def test_a_room_file_that_is_missing_is_begun(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It is said once; the next time it is only opened."""
    file = tmp_path / "bench" / "room.toml"
    assert run("studio", str(file)) == Exit.DONE
    assert f"began {file}" in capsys.readouterr().out
    assert 'name = "Bench"' in file.read_text(encoding="utf-8")
    assert run("studio", str(file)) == Exit.DONE
    assert "began" not in capsys.readouterr().out


def test_what_cannot_be_opened_is_refused_in_words(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder, and bytes that are no text; nothing is changed."""
    assert run("studio", str(tmp_path)) == Exit.FOLDER
    assert "found a folder; allowed: a room file" in capsys.readouterr().err
    file = tmp_path / "room.toml"
    file.write_bytes(b"format = 1\n\xff\n")
    assert run("studio", str(file)) == Exit.FOLDER
    assert f"{file}:2: found bytes that are no UTF-8" in capsys.readouterr().err
    assert file.read_bytes() == b"format = 1\n\xff\n"
