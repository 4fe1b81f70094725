"""Binary glTF: colours as light, places in metres with y up, meshes that are equal stored once."""

from __future__ import annotations

import json
import struct
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.exchange.glb import Body, glb, linear
from nookwright.solids.triangles import Mesh

CORNERS = np.array([[0.0, 0, 0], [1, 0, 0], [0, 2, 0], [0, 0, 3]])
MESH = Mesh(CORNERS, np.array([[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]], dtype=np.uint32))
PLACE = ((1.0, 0, 0, 10), (0, 1.0, 0, 20), (0, 0, 1.0, 30), (0, 0, 0, 1.0))


def _seen(light: float) -> int:
    """The byte of a screen for a share of light: IEC 61966-2-1:1999, 5.2, the way that screens go."""
    value = 12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
    return round(255 * value)


def _tree(content: bytes) -> dict[str, Any]:
    """The JSON of a file: the first chunk after a head of 12 bytes, glTF 2.0, section 4.4."""
    magic, version, whole, length, kind = struct.unpack("<4sIII4s", content[:20])
    assert (magic, version, whole, kind) == (b"glTF", 2, len(content), b"JSON")
    tree: dict[str, Any] = json.loads(content[20 : 20 + length])
    return tree


@given(st.integers(0, 0xFFFFFF))
def test_a_screen_that_is_handed_the_light_shows_the_colour_that_was_typed(number: int) -> None:
    """Both formulas of the standard, ours one way and this one the other, meet in the same byte."""
    colour = f"#{number:06x}"
    assert "#" + "".join(f"{_seen(one):02x}" for one in linear(colour)) == colour


@pytest.mark.parametrize(
    ("byte", "light"), [("00", 0.0), ("0a", 0.003035), ("0b", 0.003347), ("80", 0.215861), ("ff", 1.0)]
)
def test_light_of_single_bytes(byte: str, light: float) -> None:
    """By hand from IEC 61966-2-1: 10/255/12.92 on the straight line, ((11/255 + 0.055)/1.055)^2.4 beyond it."""
    assert linear(f"#{byte}{byte}{byte}") == pytest.approx((light, light, light), abs=5e-7)


@pytest.mark.parametrize("colour", ["#0a0b0c", "#c03030", "#F2f2f2"])
def test_a_file_says_colours_as_light(colour: str) -> None:
    """As glTF 2.0 has it in section 3.9.2, and not rounded to a byte, which dark colours do not bear."""
    (material,) = _tree(glb([Body("one", "shape", MESH, PLACE, colour)]))["materials"]
    factor = material["pbrMetallicRoughness"]["baseColorFactor"]
    assert factor == pytest.approx([*linear(colour), 1.0], abs=1e-9)
    assert material["pbrMetallicRoughness"]["metallicFactor"] == 0


def test_each_body_has_its_own_colour_and_equal_ones_share_a_mesh() -> None:
    """Two of a kind and one of another colour: two meshes, two materials, three nodes with their names."""
    bodies = [
        Body(name, "shape", MESH, PLACE, colour)
        for name, colour in (("a", "#101010"), ("b", "#20c040"), ("c", "#20c040"))
    ]
    tree = _tree(glb(bodies))
    assert len(tree["meshes"]) == 2
    shown = {}
    for node in tree["nodes"]:
        if "mesh" in node:
            (one,) = tree["meshes"][node["mesh"]]["primitives"]
            shown[node["name"]] = tree["materials"][one["material"]]["pbrMetallicRoughness"]["baseColorFactor"]
    assert {name: factor[:3] for name, factor in shown.items()} == {
        body.name: pytest.approx(list(linear(body.colour))) for body in bodies
    }


def test_a_body_stands_in_metres_with_y_up() -> None:
    """A corner at (10, 20, 33) mm is at (0.010, 0.033, -0.020) m."""
    tree = _tree(glb([Body("one", "shape", MESH, PLACE, "#ffffff")]))
    node = next(one for one in tree["nodes"] if "mesh" in one)
    matrix = np.array(node["matrix"]).reshape(4, 4).T
    assert (matrix @ [*CORNERS[3], 1.0])[:3] == pytest.approx([0.010, 0.033, -0.020])


def test_the_same_bodies_give_the_same_bytes() -> None:
    """Nothing of a clock or of chance is in it."""
    bodies = [Body("one", "shape", MESH, PLACE, "#804020")]
    assert glb(bodies) == glb(bodies)
