from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from nookwright.checks.printable import printability
from nookwright.cutting.model import Bed, Hold, uncut
from nookwright.cutting.pieces import GLUE_GAP, cut_part, never_cut
from nookwright.cutting.places import LEAST_SHARE
from nookwright.module.choice import module_of
from nookwright.parts.cradles.cradle import cradle, pockets_of
from nookwright.parts.family import variants
from nookwright.parts.model import Kind
from nookwright.parts.trays.tray import tray
from nookwright.solids.mesh import MeshKernel

from .joining import rejoined

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.cutting.holds import Fit
    from nookwright.cutting.model import CutPart
    from nookwright.module.module import Module
    from nookwright.parts.model import Part

MODULE = module_of(18.0, 6.0, 0.2, "")
NEAR = 8.5  # mm to each side of a cut: what a dovetail and its slot reach
CLOSE = 1e-6  # of a part's volume: what two ways to mesh one curved face may differ by


def largest(module: Module) -> Iterator[Part]:
    """The largest of every kind that may be cut, but for the slowest."""
    for variant in variants(module):
        for one in variant.examples:
            width, depth, _ = one.part.size
            may = one.part.kind is not Kind.PANEL and not never_cut(one.part)
            if may and one.size == "largest" and width * depth < 60_000:
                yield one.part


def halved(part: Part) -> Bed:
    """A bed that a part fits in two pieces."""
    width, depth, height = part.size
    return Bed(0.62 * max(width, depth), max(1.02 * min(width, depth), 30.0), height)


def assert_rejoins(cut: CutPart, kernel: MeshKernel) -> None:
    """The pieces put back together are the part, less what the joints take."""
    joined = rejoined(cut, kernel)
    reach = max([NEAR, *(joint.pin.depth + 0.1 for joint in cut.joints if joint.pin)])
    far, missing = joined.missing_mm3(cut, reach)
    noise_mm3 = CLOSE * joined.whole.volume()
    assert joined.outside_mm3 < noise_mm3
    assert joined.shared_mm3 < noise_mm3
    assert joined.box_error < 1e-6
    assert far < noise_mm3
    assert 0 < missing < 0.02 * joined.whole.volume()


@pytest.fixture(scope="module")
def cut(module: Module, fit: Fit) -> list[CutPart]:
    """The largest of every kind, in two pieces or more."""
    return [done for part in largest(module) if (done := cut_part(part, halved(part), fit)) and len(done.pieces) > 1]


def test_every_kind_of_part_rejoins(cut: list[CutPart], kernel: MeshKernel) -> None:
    """No piece reaches out of the part or into another, the outer size is the same, nothing lacks off the joints."""
    assert len(cut) > 30
    assert {joint.hold for one in cut for joint in one.joints} == set(Hold) - {Hold.LAPS}
    for one in cut:
        assert_rejoins(one, kernel)


@settings(max_examples=8)
@given(
    cols=st.integers(2, 24),
    rows=st.integers(1, 16),
    floor=st.sampled_from(("smooth", "shell")),
    bed=st.builds(Bed, st.floats(75, 220), st.floats(75, 220), st.just(100.0)),
)
@example(cols=20, rows=13, floor="shell", bed=Bed(140, 130, 100))
@example(cols=9, rows=9, floor="smooth", bed=Bed(80, 80, 100))
def test_trays_of_any_size_rejoin_on_any_bed(cols: int, rows: int, floor: str, bed: Bed, fit: Fit) -> None:
    """Each piece lies on the bed and is one body, and its box is as the recipe says."""
    part = tray(MODULE, cols=cols, rows=rows, height=24, smooth=floor == "smooth")
    done = cut_part(part, bed, fit)
    assert done is not None
    if bed.holds(*part.size):
        assert done == uncut(part)
        return
    kernel = MeshKernel()
    for piece in done.pieces:
        mesh = kernel.mesh(piece.recipe)
        assert bed.holds(*piece.size)
        assert mesh.components == 1
        assert np.array(mesh.vertices).min(axis=0) == pytest.approx([0, 0, 0], abs=1e-9)
        assert np.array(mesh.vertices).max(axis=0) == pytest.approx(piece.size, abs=1e-9)
        assert min(piece.size[:2]) >= min(LEAST_SHARE - 2 * GLUE_GAP, *part.size[:2])
    assert_rejoins(done, kernel)


def test_no_piece_prints_worse_than_its_part(cut: list[CutPart], kernel: MeshKernel) -> None:
    """A cut adds no overhang, no island, no thin wall: whatever is found of a piece was found of the part."""

    def found(name: str, recipe: object) -> set[str]:
        mesh = kernel.mesh(recipe)  # type: ignore[arg-type]
        shape = np.array(mesh.vertices), np.array(mesh.triangles)
        return {one.code for one in printability(name, *shape, layer=0.2, line=0.429)}

    for done in cut:
        known = found(done.part.name, done.part.recipe)
        assert all(found(piece.name, piece.recipe) <= known for piece in done.pieces), done.part.name


def test_the_fewest_pieces_come_before_dovetails(fit: Fit) -> None:
    """On a bed that holds a half but not its dovetails, two pieces are glued face to face."""
    part = tray(MODULE, cols=12, rows=5, height=24, smooth=False)
    tight, roomy = Bed(108.5, 100, 100), Bed(114, 100, 100)
    for bed, hold in ((tight, Hold.FACES), (roomy, Hold.TONGUES)):
        done = cut_part(part, bed, fit)
        assert done is not None
        assert len(done.pieces) == 2
        assert {joint.hold for joint in done.joints} == {hold}


def test_a_part_that_leaves_slivers_is_not_cut(fit: Fit) -> None:
    """No piece is shorter than 25 mm, and no share lower than 12."""
    part = tray(MODULE, cols=7, rows=3, height=66, smooth=False)
    assert cut_part(part, Bed(300, 300, 19), fit) is None
    assert cut_part(part, Bed(300, 20, 100), fit) is None


def test_some_parts_are_never_cut(module: Module, fit: Fit) -> None:
    """A rack hangs over heads; a chamber for ballast must stay closed."""
    parts = {one.part.kind: one.part for variant in variants(module) for one in variant.examples}
    rack = parts[Kind.RACK]
    hollow = next(p for p in largest_hollow(module))
    for part in (rack, hollow):
        assert never_cut(part)
        assert cut_part(part, Bed(part.size[0] * 0.6, part.size[1], 300), fit) is None


def largest_hollow(module: Module) -> Iterator[Part]:
    """Risers with a chamber."""
    return (
        one.part
        for variant in variants(module)
        for one in variant.examples
        if ("inside", "hollow") in one.part.parameters
    )


def test_the_same_part_is_cut_the_same(fit: Fit) -> None:
    """And the plastic of its pieces in closed form adds up to that of the part."""
    pockets = pockets_of(MODULE, cols=8, rows=4, diameter=30, columns=4, lines=2, pitch=31.2)
    part = cradle(MODULE, cols=8, rows=4, height=18, pockets=pockets)
    one, other = (cut_part(part, Bed(95, 80, 100), fit) for _ in range(2))
    assert one == other
    assert one is not None
    assert sum(piece.plastic.body_mm3 for piece in one.pieces) == pytest.approx(part.plastic.body_mm3, rel=0.01)
    assert len({piece.name for piece in one.pieces}) == len(one.pieces)
