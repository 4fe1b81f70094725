"""What a wood screw may be pulled with, for information: no fixing is designed here."""

from __future__ import annotations

from nookwright.ground.sources import Fact, Kind

NDS_LB_IN = Fact(
    2850.0, unit="lb/in", kind=Kind.HANDBOOK, source="NDS form for wood screws, allowable: 2850 G^2 D for each inch."
)
SOFTWOOD = Fact(0.45, unit="1", kind=Kind.HANDBOOK, source="Specific gravity of the worked example: pine and spruce.")
N_PER_LB = Fact(4.448222, unit="N/lb", kind=Kind.STANDARD, source="Pound-force, ISO 80000.")
MM_PER_IN = Fact(25.4, unit="mm/in", kind=Kind.STANDARD, source="ISO 80000.")


def withdrawal_n_mm(diameter: float, gravity: float = SOFTWOOD) -> float:
    """Pull that a wood screw may be loaded with for each mm of thread in wood, N/mm.

    Args:
        diameter: of the screw, mm.
        gravity: specific gravity of the wood.

    >>> round(withdrawal_n_mm(0.19 * 25.4, 0.45), 1)
    19.2
    """
    return NDS_LB_IN * gravity**2 * diameter / MM_PER_IN * N_PER_LB / MM_PER_IN
