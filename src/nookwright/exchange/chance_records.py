"""What to measure next and how likely the first print fits, as records of the kit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.exchange import kit as k
from nookwright.exchange.rounding import rounded

if TYPE_CHECKING:
    from nookwright.layout.next_readings import NextReading
    from nookwright.layout.plan import Plan
    from nookwright.sizing.fits.first_print import FirstPrint


def reading_record(one: NextReading, plan: Plan) -> k.KitReading:
    """Readings that would change a decision."""
    gain = one.gain
    return k.KitReading(
        subject=one.subject,
        name=one.name,
        dimension=one.dimension,
        readings=one.readings,
        instrument=one.instrument.value,
        rough=one.rough,
        tighter=rounded(gain.pocket),
        saved_mm2=rounded(gain.cells * plan.module.pitch**2),
        saved_g=rounded(gain.mass_g),
        surer=rounded(gain.fit),
        surer_instead=rounded(gain.at_same_size),
        lines=rounded(gain.lines),
        time_s=rounded(one.effort_s),
        why=one.why,
    )


def first_print_record(found: FirstPrint) -> k.KitFirstPrint:
    """How likely the first print fits."""
    return k.KitFirstPrint(
        kit=rounded(found.kit),
        lots={lot: rounded(share) for lot, share in found.lots.items()},
        spaces={space: rounded(share) for space, share in found.spaces.items()},
        helps=tuple(
            k.KitStepUp(
                step=one.step.value, subject=one.subject, probability=rounded(one.probability), gain=rounded(one.gain)
            )
            for one in found.helps
        ),
        seat=rounded(found.seat),
    )
