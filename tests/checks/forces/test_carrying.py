from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.checks.forces.scene import FLOOR, Key, Scene

from nookwright.checks.forces.carrying import even_g
from nookwright.checks.forces.masses import Mass
from nookwright.ground.findings import Severity


def load(mass_g: float, y: float) -> Mass:
    """A load with its middle behind the front."""
    return Mass(mass_g, np.array([0.0, y, 0.0]), np.zeros((3, 3)))


def drawer(mass_g: float, row: int, *, load_kg: float = 2.0, **space: Key) -> Scene:
    """A light tray somewhere along the depth with a heavy low slab in it."""
    scene = Scene(load_kg=load_kg, **space)
    scene.panel()
    scene.tray("a", 6, 4, cell=(3, row), mass_g=10)
    scene.things("slab", "a", ((53.7, 35.7, FLOOR),), (100, 60, 6), mass_g=mass_g)
    return scene


@given(mass_g=st.floats(1, 1e5), depth=st.floats(100, 800), out=st.floats(0.65, 1.0))
def test_a_load_in_the_middle_weighs_what_it_weighs(mass_g: float, depth: float, out: float) -> None:
    """However far the drawer comes out."""
    assert even_g(load(mass_g, depth / 2), out * depth, depth) == pytest.approx(mass_g)


def test_a_load_at_the_front_weighs_double() -> None:
    """Fully pulled out, its arm is twice that of an even load; at the back it has none."""
    assert even_g(load(1000, 0), 400, 400) == pytest.approx(2000)
    assert even_g(load(1000, 400), 400, 400) == 0
    assert even_g(load(1000, 0), 200, 400) == 1000  # half pulled out, an even load has no arm


@pytest.mark.parametrize(
    ("mass_g", "row", "severity"),
    [(1500, 0, Severity.WARN), (1500, 4, None), (1500, 8, None), (1000, 0, Severity.NOTE), (700, 0, None)],
)
def test_a_load_far_forward_is_said(mass_g: float, row: int, severity: Severity | None) -> None:
    """1.57 kg with its middle 36 behind the front weighs as 2.6 kg; 2 are allowed. Further back: no word."""
    found = drawer(mass_g, row).found("load-forward")
    assert [one.severity for one in found] == ([severity] if severity else [])


def test_a_shelf_is_not_pulled_out() -> None:
    """The same load on a shelf."""
    assert drawer(1500, 0, kind="shelf").found("load-forward") == []


def test_how_far_it_comes_out_counts() -> None:
    """A drawer that comes out by two thirds: an even load has an arm of 36, this one of 108."""
    (found,) = drawer(900, 0, pulls_out=144.0).found("load-forward")
    assert found.against is not None
    assert found.against.computed > 2.0


def test_masses_that_nobody_gave_are_assumed_and_said() -> None:
    """A glass of 60 x 60 x 100 is taken as full of water and a tenth more: 404 g; with it the limit is passed."""
    scene = drawer(1500, 4)
    scene.tray("b", 4, 4, cell=(0, 8), height=60)
    scene.things("jars", "b", ((35.7, 35.7, FLOOR),), (60, 60, 100), mass_g=None, keys={"made": "moulded glass"})
    (note,) = scene.found("mass-assumed")
    assert (note.subject, note.severity) == ("jars", Severity.NOTE)
    assert "404 g" in note.text
    (found,) = scene.found("load-assumed-over")
    assert found.severity is Severity.WARN
    assert found.against is not None
    assert found.against.computed == pytest.approx(1.5 + 0.404 + 0.06 + 0.05, abs=0.001)


def test_what_was_weighed_is_not_assumed() -> None:
    """No note, and what is over by weight alone is said elsewhere."""
    assert drawer(2500, 4).found("mass-assumed") == []
    assert drawer(2500, 4).found("load-assumed-over") == []
