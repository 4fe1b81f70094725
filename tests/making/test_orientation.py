from __future__ import annotations

import pytest

from nookwright.making.orientation import how_it_lies
from nookwright.parts.model import Kind


@pytest.mark.parametrize("kind", Kind)
def test_every_kind_of_part_says_how_it_lies_and_why(kind: Kind) -> None:
    """In words of its own: a kind without them is an error here, not in the kit."""
    said = how_it_lies(kind)
    assert len(said) > 10
