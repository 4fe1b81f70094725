"""Kept machine code is used again only while nothing that went into it has changed."""

from __future__ import annotations

from types import FunctionType
from typing import Any

import numpy as np
import pytest

from nookwright.layout.packing.compiled import compiled


def stamp_of(**outside: object) -> str:
    """The name that a function gets which adds up what it finds outside."""
    names = {"number": 1, "table": np.array([1]), "other": helper(1), **outside}
    made: Any = compiled(FunctionType(adds.__code__, names, "adds"))
    return str(made.py_func.__qualname__)


def adds() -> Any:  # noqa: ANN401 - never called
    """Stands in for a kernel."""
    return number + table[0] + other()  # type: ignore[name-defined]  # noqa: F821


def helper(result: int) -> object:
    """A kernel that gives a number."""
    source = "def helper():\n    return " + str(result)
    space: dict[str, Any] = {}
    exec(source, space)  # noqa: S102 - our own text
    return compiled(space["helper"])


@pytest.fixture(autouse=True)
def _nothing_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """Functions made of text have no file to keep their code beside: compile without a folder."""
    from numba.core import dispatcher

    def nowhere(_: object) -> None:
        raise RuntimeError

    monkeypatch.setattr(dispatcher.Dispatcher, "enable_caching", nowhere)


def test_the_same_function_has_the_same_name() -> None:
    """So that the next run finds its code."""
    assert stamp_of() == stamp_of()


@pytest.mark.parametrize("outside", [{"number": 2}, {"table": np.array([2])}, {"other": 2}])
def test_what_a_kernel_takes_from_outside_is_in_its_name(outside: dict[str, object]) -> None:
    """A number, a table, or a kernel that it calls: with another, its kept code is another."""
    changed = {name: helper(2) if name == "other" else value for name, value in outside.items()}
    assert stamp_of(**changed) != stamp_of()


def test_without_a_folder_to_keep_code_in_it_is_compiled_all_the_same() -> None:
    """A read-only installation works, only slower to start."""
    made: Any = helper(3)
    assert made() == 3
