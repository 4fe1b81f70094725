"""What to take the next reading with: the surest instrument that reaches."""

from __future__ import annotations

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.statistics.uncertainty import Combined, reading_components
from nookwright.survey.origins import Instrument

REACH = {
    Instrument.CALIPER: Fact(150.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="The caliper that most people have."),
    Instrument.RULE: Fact(300.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="The steel rule that most people have."),
    Instrument.TAPE: Fact(5000.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="A pocket tape."),
}


def reading_error_of(instrument: Instrument, size: float) -> float:
    """Standard uncertainty of one reading, mm.

    Args:
        instrument: what it is taken with.
        size: mm.
    """
    return Combined(reading_components(instrument, size)).standard


def instrument_for(size: float) -> Instrument:
    """The surest instrument that reaches over a thing.

    Args:
        size: mm.

    >>> str(instrument_for(72)), str(instrument_for(210)), str(instrument_for(9000))
    ('caliper', 'rule', 'laser')
    """
    reaching = [instrument for instrument, reach in REACH.items() if size <= reach]
    return min(reaching, key=lambda one: reading_error_of(one, size), default=Instrument.LASER)
