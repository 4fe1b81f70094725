"""What the tests of cutting share."""

from __future__ import annotations

import pytest

from nookwright.cutting.holds import Fit, fit_of
from nookwright.sizing.printers.errors import unmeasured


@pytest.fixture(scope="session")
def fit() -> Fit:
    """The fit of joints on printers that nobody has measured."""
    return fit_of(unmeasured(), layer=0.2, filament=1.75)
