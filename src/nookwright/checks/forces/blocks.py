"""A block that is stopped at its foot: whether it tips over, and how far its other end lifts.

A body that moves with its drawer meets a stop at its foot, or at a rim that holds it. About that edge its angular
momentum stays: ``m v h = I w``, h the height of its centre above the edge and I its moment of inertia about it, so it
begins to turn with an energy of ``(m v h)^2 / 2 I``. It goes over if that lifts its centre to above the edge, by
``hypot(b, h) - h``; b is how far the centre lies behind the edge. Under a steady push of a g it does not even begin
to as long as ``b / h`` is at least a.

What this does not know: what yields, rubs and bounces; all of it takes energy away.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.spaces.bow import GRAVITY

MM_S = Fact(1000.0, unit="(mm/s)/(m/s)", kind=Kind.STANDARD, source="Millimetres in a metre.")
GRAVITY_MM_S2 = Fact(GRAVITY * MM_S, unit="mm/s2", kind=Kind.CALCULATED, source="Standard gravity, in mm/s2.")


@dataclass(frozen=True)
class Block:
    """A body and the edge that it would turn about; all lengths are seen across that edge.

    Attributes:
        back: how far the centre of mass lies behind the edge, mm; none or less means that it hangs over.
        up: how far it lies above the edge, mm; none or less means that nothing can tip it over.
        radius2: moment of inertia about the edge by the mass, mm2.
    """

    back: float
    up: float
    radius2: float

    @property
    def tips_at_g(self) -> float:
        """Steady acceleration from which on it begins to lift, g; infinite where nothing tips it."""
        return math.inf if self.up <= 0 else max(0.0, self.back) / self.up

    @property
    def rise_to_topple(self) -> float:
        """By how much its centre rises until it stands above the edge, mm."""
        return math.inf if self.up <= 0 else math.hypot(max(0.0, self.back), self.up) - self.up

    def rise_at(self, speed_m_s: float) -> float:
        """By how much a stop at that speed lifts its centre, mm; what it rises by if nothing stops it."""
        if self.up <= 0:
            return 0.0
        return (speed_m_s * MM_S * self.up) ** 2 / (2 * self.radius2 * GRAVITY_MM_S2)

    @property
    def topples_at_m_s(self) -> float:
        """Least speed at whose stop it goes over, m/s; infinite where nothing tips it."""
        if self.up <= 0:
            return math.inf
        return math.sqrt(2 * GRAVITY_MM_S2 * self.rise_to_topple * self.radius2) / self.up / MM_S

    def angle_at(self, speed_m_s: float) -> float:
        """How far it turns at a stop that does not topple it, radians; a quarter turn where it goes over."""
        if self.up <= 0:
            return 0.0
        arm = math.hypot(self.back, self.up)
        high = self.up + self.rise_at(speed_m_s)
        return math.pi / 2 if high >= arm else math.asin(high / arm) - math.atan2(self.up, self.back)

    def topples(self, accel_g: float, speed_m_s: float) -> bool:
        """Whether a stop takes it over: it must both begin to lift and have the energy.

        Args:
            accel_g: of the stop, g.
            speed_m_s: before it.
        """
        return accel_g > self.tips_at_g and self.rise_at(speed_m_s) >= self.rise_to_topple
