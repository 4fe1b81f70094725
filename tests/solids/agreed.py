"""Parts of the family through both kernels, and what is left to the script."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import pytest

from nookwright.module.choice import module_of
from nookwright.parts.family import examples
from nookwright.solids.agreement import disagreements
from nookwright.solids.exact import exact
from nookwright.solids.mesh import build
from nookwright.solids.pool import bodies_in

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.parts.model import Example
    from nookwright.solids.exact import ExactSolid
    from nookwright.solids.triangles import Mesh

TOLERANCES = (0.04, 0.01)
QUICK = 120  # bodies of a recipe, copies counted: up to two seconds and a half in the exact kernel
_NUMBERS = re.compile(r'".*"|[\d.]+')


@cache
def named() -> tuple[Example, ...]:
    """Of each size the first example of each name, numbers aside."""
    found: dict[str, Example] = {}
    for example in examples(module_of(18.0, 6.0, 0.2, "for the tests")):
        found.setdefault(f"{example.size} {example.part.kind} {re.sub(_NUMBERS, '', example.part.name)}", example)
    return tuple(found.values())


def quick(*sizes: str) -> tuple[Example, ...]:
    """Those of some sizes that are quick in the exact kernel."""
    return tuple(each for each in named() if each.size in sizes and bodies_in(each.part.recipe) <= QUICK)


@dataclass(frozen=True)
class Both:
    """An example through both kernels."""

    true: ExactSolid
    meshes: Mapping[float, Mesh]


@cache
def both(example: Example) -> Both:
    """An example, made once for all tests of a process."""
    recipe = example.part.recipe
    return Both(exact(recipe), {tolerance: build(recipe, tolerance) for tolerance in TOLERANCES})


def check(example: Example) -> None:
    """Fail where the kernels differ, from each other or from what the kind says of itself."""
    made = both(example)
    assert made.true.bounds == pytest.approx(example.part.recipe.bounds, abs=1e-6)
    assert made.true.components == example.components
    assert example.genus is None or made.true.genus == example.genus
    assert disagreements(made.meshes, made.true) == ()


def name_of(example: Example) -> str:
    """Size and name."""
    return f"{example.size} {example.part.name}"
