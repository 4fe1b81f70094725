"""A household for the choice of a module: two spaces and two lots, all of it invented."""

from __future__ import annotations

import pytest

from nookwright.module.choice import Inside
from nookwright.sizing.usable import Usable
from nookwright.sizing.ways import Limits, Way, ways_of
from nookwright.survey.models import FloorStyle, Lot


@pytest.fixture(scope="session")
def insides() -> tuple[Inside, ...]:
    """Two drawers."""
    sizes = (("a", 362.0, 290.0), ("b", 542.0, 182.0))
    return tuple(Inside(Usable(name, width, depth, 80.0, 0.0, ())) for name, width, depth in sizes)


@pytest.fixture(scope="session")
def ways() -> tuple[tuple[Way, ...], ...]:
    """Ways to keep two lots."""
    lots = (
        {"id": "dice", "count": 10, "shape": "box", "width": 16, "depth": 16, "height": 16},
        {"id": "jars", "count": 6, "shape": "round", "diameter": 50, "height": 60},
    )
    limits = Limits(540.0, 80.0, 1.2, FloorStyle.SHELL)
    return tuple(ways_of(Lot.model_validate(lot), limits) for lot in lots)
