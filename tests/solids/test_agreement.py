"""Two kernels that share nothing but the recipe, on the whole family: where they agree, the mesh is right.

The mesh's differences from the exact solid shrink in proportion to its tolerance, so that nothing but the tolerance is
between them. One size of each kind is enough here; ``fuzz/solids.py`` goes on with any recipe.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from statistics import median
from typing import TYPE_CHECKING

import pytest

from nookwright.module.choice import module_of
from nookwright.parts.family import examples
from nookwright.solids.agreement import disagreement
from nookwright.solids.exact import exact
from nookwright.solids.mesh import build

if TYPE_CHECKING:
    from nookwright.parts.model import Example
    from nookwright.solids.exact import ExactSolid
    from nookwright.solids.triangles import Mesh

TOLERANCES = (0.04, 0.02, 0.01)
# The library finds its own union of these leaves invalid at the larger sizes, and takes ten seconds for the smallest.
LEFT_OUT = re.compile("ribs")
QUARTERED = (2.5, 5.5)  # about four: chords come in multiples of four, so that steps are uneven
NUMBERS = re.compile(r'".*"|[\d.]+')


def chosen() -> list[Example]:
    """Of the smallest examples the first of each name, numbers aside."""
    found: dict[str, Example] = {}
    for example in examples(module_of(18.0, 6.0, 0.2, "for the tests")):
        if example.size == "smallest" and not LEFT_OUT.search(example.part.name):
            found.setdefault(f"{example.part.kind} {re.sub(NUMBERS, '', example.part.name)}", example)
    return sorted(found.values(), key=lambda example: example.part.name)


@dataclass(frozen=True)
class Both:
    """An example through both kernels."""

    true: ExactSolid
    meshes: tuple[Mesh, ...]


@cache
def both(number: int) -> Both:
    """The example with this number, made once for all tests."""
    recipe = CHOSEN[number].part.recipe
    return Both(exact(recipe), tuple(build(recipe, tolerance) for tolerance in TOLERANCES))


CHOSEN = chosen()
each = pytest.mark.parametrize("number", range(len(CHOSEN)), ids=lambda number: CHOSEN[number].part.name)


@each
def test_the_kernels_agree(number: int) -> None:
    """Box to a millionth, closed surfaces and handles the same and as the kind says, volume within the tolerance."""
    made, example = both(number), CHOSEN[number]
    assert made.true.valid
    assert made.true.bounds == pytest.approx(example.part.recipe.bounds, abs=1e-6)
    assert made.true.components == example.components
    assert example.genus is None or made.true.genus == example.genus
    for mesh, tolerance in zip(made.meshes, TOLERANCES, strict=True):
        assert disagreement(mesh, made.true, tolerance) == ""
        assert mesh.bounds == pytest.approx(made.true.bounds, abs=1e-6)


@each
def test_the_difference_shrinks_with_the_tolerance(number: int) -> None:
    """At a quarter of the tolerance less than six tenths of the difference is left, of volume and of area.

    Outer and inner rounds cancel in part, so one size may be near by chance; what is below a thirtieth of the tolerance
    times the surface counts as near.
    """
    made = both(number)
    near = made.true.area_mm2 * TOLERANCES[-1] / 30
    for measure in ("volume_mm3", "area_mm2"):
        off = [abs(getattr(mesh, measure) - getattr(made.true, measure)) for mesh in made.meshes]
        assert off[-1] <= 0.6 * max(off[:2]) or off[-1] <= near, (measure, off)


@pytest.mark.parametrize("measure", ["volume_mm3", "area_mm2"])
def test_a_quarter_of_the_tolerance_is_a_quarter_of_the_difference(measure: str) -> None:
    """In the median over the family: where rounds nearly touch, a single part wanders far more."""
    off = [
        [abs(getattr(mesh, measure) - getattr(made.true, measure)) for mesh in made.meshes]
        for made in map(both, range(len(CHOSEN)))
    ]
    shrunk = median(each[0] / each[-1] for each in off if min(each) > 0)
    assert QUARTERED[0] <= shrunk <= QUARTERED[1]
