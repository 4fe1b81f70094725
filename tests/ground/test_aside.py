"""Work that runs aside."""

from __future__ import annotations

from threading import Event

import pytest

from nookwright.ground.aside import Aside


def test_the_result_is_awaited() -> None:
    """It begins at once, runs while others do, and gives its result when asked."""
    begun, may_end = Event(), Event()

    def work() -> str:
        begun.set()
        may_end.wait()
        return "done"

    aside = Aside(work)
    assert begun.wait(10)
    may_end.set()
    assert aside.result() == aside.result() == "done"


def test_what_goes_wrong_is_raised_where_the_result_is_asked_for() -> None:
    """Nothing that fails aside is lost."""

    def work() -> None:
        raise KeyError("spool")

    with pytest.raises(KeyError, match="spool"):
        Aside(work).result()
