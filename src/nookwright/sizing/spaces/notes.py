"""What there is to say of how a space was read: what a single reading costs, readings that differ, walls that lean."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.spaces.sides import ENOUGH, least_of, walls_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.sizing.usable import Usable
    from nookwright.survey.models import Space

WORTH_SAYING = Fact(1.0, unit="mm", kind=Kind.CHOICE, source="Less of a space is no matter for a finding.")


def about_reading(space: Space, usable: Usable) -> tuple[Finding, ...]:
    """What there is to say of the readings of a space.

    Args:
        space: as surveyed.
        usable: what is left of it.
    """
    return (*_read_once(space, usable), *_differing(space), *_leaning(space, usable), *_sagging(usable))


def _read_once(space: Space, usable: Usable) -> Iterator[Finding]:
    """One reading is accepted, with a wider margin."""
    said = []
    for name, readings, margin in zip(
        ("width", "depth", "height"), (space.width, space.depth, space.height), usable.margins, strict=True
    ):
        if len(readings.all) == 1:
            often = least_of(
                readings.all, walls_of(((readings.smallest,) * int(ENOUGH),), space.instrument), space.instrument
            )
            once = least_of(readings.all, walls_of((readings.all,), space.instrument), space.instrument)
            said.append(f"{name} {margin:.1f} mm, of which {once.margin - often.margin:.1f} would be saved")
    if said:
        text = f"Read once, so a wider margin is kept free: {'; '.join(said)} by {ENOUGH:g} readings."
        remedy = f"Read it at {ENOUGH:g} places if the layout is short of room."
        yield Finding("space-read-once", Severity.NOTE, space.id, text, remedy)


def _differing(space: Space) -> Iterator[Finding]:
    """Readings that differ by far more than walls and tapes usually do."""
    for name, readings, levels in (
        ("width", space.width, [level for _, level in space.width.levels(space.height.smallest)]),
        ("depth", space.depth, [level for _, level in space.depth.levels(space.height.smallest)]),
        ("height", space.height, [space.height.all]),
    ):
        if walls_of(levels, space.instrument).wide:
            low, high = readings.smallest, readings.largest
            text = f"The readings of its {name} differ much, from {low:g} to {high:g} mm."
            remedy = "Read the smallest and the largest again; if they hold, read more places in between."
            yield Finding("readings-differ", Severity.WARN, space.id, text, remedy)


def _leaning(space: Space, usable: Usable) -> Iterator[Finding]:
    """Walls that come nearer towards the top, nobody knows which."""
    most = usable.passed
    for name, inset, walls in (
        ("width", min(most.left, most.right), "left or the right"),
        ("depth", min(most.front, most.back), "front or the back"),
    ):
        if inset >= WORTH_SAYING and space.lean is None:
            text = (
                f"Its {name} gets less above the floor by {inset:.1f} mm, and nothing says whether the {walls} wall "
                "leans: so much is kept free at both."
            )
            yield Finding("wall-leans", Severity.NOTE, space.id, text, "Hold a square against both and give `lean`.")


def _sagging(usable: Usable) -> Iterator[Finding]:
    """A sag worked out beyond the limit of its formula."""
    if usable.bow.stiffens:
        text = f"Its floor would sag by {usable.bow.sag:.1f} mm by the formula, which holds for less: it will sag less."
        remedy = "Load it, read the bow under a straight edge and give `bow`."
        yield Finding("sag-unsure", Severity.NOTE, usable.space, text, remedy)
