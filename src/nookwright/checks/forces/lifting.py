"""What comes along when something is lifted: the cradle with the last thing in it, the liner with a tray.

A thing that its pocket holds takes the cradle along when it pulls harder than the cradle weighs. A tray that hung on
its cones after a slam is jammed by as much as it weighed, and takes the panel along when it comes off harder than the
panel and all else on it weigh.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.forces.drawing import RESERVE
from nookwright.checks.forces.wedge import ROUGH, pull_off_share
from nookwright.checks.weights import weight_n
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.origins import FitClass

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.checks.forces.cones import Seated
    from nookwright.checks.forces.stands import Loads, Stand

HELD_N = Fact(
    3.0, unit="N", kind=Kind.CHOICE, source="To pull a thing from a pocket that holds it; a coupon tells more."
)
CLOSE_N = Fact(0.5, unit="N", kind=Kind.CHOICE, source="The same where it only goes close: it rubs when it is askew.")
LEAST_JAM_N = Fact(0.5, unit="N", kind=Kind.CHOICE, source="A weaker jam lets go at the first wobble of a hand.")
_PULL_N = {FitClass.HELD: HELD_N, FitClass.CLOSE: CLOSE_N}


def lifting_cradles(stands: Mapping[str, Stand], loads: Loads) -> Iterator[Finding]:
    """Cradles that come along with the last thing that is picked from them: one finding, with the worst.

    Args:
        stands: by the placements that they consist of.
        loads: of the kit.
    """
    found = []
    for kept in loads.kit.lots:
        fits = {size.pocket.fit for size in kept.sizes if size.pocket}
        pull = max((float(force) for fit, force in _PULL_N.items() if fit in fits), default=0.0)
        for place in kept.places:
            stand = stands.get(place.placement)
            if not pull or stand is None:
                continue
            empty = stand.mass.mass_g - sum(mass.mass_g for mass in loads.things.get(place.placement, ()))
            if weight_n(empty) < RESERVE * pull:
                found.append((weight_n(empty), RESERVE * pull, stand, loads.lots[kept.id].name or kept.id))
    if found:
        has, needs, stand, name = min(found, key=lambda one: (one[0] - one[1], one[2].name))
        more = "" if len(found) == 1 else f" So {'does 1 other' if len(found) == 2 else f'do {len(found) - 1} others'}."  # noqa: PLR2004
        text = (
            f"The cradle of {name} in {stand.space} comes along with the last thing that is picked from it: it weighs "
            f"{has:.2g} N, and its pockets hold with up to {needs:.2g} N, reserve included.{more}"
        )
        remedy = "Hold it with the other hand, fix it with double-sided tape, or ask for an easier fit."
        yield Finding("cradle-lifts", Severity.NOTE, stand.name, text, remedy, against=Against(has, needs, "N"))


def lifting_liners(space: str, stands: Sequence[Stand], seats: Mapping[str, Seated], loads: Loads) -> Iterator[Finding]:
    """Whether the liner of a space may come along with what stands on it: one finding, with the worst.

    Args:
        space: id of the space.
        stands: everything that stands in it.
        seats: what each has in its sockets, by its name.
        loads: of the kit.
    """
    found = []
    for stand in stands:
        cones = seats[stand.name].cones
        panels = [name for name in stand.on if loads.parts[loads.placements[name].part].kind == "panel"]
        if cones is None or not panels:
            continue
        jam = weight_n(stand.mass.mass_g) * pull_off_share(cones.slope_deg, ROUGH)
        rest = sum(loads.of_part(name).mass_g for name in panels)
        rest += sum(one.mass.mass_g for one in stands if one is not stand and one.on & stand.on)
        if jam > max(weight_n(rest), LEAST_JAM_N):
            found.append((weight_n(rest), jam, stand))
    if found:
        has, needs, stand = max(found, key=lambda one: (one[1] - one[0], one[2].name))
        text = (
            f"The liner of {space} may come along when {stand.label} is lifted: jammed after a slam it takes up to "
            f"{needs:.1f} N to come off, and the liner with all else on it weighs {has:.2g} N."
        )
        remedy = "Fix the liner at its corners with spots of double-sided tape, or under the lips of its fillers."
        yield Finding("liner-lifts", Severity.NOTE, space, text, remedy, against=Against(needs, has, "N"))
