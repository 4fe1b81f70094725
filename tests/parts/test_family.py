"""What holds of every kind of part at every size: one place, so that a new kind is held to it at once."""

from __future__ import annotations

import importlib
import json
import pkgutil
import re
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from nookwright import parts
from nookwright.checks.printable import printability
from nookwright.ground.findings import Severity
from nookwright.module.choice import module_of
from nookwright.module.lines import lines_of
from nookwright.parts import family
from nookwright.shapes.solids import Solid

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.parts.model import Example

    from .conftest import Bench

ROOT = Path(__file__).resolve().parents[2]
LAYER = 0.2
MODULE = module_of(18.0, 6.0, LAYER, "for the tests")
LINE = lines_of(MODULE.wall, 0.4, LAYER)
VARIANTS = family.variants(MODULE)
CASES = [(variant.name, example) for variant in VARIANTS for example in variant.examples]
EXAMPLES = pytest.mark.parametrize(
    "example",
    [example for _, example in CASES],
    ids=[f"{name}-{number}-{example.size}" for number, (name, example) in enumerate(CASES)],
)


def test_every_module_with_examples_is_in_the_family() -> None:
    """A kind that shows its sizes is tested, drawn and fuzzed."""
    found = pkgutil.walk_packages(parts.__path__, f"{parts.__name__}.")
    names = [info.name for info in found if info.name != family.__name__]
    with_examples = {n.rsplit(".", 1)[-1] for n in names if hasattr(importlib.import_module(n), "examples")}
    assert {variant.name.replace(" ", "_") for variant in VARIANTS} == with_examples


def test_every_variant_says_what_it_is_and_shows_three_sizes() -> None:
    """In one sentence; from the smallest to the largest."""
    for variant in VARIANTS:
        assert re.fullmatch(r"[A-Z].*[^.]\.", variant.about), variant.name
        assert {example.size for example in variant.examples} <= {"smallest", "middle", "largest"}
    kinds = Counter((example.part.kind, example.size) for _, example in CASES)
    missing = {(kind, size) for kind, _ in kinds for size in ("smallest", "middle", "largest") if not kinds[kind, size]}
    assert {kind for kind, _ in missing} <= {"key", "gauge"}  # of these there is one size


@EXAMPLES
def test_a_part_is_the_solid_that_it_says(bench: Bench, example: Example) -> None:
    """Its bodies, its handles, its box from the origin; its plastic in closed form within 8 % of the mesh."""
    part, mesh = example.part, bench.mesh(example.part)
    assert mesh.bounds == pytest.approx((0, 0, 0, *part.size), abs=2e-4)
    assert (mesh.components, mesh.genus) == (example.components, example.genus)
    assert part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.08)
    assert part.plastic.height == pytest.approx(part.size[2], abs=1e-6)


@EXAMPLES
def test_a_part_prints_without_support(bench: Bench, example: Example) -> None:
    """By our own test, as it stands, at the line that its walls ask for."""
    mesh = bench.mesh(example.part)
    assert LINE is not None
    found = printability(example.part.name, mesh.vertices, mesh.triangles, layer=LAYER, line=LINE.width)
    assert [each for each in found if each.severity is not Severity.NOTE] == []


@EXAMPLES
def test_parameters_can_be_written_and_are_sorted(example: Example) -> None:
    """As JSON, each once, in order of their names."""
    names = [name for name, _ in example.part.parameters]
    assert names == sorted(set(names))
    json.dumps(dict(example.part.parameters), allow_nan=False)


def test_the_same_parameters_give_the_same_recipes() -> None:
    """Asked again, every part is the same, by its content."""
    again = [example.part.recipe.digest for example in family.examples(MODULE)]
    assert again == [example.part.recipe.digest for _, example in CASES]


def test_parameters_tell_parts_apart() -> None:
    """Two parts of one kind that are not the same differ in a parameter."""
    known: dict[str, str] = {}
    for _, example in CASES:
        part = example.part
        key = json.dumps([part.kind, *part.parameters])
        assert known.setdefault(key, part.recipe.digest) == part.recipe.digest, part.name


def test_a_name_stands_for_one_kind_and_one_size() -> None:
    """Parts that share a name are alike to people: of one kind and one outer size."""
    known: dict[str, tuple[str, tuple[float, float, float]]] = {}
    for _, example in CASES:
        part = example.part
        width, depth, height = (round(length, 3) for length in part.size)
        one = (str(part.kind), (width, depth, height))
        assert known.setdefault(part.name, one) == one, part.name


def test_every_number_of_a_recipe_is_on_its_grid() -> None:
    """The recipes of the family are plain data of four decimals: they can be hashed, stored, and made elsewhere."""
    for _, example in CASES:
        assert all(node.digest for node in _nodes(example.part.recipe)), example.part.name


def _nodes(solid: Solid) -> Iterator[Solid]:
    yield solid
    for value in vars(solid).values():
        for inner in value if isinstance(value, tuple) else (value,):
            if isinstance(inner, Solid):
                yield from _nodes(inner)


def test_the_page_of_the_family_is_current() -> None:
    """docs/family.md names every part with its picture; renew it with scripts/renew_family.py."""
    page = (ROOT / "docs" / "family.md").read_text(encoding="utf-8")
    pictures = {path.name for path in (ROOT / "docs" / "pictures" / "family").glob("*.png")}
    shown = set(re.findall(r"\(pictures/family/([^)]+)\)", page))
    assert shown == pictures
    for _, example in CASES:
        assert f"| {example.part.name} |" in page, example.part.name
    assert sum(path.stat().st_size for path in (ROOT / "docs" / "pictures" / "family").glob("*.png")) < 3_000_000
