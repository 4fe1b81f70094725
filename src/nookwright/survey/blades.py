"""The measures of a blade, as the table ``[lot.blade]`` gives them: enough for a rest that covers its edge."""

from __future__ import annotations

from pydantic import Field

from nookwright.ground.frozen import Model
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.readings import LengthFromZero, PositiveLength

LEAST_SPINE = Fact(0.3, unit="mm", kind=Kind.CHOICE, source="Thinner sheets are no blades.")


class BladeSizes(Model):
    """The table ``[lot.blade]``: the blade of one thing; its handle is what the whole thing is longer."""

    length: PositiveLength = Field(description="From the heel to the tip, without the handle.")
    height: PositiveLength = Field(description="From the edge to the back, where it is highest.")
    spine: PositiveLength = Field(description="Thickness of the back, where it is thickest; 0.3 mm or more.")
    handle_drop: LengthFromZero = Field(
        default=0.0, description="How far the handle reaches below the edge; 0 where it does not."
    )
