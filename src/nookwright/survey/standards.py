"""Things of published size, found by their designation: ``R6``, ``A5``, ``hex key 4``, ``M5x16 ISO 4762``.

Promise: a size is the largest that its source allows, so that what is made for it holds every sample; the smallest is
kept beside it where the source gives one. Each row says where its figures come from and how sure they are.
What it does not know: the whole of any standard. Single figures are facts; the tables belong to their publishers.
"""

from __future__ import annotations

import difflib
import re
from functools import cache

from nookwright.survey.fasteners import NUTS, WASHERS, screw, screw_examples
from nookwright.survey.standard_size import DIMENSIONS, Limits, StandardSize, Sureness
from nookwright.survey.standard_tables import TABLES

__all__ = [
    "DIMENSIONS",
    "Limits",
    "StandardSize",
    "Sureness",
    "all_standards",
    "find_standard",
    "nearest_standards",
    "plain",
]


def find_standard(designation: str) -> StandardSize | None:
    """The thing of a designation, or ``None``.

    >>> find_standard("r6").dimensions["diameter"].largest
    14.5
    >>> find_standard("M5 x 16 ISO 4762").dimensions["height"].largest
    21.0
    >>> find_standard("R99") is None
    True
    """
    return _by_name().get(plain(designation)) or screw(designation)


def nearest_standards(designation: str, count: int = 3) -> tuple[str, ...]:
    """The designations that look most like one that is not known, the likeliest first."""
    names = {plain(size.designation): size.designation for size in all_standards()}
    close = difflib.get_close_matches(plain(designation), list(names), n=count, cutoff=0.3)
    return tuple(names[name] for name in close) or tuple(sorted(names.values())[:count])


@cache
def all_standards() -> tuple[StandardSize, ...]:
    """Every row, in the order of the tables; of each kind of screw one example stands for all lengths."""
    return (*TABLES, *screw_examples(), *NUTS, *WASHERS)


@cache
def _by_name() -> dict[str, StandardSize]:
    """All rows by plain designation and alias."""
    return {plain(name): size for size in all_standards() for name in (size.designation, *size.aliases)}


def plain(designation: str) -> str:
    """A designation without the differences that do not matter."""
    text = designation.casefold().replace(",", ".").replace("×", "x")
    return re.sub(r"\s+", "", text)
