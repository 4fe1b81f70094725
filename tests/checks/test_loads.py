from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.checks.loads import overloaded
from nookwright.ground.findings import Severity

if TYPE_CHECKING:
    from .conftest import Trial


@pytest.mark.parametrize(("load_kg", "stops"), [(0.048, False), (0.0479, True)])
def test_the_load_is_added_up_anew(trial: Trial, load_kg: float, stops: bool) -> None:  # noqa: FBT001
    """Two parts of 1 g, two of 5 g, four dice of 5 g, two corks of 8 g: 48 g, whatever kit.json says of the space."""
    space = trial.room.space[0].model_copy(update={"load_kg": load_kg})
    found = list(overloaded(trial.kit, trial.with_room(space=(space,)).room))
    assert [(one.code, one.severity, one.subject) for one in found] == (
        [("load-over", Severity.STOP, "left")] if stops else []
    )
    for one in found:
        assert one.against is not None
        assert (one.against.computed, one.against.limit) == pytest.approx((0.048, load_kg))
