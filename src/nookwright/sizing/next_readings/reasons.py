"""Why to take a reading, in words a maker would use."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.next_readings.gain import LEAST_CELLS, LEAST_FIT, LEAST_MASS_G

if TYPE_CHECKING:
    from nookwright.sizing.next_readings.gain import Gain

MM2_PER_CM2 = Fact(100.0, unit="mm2/cm2", kind=Kind.STANDARD, source="SI.")


def why_thing(gain: Gain, pitch: float, *, rough: bool, homeless: bool) -> str:
    """Why to measure more things of a lot.

    Args:
        gain: what that gains on average.
        pitch: side of a cell, mm.
        rough: what is known so far is rough.
        homeless: the lot has no place yet.
    """
    said = ["its size is rough"] if rough else []
    if homeless and gain.pocket > 0:
        said.append(f"it has no place yet, and is likely {gain.pocket:.1f} mm smaller than has to be feared")
    elif gain.pocket > 0:
        instead = (
            f" (or stay as wide and fit with {min(99.9, 100 * gain.at_same_size):.1f} %)" if gain.at_same_size else ""
        )
        said.append(f"its pockets get {gain.pocket:.1f} mm tighter{instead}")
    if abs(gain.cells) >= LEAST_CELLS:
        area = abs(gain.cells) * pitch * pitch / MM2_PER_CM2
        said.append(f"its part takes {area:.0f} cm2 {'less' if gain.cells > 0 else 'more'} on average")
    if abs(gain.mass_g) >= LEAST_MASS_G:
        said.append(f"{abs(gain.mass_g):.0f} g {'less' if gain.mass_g > 0 else 'more'} to print")
    if gain.fit >= LEAST_FIT:
        said.append(f"the first print fits {100 * gain.fit:.1f} % likelier")
    return "; ".join(said)


def why_space(gain: Gain, side: str) -> str:
    """Why to read a side of a space again.

    Args:
        gain: what that gains on average.
        side: ``width``, ``depth`` or ``height``.
    """
    chance = f"{100 * min(1.0, gain.lines):.0f} %"
    if side == "height":
        said = [f"{gain.pocket:.1f} mm more height, and a lot has no place yet"] if gain.pocket > 0 else []
        if gain.lines > 0:
            said.append(f"with a chance of {chance} its tallest part no longer goes in")
        return "; ".join(said)
    line = "column" if side == "width" else "row"
    return f"with a chance of {chance} it holds one {line} of cells more, or one less"
