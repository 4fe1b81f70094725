"""Compiling the innermost loops. Importing this module loads numba (half a second), so only kernels do.

Machine code is kept beside the source, or in the user's cache where that cannot be written to, and is used again by the
next run. Where neither can be written to, it is compiled anew in every run: slower to start, the same results.

Numba knows kept code by the date of the function's own file, and would go on using it when a kernel that it calls, or a
number that it was compiled with, has changed in another file. So a function's kept code is also named by all of those.

A number that stands in a call is a type of its own to numba, and the function is compiled once more for it: where that
does not pay, hand in a variable or an ``np.int64``. A division by zero gives infinity, not an error.
"""

from __future__ import annotations

from hashlib import sha256
from types import CodeType
from typing import TYPE_CHECKING, Any, TypeVar, cast

from numba import njit
from numpy import generic, ndarray

if TYPE_CHECKING:
    from collections.abc import Callable

Function = TypeVar("Function", bound="Callable[..., object]")


def compiled(function: Function) -> Function:
    """A function without Python objects, made machine code on its first call; it lets other threads run meanwhile."""
    return _made(function)


def inner(function: Function) -> Function:
    """The same for a function that only other kernels call: without a way in from Python, a third less to compile."""
    return _made(function, no_cpython_wrapper=True)


def _made(function: Function, **options: Any) -> Function:  # noqa: ANN401 - as numba takes them
    function.__qualname__ = f"{function.__qualname__}_{_stamp(function)}"  # what numba names the kept code after
    options = {"nogil": True, "no_cfunc_wrapper": True, "error_model": "numpy", **options}
    try:
        made = njit(cache=True, **options)(function)
    except RuntimeError:  # no folder to keep it in
        made = njit(**options)(function)
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
