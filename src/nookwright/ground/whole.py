"""A folder that is there whole or not at all, and that never swallows what somebody else put into it.

The new folder is written beside the old one and moved into its place once it is complete. Beside ``kit`` these names
may stand for a while; together they are the journal that tells the next run how far a killed one had come::

    .kit.nookwright-lock   held while a run works on this folder
    .kit.nookwright-new    being written; worthless when nobody holds the lock
    .kit.nookwright-ready  complete and on the disk, not yet in place
    .kit.nookwright-old    the one that was in place, about to be removed

==================  =============================================================
what is found       what is done
==================  =============================================================
new                 removed
ready, no target    moved into place: the swap was half done
ready, target       removed: the swap had not begun, the old one stands
old, target         old removed: the swap was done
old alone           moved back
==================  =============================================================

A folder is ours if its manifest ``.nookwright`` names every file in it, with its content. Anything else is refused.
"""

from __future__ import annotations

import os
import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING

from nookwright.ground import manifest
from nookwright.ground.errors import FolderError
from nookwright.ground.lock import only_one

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


@contextmanager
def replacing(target: Path) -> Iterator[Path]:
    """Write a folder that takes the place of ``target`` once it is complete.

    Use it as ``with replacing(Path("kit")) as folder: ...`` and write into ``folder``. If the block raises, the old
    folder stays as it was.

    Args:
        target: the folder to make or to replace. Folders above it are made where they are missing.

    Yields:
        A folder beside it, empty but for our mark.

    Raises:
        FolderError: the target holds what this tool did not write, is no folder, or cannot be replaced.
    """
    target = _place(target)
    with only_one(_beside(target, "lock")):
        _put_right(target)
        manifest.refuse_strange(target)
        new = _begin(target)
        try:
            yield new
            manifest.write(new)
            _flush(new)
            _swap(target, new)
        except BaseException:
            _put_right(target)
            raise


def put_right(target: Path) -> None:
    """Finish or undo a replacement that was interrupted; do nothing where none was.

    Args:
        target: the folder that was to be replaced.

    Raises:
        FolderError: what stands beside it is not what this tool leaves behind.
    """
    target = _place(target)
    if any(os.path.lexists(_beside(target, state)) for state in ("new", "ready", "old")):
        with only_one(_beside(target, "lock")):
            _put_right(target)


def _place(target: Path) -> Path:
    """The target as an absolute path that can be renamed."""
    here = target.cwd()
    place = here / target
    place = place.parent.resolve() / place.name if place.name not in {"", ".."} else place.resolve()
    if here.is_relative_to(place):
        raise FolderError(
            f"{target}: is the folder you are in, or above it. Change to another folder, or name one below"
        )
    return place


def _beside(target: Path, state: str) -> Path:
    """A name of the journal."""
    return target.parent / f".{target.name}.nookwright-{state}"


def _begin(target: Path) -> Path:
    """An empty folder to write into, marked as ours and unfinished."""
    new = _beside(target, "new")
    try:
        new.mkdir()
        manifest.mark_unfinished(new)
    except OSError as error:
        raise FolderError(f"{target}: cannot write beside it, in {target.parent}: {error.strerror}") from error
    return new


def _swap(target: Path, new: Path) -> None:
    """Put the complete new folder in the target's place."""
    ready, old = _beside(target, "ready"), _beside(target, "old")
    manifest.refuse_strange(target)  # again: much may have happened while the new one was written
    had_one = target.exists()
    try:
        _move(new, ready)
        if had_one:
            _move(target, old)
        _move(ready, target)
    except OSError as error:
        if had_one and old.exists():
            old.rename(target)
        raise FolderError(
            f"{target}: cannot be replaced: {error.strerror}. Close what has it open, try again"
        ) from error
    if had_one:
        manifest.remove(old)


def _move(source: Path, destination: Path) -> None:
    """Rename, and see to it that the new name is on the disk."""
    source.rename(destination)
    _flush_folder(destination.parent)


def _put_right(target: Path) -> None:
    """Act on the journal, see the table above."""
    ready, old = _beside(target, "ready"), _beside(target, "old")
    there = [path for path in (target, ready, old) if os.path.lexists(path)]
    if there == [target, ready, old]:
        raise FolderError(f"{target}: stands where {ready.name} was to be moved in a run that was killed. Rename it")
    manifest.remove_unfinished(_beside(target, "new"))
    if target not in there and there:
        _move(there.pop(0), target)
    for left in there:
        if left != target:
            manifest.remove(left)


def _flush(folder: Path) -> None:
    """See to it that all of a folder is on the disk before it is said to be complete."""
    for root, _, files in os.walk(folder):
        for name in files:
            with (folder / root / name).open("rb+") as file:
                os.fsync(file.fileno())
        _flush_folder(folder / root)


def _flush_folder(folder: Path) -> None:
    """The same for a folder's list of names, where the system can do that."""
    if sys.platform != "win32":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
