"""What a module is judged by, all in grams: plastic, floor, hours, trouble, and kinds of part.

One scale for things that have none in common. Each weight says what it stands for; the table shows every amount beside
it, so that a person who weighs otherwise can choose another row.
"""

from __future__ import annotations

from nookwright.ground.sources import Fact, Kind

FLOOR_G_DM2 = Fact(
    24.0,
    unit="g/dm2",
    kind=Kind.CHOICE,
    source="Floor that is lost weighs as much as the plastic that fits it out, liner and tray; as in the layout.",
)
BOUGHT_G = Fact(
    40.0,
    unit="g/currency",
    kind=Kind.CALCULATED,
    source="What is bought, as plastic for the same money at 25 a kilogram; as in the layout.",
)
TROUBLE_G = Fact(
    4.0, unit="g/cost", kind=Kind.CHOICE, source="One unit of trouble to get a thing out; as in the layout."
)
HOUR_G = Fact(
    5.0,
    unit="g/h",
    kind=Kind.CHOICE,
    source="An hour of printing costs attention besides plastic: a quarter of the 22 g that it lays.",
)
KIND_G = Fact(
    3.0,
    unit="g",
    kind=Kind.CHOICE,
    source="One kind of part more has to be named, sliced and kept apart, and swaps with nothing else.",
)
