"""The table of faults: each a small function that spoils a sound kit, with the code that must be found.

A fault that has a size is given as a multiple of its limit: at twice the limit it must be found, and its twin just
inside must stop nothing. The page ``docs/proving.md`` is made from this table.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.findings import Severity

if TYPE_CHECKING:
    from collections.abc import Callable

    from .harness import Sample

TWICE = 2.0  # of its limit, at which a fault must be found
INSIDE = 0.9  # of its limit, at which its twin must not stop anything

FAULTS: list[Fault] = []


@dataclass(frozen=True)
class Fault:
    """One fault.

    Attributes:
        name: for people; the first line of the function's docstring.
        code: of the finding that must come of it.
        severity: of that finding.
        limit: what its size is measured against, in words; empty for one that is there or not.
        twin: the multiple of its limit that stops nothing; 0 where it has no size.
        besides: codes of other stops that it brings along, because one thing cannot be wrong without the other.
        spoil: makes the spoilt kit, from the sound one and a multiple of the limit.
    """

    name: str
    code: str
    severity: Severity
    limit: str
    twin: float
    besides: frozenset[str]
    spoil: Callable[[Sample, float], Sample]

    @property
    def area(self) -> str:
        """The module that it stands in."""
        return self.spoil.__module__.rpartition(".")[2].replace("_", " ")


def sized(
    code: str, limit: str, *, severity: Severity = Severity.STOP, twin: float = INSIDE, besides: tuple[str, ...] = ()
) -> Callable[[Callable[[Sample, float], Sample]], Callable[[Sample, float], Sample]]:
    """Put a fault with a size into the table.

    Args:
        code: of the finding.
        limit: what its size is measured against.
        severity: of the finding.
        twin: the multiple that must stop nothing.
        besides: other stops that come along.
    """

    def add(spoil: Callable[[Sample, float], Sample]) -> Callable[[Sample, float], Sample]:
        FAULTS.append(Fault(_name(spoil), code, severity, limit, twin, frozenset(besides), spoil))
        return spoil

    return add


def plain(
    code: str, *, severity: Severity = Severity.STOP, besides: tuple[str, ...] = ()
) -> Callable[[Callable[[Sample], Sample]], Callable[[Sample], Sample]]:
    """Put a fault without a size into the table: it is there or not.

    Args:
        code: of the finding.
        severity: of the finding.
        besides: other stops that come along.
    """

    def add(spoil: Callable[[Sample], Sample]) -> Callable[[Sample], Sample]:
        def always(sample: Sample, _: float) -> Sample:
            return spoil(sample)

        always.__module__ = spoil.__module__
        FAULTS.append(Fault(_name(spoil), code, severity, "", 0.0, frozenset(besides), always))
        return spoil

    return add


def _name(spoil: Callable[..., Sample]) -> str:
    """The first line of a docstring, without its full stop."""
    if not spoil.__doc__:
        raise ValueError(f"{spoil.__name__} does not say what is wrong")
    return spoil.__doc__.strip().splitlines()[0].rstrip(".")
