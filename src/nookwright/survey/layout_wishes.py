"""What the person wishes of the layout, as a room file says it: style, weights, what stays where it is, own boxes.

Nothing is worked out here; which names must exist says ``layout_rules``.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from nookwright.ground.frozen import Model
from nookwright.survey.readings import LengthFromZero, PositiveLength

Id = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]
Weight = Annotated[float, Field(ge=0, le=100)]


class Style(StrEnum):
    """Which of the two layouts is built; both are worked out, and the price of the other is said."""

    CALM = "calm"  # aligned rows, few widths, one rim height a row
    TIGHTEST = "tightest"  # the least cells and plastic


class Weights(Model):
    """The table ``[choices.weights]``: 1 counts as usual, 2 twice as much, 0 not at all."""

    reach: Weight = Field(default=1.0, description="What is used often lies handy: no stooping, stretching, digging.")
    together: Weight = Field(default=1.0, description="Lots that name each other in 'near' share a space.")
    alike: Weight = Field(default=1.0, description="Lots of one group share a space, and lie beside each other.")
    fewer_spaces: Weight = Field(default=1.0, description="Every space in use costs its liner.")
    area: Weight = Field(default=1.0, description="Floor that a lot takes.")
    plastic: Weight = Field(default=1.0, description="Grams of its part.")
    one_hand: Weight = Field(default=1.0, description="One thing can be got out with one hand.")
    heavy_low: Weight = Field(default=1.0, description="What is heavy stands low.")
    tall_back: Weight = Field(default=1.0, description="Tall parts stand with their back to something in a drawer.")
    fewer_sizes: Weight = Field(default=1.0, description="Few different parts.")


class Place(Model):
    """One ``[[place]]``: where the part of a lot stands already, or must stand."""

    lot: Id = Field(description="The lot, by id.")
    space: Id = Field(description="The space, by id.")
    x: LengthFromZero | None = Field(
        default=None, description="Left edge of its part from the left wall; anywhere in the space if left out."
    )
    y: LengthFromZero | None = Field(default=None, description="Front edge of it from the front wall.")
    width: PositiveLength | None = Field(default=None, description="Its width as it lies; the tool's if left out.")
    depth: PositiveLength | None = Field(default=None, description="Its depth as it lies; the tool's if left out.")
    height: PositiveLength | None = Field(default=None, description="Its height; the tool's if left out.")
    printed: bool = Field(
        default=False, description="It is printed and stands there already: it moves only if that gains its grams."
    )
    may_move: bool = Field(
        default=False,
        description="It stands there until the rest is improved: a build leaves it there, the studio may move it then.",
    )


class OwnBox(Model):
    """One ``[[box]]``: a box, tin or jar that you have, or can buy, to keep things in on a shoe."""

    id: Id = Field(description="Short name without blanks.")
    name: str = Field(default="", description="Name for people.")
    width: PositiveLength = Field(description="Outside, the longer side of its foot.")
    depth: PositiveLength = Field(description="Outside, the shorter side of its foot.")
    height: PositiveLength = Field(description="Outside, with its lid if it has one.")
    wall: LengthFromZero = Field(default=1.5, validate_default=False, description="Thickness of its walls and floor.")
    foot_radius: LengthFromZero = Field(default=0.0, description="Radius of the corners of its foot.")
    lid: bool = Field(default=False, description="It is kept closed, with a lid.")
    mass_g: float = Field(gt=0, description="Mass of the empty box.")
    owned: int = Field(default=0, ge=0, description="How many you have.")
    price: float | None = Field(default=None, ge=0, description="What one costs; none can be bought if left out.")
