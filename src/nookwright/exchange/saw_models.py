"""What kit.json says of strips of wood that may be sawn instead of printed."""

from __future__ import annotations

from pydantic import Field

from nookwright.ground.frozen import Model


class KitHoles(Model):
    """Holes in the underside of a strip, over cones of the liner."""

    count: int = Field(description="One a cell.")
    diameter: float = Field(description="Of each.")
    depth: float = Field(description="Of each.")
    first: float = Field(description="Its middle from either end of the strip.")
    apart: float = Field(description="From middle to middle.")
    from_face: float = Field(description="Of the middles, from the long side that faces the trays.")


class KitStrip(Model):
    """One strip, exactly as long and wide as what it stands for."""

    space: str = Field(description="Id of its space.")
    width: float = Field(description="Of the stock.")
    height: float = Field(description="Of the stock, as it lies or stands.")
    length: float = Field(description="To saw it to.")
    instead_of: tuple[str, ...] = Field(description="Names of the parts that it stands for, in their order.")
    holes: KitHoles | None = Field(default=None, description="What holds it; double-sided tape where there are none.")


class KitSawing(Model):
    """What may be sawn of wood instead of printed; all of it is printed none the less."""

    bar: float = Field(default=0.0, description="Length of the bars.")
    kerf: float = Field(default=0.0, description="What a cut takes.")
    strips: tuple[KitStrip, ...] = Field(default=(), description="In the order of the placements.")
