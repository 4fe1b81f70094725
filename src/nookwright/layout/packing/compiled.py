"""Compiling the innermost loops. Importing this module loads numba (half a second), so only kernels do.

Machine code is kept beside the source, or in the user's cache where that cannot be written to, and is used again by the
next run. Where neither can be written to, it is compiled anew in every run: slower to start, the same results.

Numba knows kept code by the date of the function's own file, and would go on using it when a kernel that it calls, or a
number that it was compiled with, has changed in another file. So a function's kept code is also named by all of those.
"""

from __future__ import annotations

from hashlib import sha256
from types import CodeType
from typing import TYPE_CHECKING, TypeVar, cast

from numba import njit
from numpy import generic, ndarray

if TYPE_CHECKING:
    from collections.abc import Callable

Function = TypeVar("Function", bound="Callable[..., object]")


def compiled(function: Function) -> Function:
    """A function without Python objects, made machine code on its first call; it lets other threads run meanwhile."""
    function.__qualname__ = f"{function.__qualname__}_{_stamp(function)}"  # what numba names the kept code after
    try:
        made = njit(cache=True, nogil=True)(function)
    except RuntimeError:  # no folder to keep it in
        made = njit(nogil=True)(function)
    return cast("Function", made)


def _stamp(function: Callable[..., object]) -> str:
    """A short hash of a function's code and of all that it takes from outside: kernels, numbers, tables, tuples."""
    code = function.__code__
    parts = [code.co_code.hex(), *(repr(const) for const in code.co_consts if not isinstance(const, CodeType))]
    for name in code.co_names:
        value = function.__globals__.get(name)
        called = getattr(value, "py_func", None)
        if called is not None:
            parts.append(called.__qualname__)  # ends with its own stamp
        elif isinstance(value, type):
            parts.append(repr(getattr(value, "__annotations__", value.__name__)))
        elif isinstance(value, ndarray | generic):
            parts.append(value.tobytes().hex())
        elif isinstance(value, int | float | str | tuple):
            parts.append(repr(value))
    return sha256("\n".join(parts).encode()).hexdigest()[:12]
