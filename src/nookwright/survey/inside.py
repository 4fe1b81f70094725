"""What a survey says of the inside of a space besides its sides: lean, lumps, what passes above it, the bottom board.

Nothing here must be given. Each entry is a figure that a person reads off with a square, a straight edge or a tape.
"""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from nookwright.ground.frozen import Model
from nookwright.survey.readings import LengthEitherWay, LengthFromZero, PositiveLength, Readings


class Wall(StrEnum):
    """A wall of a space."""

    LEFT = "left"
    RIGHT = "right"
    FRONT = "front"
    BACK = "back"


class Board(StrEnum):
    """What the floor of a space is made of."""

    HARDBOARD = "hardboard"
    MDF = "mdf"
    CHIPBOARD = "chipboard"
    PLYWOOD = "plywood"
    STEEL = "steel"
    PLASTIC = "plastic"


class BoardEdges(StrEnum):
    """How the edges of the floor are held."""

    RESTING = "resting"  # in a groove or on ledges: they may turn
    CLAMPED = "clamped"  # folded up from one sheet, or glued and screwed all round


class Lean(Model):
    """How far each wall leans in at the rim, read with a square on the floor; a negative figure leans out."""

    left: LengthEitherWay = Field(default=0.0, description="Left wall, inwards at the rim; negative: it leans out.")
    right: LengthEitherWay = Field(default=0.0, description="Right wall, likewise.")
    front: LengthEitherWay = Field(default=0.0, description="Front wall, likewise.")
    back: LengthEitherWay = Field(default=0.0, description="Back wall, likewise.")


class Lump(Model):
    """Something that stands out from a wall: a bracket, a screw head, a lump of glue, the rolled edge of a sheet."""

    what: str = Field(min_length=1, description="What it is: a bracket of the front, a screw head, a lump of glue.")
    wall: Wall = Field(description="Which wall it is on.")
    out: PositiveLength = Field(description="How far it stands out from the wall.")
    z: LengthFromZero = Field(default=0.0, description="Where it begins, above the floor.")
    height: PositiveLength | None = Field(default=None, description="How high it is; up to the top when left out.")
    along: LengthFromZero | None = Field(
        default=None, description="Where it begins along the wall, from its left or front end; all along if left out."
    )
    length: PositiveLength | None = Field(default=None, description="How long it is along the wall.")


class PassesUnder(Model):
    """Something that the space passes under on its way, or that hangs over it at rest."""

    what: str = Field(min_length=1, description="What it is: a rail, the lip of a worktop, a catch.")
    height: Readings = Field(description="Its underside, above the floor of the space.")


class Bottom(Model):
    """The board that is the floor, so that its sag under the load can be worked out."""

    thickness: PositiveLength = Field(description="Thickness of the board.")
    material: Board = Field(description="What it is made of.")
    edges: BoardEdges = Field(default=BoardEdges.RESTING, description="How its edges are held.")
    stiffness_mpa: float | None = Field(
        default=None, gt=0, description="Bending modulus in MPa, where you know it; else that of the material."
    )
