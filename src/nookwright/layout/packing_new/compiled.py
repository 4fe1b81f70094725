"""Compiling the innermost loops. Importing this module loads numba (half a second), so only kernels do.

Machine code is kept beside the source, or in the user's cache where that cannot be written to, and is used again by the
next run. Where neither can be written to, it is compiled anew in every run: slower to start, the same results.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from numba import njit

if TYPE_CHECKING:
    from collections.abc import Callable

Function = TypeVar("Function", bound="Callable[..., object]")


def compiled(function: Function) -> Function:
    """A function without Python objects, made machine code on its first call; it lets other threads run meanwhile."""
    made: Function
    try:
        made = njit(cache=True, nogil=True)(function)
    except RuntimeError:  # no folder to keep it in
        made = njit(nogil=True)(function)
    return made
