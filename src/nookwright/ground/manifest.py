"""The list of what this tool wrote into a folder, kept in the folder: file by file with the sha256 of its content.

It answers one question: is there anything in this folder that a person would miss?
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
from typing import TYPE_CHECKING

from nookwright.ground.errors import FolderError

if TYPE_CHECKING:
    from pathlib import Path

NAME = ".nookwright"
DROPPINGS = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})  # left by file managers; nobody misses them
_FORMAT = "files written by nookwright, version 1"


def write(folder: Path) -> None:
    """List all files of a complete folder in its manifest.

    Args:
        folder: it holds regular files and folders only.

    Raises:
        FolderError: something in it is neither.
    """
    files = {}
    for path in _entries(folder):
        if path.is_symlink() or not (path.is_file() or path.is_dir()):
            raise FolderError(f"{path}: is no plain file")
        if path.is_file():
            files[_relative(folder, path)] = _sha256(path)
    text = json.dumps({"format": _FORMAT, "files": dict(sorted(files.items()))}, indent=1)
    (folder / NAME).write_text(text + "\n", encoding="utf-8", newline="\n")


def mark_unfinished(folder: Path) -> None:
    """Mark an empty folder as ours, before anything is written into it."""
    (folder / NAME).write_bytes(b"")


def remove_unfinished(folder: Path) -> None:
    """Remove a folder that bears our mark (or nothing at all), whatever else is in it; the mark goes last.

    Args:
        folder: it may be absent.

    Raises:
        FolderError: it has no mark.
    """
    if not os.path.lexists(folder):
        return
    if folder.is_symlink() or not folder.is_dir() or (any(folder.iterdir()) and not (folder / NAME).is_file()):
        raise FolderError(f"{folder}: stands where this tool writes, but is not its own. Move it away")
    for path in sorted(folder.iterdir()):
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path)
        elif path.name != NAME:
            path.unlink()
    (folder / NAME).unlink(missing_ok=True)
    folder.rmdir()


def refuse_strange(folder: Path) -> None:
    """Do nothing if a folder is absent, empty, or holds nothing but what this tool wrote, unchanged.

    Args:
        folder: it may be absent.

    Raises:
        FolderError: it is no folder or holds something else, which is named.
    """
    if not os.path.lexists(folder):
        return
    if folder.is_symlink():
        raise FolderError(f"{folder}: is a link. Name the folder that it leads to")
    if not folder.is_dir():
        raise FolderError(f"{folder}: is a file. Name a folder, or move the file away")
    files = _files(folder)
    for path in _entries(folder):
        if not _is_ours(folder, path, files):
            raise FolderError(
                f"{folder}: holds {_relative(folder, path)!r}, which this tool did not write or which was changed. "
                "Move it away, or choose another folder"
            )


def remove(folder: Path) -> None:
    """Remove the files that the manifest names, the folders that are empty then, and the manifest last.

    Args:
        folder: it may be partly removed already.

    Raises:
        FolderError: something is left that the manifest does not name.
    """
    files = _files(folder)
    for name in (*files, *(_relative(folder, path) for path in _entries(folder) if _is_dropping(path))):
        (folder / name).unlink(missing_ok=True)
    for path in sorted(_entries(folder), reverse=True):
        if not path.is_dir() or path.is_symlink() or any(path.iterdir()):
            raise FolderError(f"{folder}: is no longer needed but holds {_relative(folder, path)!r}. Move that away")
        path.rmdir()
    (folder / NAME).unlink(missing_ok=True)
    folder.rmdir()


def _files(folder: Path) -> dict[str, str]:
    """What the manifest names; nothing if there is none that can be read."""
    try:
        content = json.loads((folder / NAME).read_text(encoding="utf-8"))
        if content["format"] == _FORMAT:
            return {str(name): str(sha) for name, sha in content["files"].items() if ".." not in name.split("/")}
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        pass
    return {}


def _is_ours(folder: Path, path: Path, files: dict[str, str]) -> bool:
    """Whether the manifest vouches for one entry of the folder."""
    name = _relative(folder, path)
    if path.is_symlink():
        return False
    if _is_dropping(path):
        return True
    if path.is_dir():
        return any(known.startswith(f"{name}/") for known in files)
    return path.is_file() and name in files and _sha256(path) == files[name]


def _is_dropping(path: Path) -> bool:
    """Whether a file manager left this behind."""
    return path.name in DROPPINGS and path.is_file() and not path.is_symlink()


def _entries(folder: Path) -> list[Path]:
    """Everything below a folder but its manifest; links are not followed. Each folder before what is in it."""
    found = []
    for root, folders, files in os.walk(folder):
        found += [folder / root / name for name in (*folders, *files)]
    return sorted(path for path in found if path != folder / NAME)


def _relative(folder: Path, path: Path) -> str:
    return path.relative_to(folder).as_posix()


def _sha256(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
