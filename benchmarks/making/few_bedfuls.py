"""Whether short walks through the orders of few bedfuls lose anything against long ones: they should not.

    python -m benchmarks.making.few_bedfuls [--stages N] [--seed N]

Stages of two to eight bedfuls with invented hours, rules and materials, drawn as the tests draw them, on one printer or
two. Each is walked as it is planned, and with all tries that a large one gets; how many ended worse or better is said.
"""

from __future__ import annotations

import argparse
import math
from typing import TYPE_CHECKING
from unittest.mock import patch

from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st
from tests.making.schedule.rules import some_bedfuls, some_hours, some_rules

from nookwright.making.schedule import improve
from nookwright.making.schedule.decode import Decoder
from nookwright.making.schedule.effort import PUTS
from nookwright.making.schedule.quick import quick_slots
from nookwright.making.schedule.staged import order_of
from nookwright.making.schedule.starts import starts_of
from nookwright.making.schedule.tables import tables_of
from nookwright.survey.making_wishes import Order

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.making.schedule.decode import Worth
    from nookwright.making.schedule.hours import Hours
    from nookwright.making.schedule.model import Bedful, Rules

MOST = 8


def worths(bedfuls: Sequence[Bedful], hours: tuple[Hours, ...], rules: Rules) -> tuple[Worth, Worth] | None:
    """What the schedule is worth after short walks and after long ones; nothing where there is nothing to order.

    Args:
        bedfuls: of the stage.
        hours: of the printers.
        rules: of the household.
    """
    starts = starts_of(hours, rules)
    possible = {one.id: one for one in bedfuls if starts.possible(one)}
    loaded = {one.printer: one.loaded for one in hours}
    quick = quick_slots(tuple(possible.values()), starts, 0, loaded)
    if quick is None or len(possible) < 2:  # noqa: PLR2004 - one has no order
        return None
    decoder = Decoder(possible, starts, 0, loaded)
    tables, by_spaces = tables_of(tuple(possible.values()), starts, 0, loaded), rules.order is Order.SPACES
    found = []
    for enough in (improve.ENOUGH, math.inf):
        with patch.object(improve, "ENOUGH", enough):
            order = improve.improved(tables, order_of(quick), puts=int(PUTS) // 3, strict=False, ready=by_spaces)
        found.append(decoder.worth(decoder.puts(order) or []))
    return found[0], found[1]


def main() -> None:
    """Draw stages and count."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--stages", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    counts = {"worse": 0, "as good": 0, "better": 0}

    @seed(options.seed)
    @settings(
        max_examples=options.stages, deadline=None, database=None, phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(some_hours("one"), some_hours("two"), some_rules(), st.booleans(), st.data())
    def stage(one: Hours, two: Hours, rules: Rules, both: bool, data: st.DataObject) -> None:  # noqa: FBT001
        hours = (one, two) if both else (one,)
        bedfuls = data.draw(some_bedfuls(tuple(some.printer for some in hours), most=MOST, stages=False))
        found = worths(bedfuls, hours, rules)
        if found is not None:
            short, long = (one.rank for one in found)
            counts["worse" if short > long else "better" if short < long else "as good"] += 1

    stage()
    print(", ".join(f"{count} {what}" for what, count in counts.items()))


if __name__ == "__main__":
    main()
