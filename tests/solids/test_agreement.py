"""Two kernels that share nothing but the recipe, on the whole family: where they agree, the mesh is right.

The mesh's differences from the exact solid shrink in proportion to its tolerance, so that nothing but the tolerance is
between them. What takes the exact kernel long is left to ``benchmarks/solids/agreement.py``, which does every example;
``fuzz`` goes on with any recipe.
"""

from __future__ import annotations

from statistics import median
from typing import TYPE_CHECKING

import pytest
from tests.solids.agreed import TOLERANCES, both, check, name_of, named, quick

from nookwright.shapes.regions import Circle, Rect
from nookwright.shapes.solids import Difference, Move, Prism, Solid
from nookwright.solids.agreement import disagreements, gaps
from nookwright.solids.exact import ExactSolid, exact
from nookwright.solids.mesh import build

if TYPE_CHECKING:
    from nookwright.parts.model import Example

CHOSEN = quick("smallest", "largest")
LEFT_TO_THE_SCRIPT = {
    "largest riser 161x107 h42 hollow",
    "largest riser 179x125 h48 ribbed",
    "largest shoe 233x161 h24",
    "largest tray 143x251 h90 inlay 3 3 rows slotted notch",
    "largest tray 161x287 h60 for a sliding lid",
    "largest tray 179x215 h96 swept notch",
    "largest tray 215x143 h120 low back",
    "largest tray 215x161 h60 for a deck lid",
    "largest tray 251x179 h72 3 columns 2 rows notch",
    "largest tray 251x179 h72 smooth drained notch",
    "middle tray 107x143 h48 3 columns 2 rows drained notch",
    "largest tray 251x179 h90 round 90x108 front right",
    "largest tray 251x179 h96 notch",
    "largest tray 251x179 h120 smooth hand hole",
    "largest tray 269x143 h120 round 73x72 back",
    "largest tray 503x449 h120",
}
QUARTERED = (2.5, 5.5)  # about four: chords come in multiples of four, so that steps are uneven
ROUND = Difference(Prism(Rect(40, 30, 5), 9), (Move(Prism(Circle(8), 20), 20, 15, -1),))


@pytest.mark.parametrize("example", CHOSEN, ids=name_of)
def test_the_kernels_agree(example: Example) -> None:
    """Box to a millionth, closed surfaces and handles the same and as the kind says, volume within the tolerance.

    What is left of the differences, of volume and of area, shrinks with the tolerance.
    """
    check(example)


def test_little_is_left_to_the_script() -> None:
    """A few large parts by name; of each of their kinds other sizes are tried here."""
    tried = {*quick("smallest", "middle", "largest")}
    left = [example for example in named() if example not in tried]
    assert {name_of(example) for example in left} == LEFT_TO_THE_SCRIPT
    assert {example.part.kind for example in left} <= {example.part.kind for example in tried}
    assert {example.part.kind for example in named()} == {example.part.kind for example in CHOSEN} | {"key"}


@pytest.mark.parametrize("measure", ["volume_mm3", "area_mm2"])
def test_a_quarter_of_the_tolerance_is_a_quarter_of_the_difference(measure: str) -> None:
    """In the median over the family: where rounds nearly touch, a single part wanders far more."""
    pairs = [[getattr(gap, measure) for gap in gaps(made.meshes, made.true)] for made in map(both, quick("smallest"))]
    shrunk = median(coarse / fine for coarse, fine in pairs if min(coarse, fine) > 0)
    assert QUARTERED[0] <= shrunk <= QUARTERED[1]


@pytest.mark.parametrize(
    ("other", "words"),
    [
        (Move(ROUND, x=1e-4), "the boxes differ by 0.0001000 mm"),
        (Move(ROUND, quarter_turns=1), "the boxes differ by"),
        (Difference(ROUND, (Move(Prism(Rect(0.05, 0.05), 20), 2, 15, -1),)), "closed surfaces and handles"),
        (Difference(ROUND, (Move(Prism(Circle(8.05), 20), 20, 15, -1),)), "does not shrink"),
        (Difference(ROUND, (Move(Prism(Circle(9), 20), 20, 15, -1),)), "at 0.01 mm, volume"),
    ],
)
def test_another_solid_is_told_apart(other: Solid, words: str) -> None:
    """A shift, a turn, a pin hole, a bore of five hundredths more, a bore of one more: each is named."""
    meshes = {tolerance: build(ROUND, tolerance) for tolerance in TOLERANCES}
    assert disagreements(meshes, exact(ROUND)) == ()
    assert words in "; ".join(disagreements(meshes, exact(other)))


def test_an_invalid_solid_agrees_with_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever its measures."""
    true = exact(ROUND)
    meshes = {tolerance: build(ROUND, tolerance) for tolerance in TOLERANCES}
    monkeypatch.setattr("nookwright.solids.occt.is_valid", lambda _: False)
    assert disagreements(meshes, ExactSolid(true.shape)) == ("the exact solid is not valid",)
