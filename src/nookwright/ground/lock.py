"""A lock file, so that two runs never work on the same thing; it is free again when the run that held it dies."""

from __future__ import annotations

import os
import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING

from nookwright.ground.errors import FolderError

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


@contextmanager
def only_one(path: Path) -> Iterator[None]:
    """Hold the lock while the block runs. The file is made, with the folders above it, and removed again.

    Args:
        path: the lock file.

    Raises:
        FolderError: another run holds it, or it cannot be made.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle = _held(path)
    except OSError as error:
        if isinstance(error, FolderError):
            raise
        raise FolderError(f"{path.parent}: cannot write there: {error.strerror}. Choose another place") from error
    try:
        yield
    finally:
        path.unlink(missing_ok=True)
        os.close(handle)


def _held(path: Path) -> int:
    """An open file that carries the lock and still bears the name."""
    while True:
        handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
        try:
            _lock(handle)
            if path.exists() and os.path.samestat(os.fstat(handle), path.stat()):
                return handle
        except OSError as error:
            os.close(handle)
            raise FolderError(f"{path}: another run is at work there. Wait for it, or choose another place") from error
        os.close(handle)  # its last holder removed it in the meantime: try again


def _lock(handle: int) -> None:
    """Take the lock or raise an OSError at once."""
    if sys.platform == "win32":
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
    else:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
