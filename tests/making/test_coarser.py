from __future__ import annotations

import numpy as np
import pytest

from nookwright.ground.findings import Severity
from nookwright.making.coarser import Coarser, coarser_findings, on_layers
from nookwright.solids.triangles import Mesh


def stepped(*levels: float) -> Mesh:
    """A flat triangle at each level and an upright one between the first two."""
    flat = [[(0, 0, z), (1, 0, z), (0, 1, z)] for z in levels]
    upright = [[(0, 0, levels[0]), (1, 0, levels[0]), (0, 0, levels[0] + 0.13)]]
    corners = np.array([*flat, *upright], np.float64)
    return Mesh(corners.reshape(-1, 3), np.arange(3 * len(corners), dtype=np.uint32).reshape(-1, 3))


@pytest.mark.parametrize(
    ("levels", "layer", "fits"),
    [
        ((0.0, 0.6, 3.6), 0.3, True),
        ((0.0, 0.6, 3.6), 0.4, False),
        ((0.0, 3.4, 24.0), 0.2, True),
        ((0.0, 3.4, 24.0), 0.3, False),
        ((0.0, 1.0, 1.4), 0.2, True),
    ],
)
def test_flat_faces_lie_on_whole_layers_or_not(levels: tuple[float, ...], layer: float, fits: bool) -> None:  # noqa: FBT001
    """A roof of a socket at 3.4 is on the 17th layer of 0.2, and between two of 0.3; upright faces are no matter."""
    assert on_layers(stepped(*levels), layer) is fits


def proposal(saved_h: float, *, off_layer: int = 0, lettered: int = 0) -> Coarser:
    """A nozzle of 0.6 for twelve pieces that take ten hours."""
    return Coarser("one", 0.6, 0.4, 36000.0, saved_h * 3600, 12, off_layer, lettered)


def test_only_what_is_worth_it_is_proposed() -> None:
    """A note with its figures; under two hours nothing is said."""
    (note,) = coarser_findings([proposal(1.9), proposal(4.0)])
    assert (note.code, note.severity, note.subject) == ("coarser-prints", Severity.NOTE, "one")
    assert "(12 pieces) would save about 4 h of 10 h" in note.text
    assert "as they are" in note.remedy


def test_what_lies_between_layers_and_what_is_lettered_is_said() -> None:
    """Then the room must be built again for that layer."""
    (note,) = coarser_findings([proposal(4.0, off_layer=7, lettered=2)])
    assert "7 of them have socket roofs" in note.text
    assert "2 carry lettering" in note.text
    assert note.remedy == "Set layer = 0.4 and nozzle = 0.6 for this printer and build again."
