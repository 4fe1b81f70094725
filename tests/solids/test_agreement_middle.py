"""Two kernels on the middle sizes of the whole family; beside ``test_agreement`` so that both run at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from tests.solids.agreed import check, name_of, quick

if TYPE_CHECKING:
    from nookwright.parts.model import Example


@pytest.mark.parametrize("example", quick("middle"), ids=name_of)
def test_the_kernels_agree(example: Example) -> None:
    """Box, closed surfaces, handles, and a difference of volume and area that shrinks with the tolerance."""
    check(example)
