"""Faults of places: parts and things that meet, stick out, or stand where nothing may."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.springs import PROBE, free_travel
from nookwright.ground.tolerances import GRID

from .solids import box, carved, size_of
from .table import plain, sized

if TYPE_CHECKING:
    from manifold3d import Manifold

    from nookwright.exchange.kit import LotPlace

    from .harness import Sample

HALF_A_CELL = 9.0


@plain("part-on-cones", besides=("parts-collide", "part-not-engaged", "gap-too-small"))
def half_a_cell(sample: Sample) -> Sample:
    """A tray was moved by half a cell: its sockets are beside the cones."""
    return sample.moved("coin-cells", x=HALF_A_CELL)


@plain("parts-collide")
def sunk(sample: Sample) -> Sample:
    """A tray is sunk into the panel below it by 0.2 mm."""
    return sample.moved("coin-cells", z=-0.2)


@sized("part-outside", f"{GRID:g} mm past the clear height")
def stack_too_tall(sample: Sample, size: float) -> Sample:
    """A stack is too tall for its drawer."""
    _, (_, _, top) = sample.box_of("tokens, above erasers")
    return sample.lowered("low", float(top) - size * GRID)


@sized("part-outside", f"{GRID:g} mm past the right wall")
def past_the_wall(sample: Sample, size: float) -> Sample:
    """A drawer is narrower than its filler needs."""
    (space,) = (one for one in sample.kit.spaces if one.id == "drawer")
    far = max(high[0] for _, high in sample.in_space("drawer")) - size * GRID
    narrower = tuple(at.model_copy(update={"width": float(far)}) for at in space.usable)
    return sample.having("spaces", "drawer", usable=narrower)


@plain("part-in-blocked")
def against_the_lock(sample: Sample) -> Sample:
    """A pipe runs through a tray."""
    (x, y, z), _ = sample.box_of("coin-cells")
    return sample.blocking("drawer", (x - 5, y - 5, z - 5), (x + 5, y + 5, z + 60))


@plain("things-in-blocked", besides=("part-shut-in",))
def lock_in_the_coins(sample: Sample) -> Sample:
    """A bolt hangs down into a tray, onto the cards that stand in it."""
    low, high = sample.box_of("cards")
    middle = (low + high) / 2
    return sample.blocking("drawer", (*(middle[:2] - 3), high[2] + 1), (*(middle[:2] + 3), high[2] + 40))


@plain("things-outside", besides=("hits-on-travel",))
def too_tall_things(sample: Sample) -> Sample:
    """Cards stand higher than the drawer is."""
    return sample.keeping("cards", lambda place: {"size": (*place.size[:2], 96.0)})


@sized("things-outside-part", f"{GRID:g} mm past the outside of its tray")
def thing_beside(sample: Sample, size: float) -> Sample:
    """A box reaches out beyond the shoe that it stands on."""
    width, _, height = sample.part("shoe").size

    def wider(place: LotPlace) -> dict[str, object]:
        x, y, _ = place.at[0]
        return {"size": (2 * (width - x + size * GRID), *place.size[1:]), "at": ((x, y, height + 1),)}

    return sample.keeping("tea", wider)


@plain("things-in-part")
def things_in_floor(sample: Sample) -> Sample:
    """Coin cells lie 0.5 mm deep in the floor of their tray."""
    return sample.keeping("coin-cells", lambda place: {"at": tuple((x, y, z - 0.5) for x, y, z in place.at)})


@plain("things-collide")
def things_in_each_other(sample: Sample) -> Sample:
    """Two jars stand in one pocket."""
    return sample.keeping("jars", lambda place: {"at": (place.at[0], place.at[0])})


@plain("things-tip", besides=("blade-bare", "things-in-part"))
def beyond_the_rest(sample: Sample) -> Sample:
    """A knife lies so far back in its rest that its middle is beyond the last support."""
    return sample.keeping("knife", lambda place: {"at": tuple((x, y + 85, z) for x, y, z in place.at)})


@plain("blade-bare", besides=("place-otherwise",))
def guard_gone(sample: Sample) -> Sample:
    """The guard between the supports of a knife is left out: its edge is free."""
    guard = sample.placed("guard, knife").id
    return sample.keeping("knife", lambda place: {"held_by": tuple(set(place.held_by) - {guard})})


@sized("space-too-large", f"{GRID:g} mm wider than it was read")
def read_narrower(sample: Sample, size: float) -> Sample:
    """A drawer is reckoned wider than it was read."""
    (space,) = (one for one in sample.kit.spaces if one.id == "bay")
    return sample.surveyed("space", "bay", width=space.usable[0].width - size * GRID)


@sized("spring-blocked", "as far as its springs give way")
def spring_blocked(sample: Sample, size: float) -> Sample:
    """A sprung filler is to be pressed in further than its springs can go."""
    filler = next(one for one in sample.kit.placements if one.travel)
    shape, limit = sample.shape_of(filler.part), filler.travel
    while free_travel(shape, limit + PROBE) >= limit + PROBE:
        limit += PROBE
    return sample.having("placements", filler.id, travel=size * limit)


@plain("piece-outside-part", besides=("pieces-differ",))
def knob(sample: Sample) -> Sample:
    """One of the two pieces of a tray has a knob that the tray does not have."""
    first, _ = _halves(sample)
    return sample.cut_piece(first, lambda solid: solid + box((1, 33, 1), (4.5, 38, 12)))


@plain("joined-size", besides=("joined-hole",))
def too_short(sample: Sample) -> Sample:
    """One of the two pieces of a tray ends 1 mm early."""
    _, last = _halves(sample)
    return sample.cut_piece(last, lambda solid: solid.trim_by_plane((-1, 0, 0), 1 - size_of(solid)[0]))


@plain("joined-hole")
def hole(sample: Sample) -> Sample:
    """One of the two pieces of a tray has a hole in its floor."""
    first, _ = _halves(sample)
    return sample.cut_piece(first, lambda solid: solid - box((60, 20, -1), (64, 24, 6)))


@sized("joined-gap", "what glue fills and dovetails take at a joint")
def gap(sample: Sample, size: float) -> Sample:
    """At the joint of a tray in two pieces too much is missing."""
    first, _ = _halves(sample)
    part = next(one for one in sample.kit.parts if one.id == sample.placed("straws").part)
    at = part.joints[0].at
    _, _, _, lacking_mm3, allowed_mm3 = sample.joined(part)
    more_mm3 = size * allowed_mm3 - lacking_mm3

    def open_up(solid: Manifold) -> Manifold:
        return carved(solid, more_mm3, lambda share: box((at - 7 * share - 0.2, -1, 3.6), (at - 0.2, 99, 99)))

    return sample.cut_piece(first, open_up)


def _halves(sample: Sample) -> tuple[str, str]:
    """The ids of the two pieces of the tray with the straws."""
    first, last = sample.pieces_of(sample.placed("straws").part)
    return first.id, last.id
