"""Faults of seats, lids and pockets: what does not go on, does not hold, or holds something else."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from manifold3d import Manifold, OpType

from nookwright.checks.bodies import matrix_of
from nookwright.checks.room_fit.resting import LIES as HANGS
from nookwright.checks.seats.drawn import SAME_SIZE
from nookwright.checks.seats.lids import GOES_IN, LIES_ON, deck_gap, sliding_gap
from nookwright.checks.seats.members import members_of
from nookwright.checks.seats.pockets import EXACT as EXACT_POCKET
from nookwright.checks.seats.pockets import SLACK
from nookwright.checks.seats.resting import LIES
from nookwright.checks.seats.sockets import EXACT as EXACT_SEAT
from nookwright.checks.seats.tolerances import of_one_print, of_two_prints
from nookwright.checks.verdicts import Verdicts
from nookwright.ground.findings import Severity
from nookwright.module.dispensers import BOW_SHARE
from nookwright.module.seat import LEAD_IN, LEAD_IN_HEIGHT, seat_of, socket_clearance
from nookwright.sizing.fits.judgement import SLIDES_AT
from nookwright.sizing.printers.household import household_of

from .solids import box, post, ring, size_of
from .table import plain, sized

if TYPE_CHECKING:
    from collections.abc import Callable

    from .harness import Sample

PITCH = 18.0
SEAT = seat_of(0.2)
DRAW = (SEAT.cone_base - SEAT.cone_top) / SEAT.cone_height  # of cones and sockets, for each mm of height
STUB = 0.02  # mm, left of what is taken off, so that no face lies on another one
FIRST_CONE = (8.8, 8.8)  # of the panel of the small drawer, whose edges are set back by 0.2
FIRST_SOCKET = (8.7, 8.7)  # of any part: half a cell less half of what parts are smaller


def _cone(x: float, y: float, *, base: float, top: float, height: float) -> Manifold:
    """A cone on a panel, its root in the panel."""
    return Manifold.cylinder(height, base, top, 96).translate((x, y, SEAT.panel)) + post(
        x, y, 0.2, SEAT.panel, diameter=2 * base, sides=96
    )


def _with_cone(sample: Sample, cone: Manifold | None) -> Sample:
    """The first cone of the small drawer's panel taken off, and another one put there, if any."""
    x, y = FIRST_CONE
    off = box((x - 5, y - 5, SEAT.panel + STUB), (x + 5, y + 5, SEAT.panel + 9))
    part = sample.part("panel", "108x90").id
    return sample.cut(part, lambda solid: solid - off + cone if cone is not None else solid - off)


@plain("cone-missing")
def cone_missing(sample: Sample) -> Sample:
    """A cone is missing."""
    return _with_cone(sample, None)


@sized("cone-shifted", f"{EXACT_SEAT:g} mm")
def cone_shifted(sample: Sample, size: float) -> Sample:
    """A cone stands beside the middle of its cell."""
    x, y = FIRST_CONE
    sizes = {"base": SEAT.cone_base, "top": SEAT.cone_top, "height": SEAT.cone_height}
    return _with_cone(sample, _cone(x + size * EXACT_SEAT, y, **sizes))


@sized("cone-height", f"{EXACT_SEAT:g} mm")
def cone_low(sample: Sample, size: float) -> Sample:
    """A cone is too low."""
    lower = SEAT.cone_height - size * EXACT_SEAT
    top = SEAT.cone_base - (SEAT.cone_base - SEAT.cone_top) * lower / SEAT.cone_height
    return _with_cone(sample, _cone(*FIRST_CONE, base=SEAT.cone_base, top=top, height=lower))


@sized("cone-width", f"{EXACT_SEAT:g} mm in radius")
def cone_thin(sample: Sample, size: float) -> Sample:
    """A cone is too thin."""
    less = size * EXACT_SEAT
    return _with_cone(
        sample, _cone(*FIRST_CONE, base=SEAT.cone_base - less, top=SEAT.cone_top - less, height=SEAT.cone_height)
    )


@plain("cone-slope")
def cone_upright(sample: Sample) -> Sample:
    """A cone is a peg: it does not draw in."""
    return _with_cone(
        sample, _cone(*FIRST_CONE, base=SEAT.cone_base, top=SEAT.cone_base - 0.3, height=SEAT.cone_height)
    )


def _tray_cut(sample: Sample, change: Callable[[Manifold], Manifold]) -> Sample:
    return sample.cut(sample.placed("coin-cells").part, change)


def _socket_radius() -> float:
    """Radius of the coin tray's sockets at the underside: each is half a cell's diagonal from the middle."""
    return SEAT.cone_base + socket_clearance(PITCH / 2 * 2**0.5)


@plain("socket-missing", besides=("part-on-cones", "parts-collide"))
def socket_filled(sample: Sample) -> Sample:
    """A socket is filled: the tray stands on a cone."""
    return _tray_cut(sample, lambda solid: solid + _filled(0.05))


@sized("socket-shallow", f"{EXACT_SEAT:g} mm")
def socket_shallow(sample: Sample, size: float) -> Sample:
    """A socket is not deep enough."""
    bottom = SEAT.socket_depth - size * EXACT_SEAT
    return _tray_cut(sample, lambda solid: solid + post(*FIRST_SOCKET, bottom, SEAT.socket_depth + 0.2, diameter=6))


@sized("socket-wide", f"{EXACT_SEAT:g} mm a side")
def socket_wide(sample: Sample, size: float) -> Sample:
    """A socket is too wide."""
    return _tray_cut(sample, lambda solid: solid - _hole(size * EXACT_SEAT))


@sized("socket-tight", f"{EXACT_SEAT:g} mm a side")
def socket_tight(sample: Sample, size: float) -> Sample:
    """A socket is too tight."""
    return _tray_cut(sample, lambda solid: solid + _filled(0.05) - _hole(-size * EXACT_SEAT))


@plain("socket-lead-in")
def no_lead_in(sample: Sample) -> Sample:
    """A socket has no lead-in: a spread first layer closes it."""
    return _tray_cut(sample, lambda solid: solid + _filled(0.05) - _bore(_socket_radius(), DRAW))


@plain("socket-slope")
def steep_socket(sample: Sample) -> Sample:
    """A socket draws in less than its cone."""
    return _tray_cut(sample, lambda solid: solid + _filled(0.05) - _bore(_socket_radius(), 0.7 * DRAW) - _mouth())


def _filled(bottom: float) -> Manifold:
    """What fills a socket of the coin tray from some height on."""
    return post(*FIRST_SOCKET, bottom, SEAT.socket_depth + 0.1, diameter=9)


def _hole(more: float, x: float = FIRST_SOCKET[0]) -> Manifold:
    """A socket of the coin tray with its lead-in, wider by some on each side."""
    moved = (x - FIRST_SOCKET[0], 0, 0)
    return (_bore(_socket_radius() + more, DRAW) + _mouth(more)).translate(moved)


def _bore(radius: float, draw: float) -> Manifold:
    """A socket without its lead-in."""
    top = radius - draw * SEAT.socket_depth
    return Manifold.cylinder(SEAT.socket_depth, radius, top, 96).translate((*FIRST_SOCKET, 0))


def _mouth(more: float = 0.0) -> Manifold:
    """Its lead-in."""
    radius = _socket_radius() + more
    mouth = Manifold.cylinder(LEAD_IN_HEIGHT, radius + LEAD_IN, radius - DRAW * LEAD_IN_HEIGHT, 96)
    return mouth.translate((*FIRST_SOCKET, 0))


@sized("socket-shifted", f"{EXACT_SEAT:g} mm")
def socket_shifted(sample: Sample, size: float) -> Sample:
    """A socket is beside the middle of its cell."""
    x, _ = FIRST_SOCKET
    return _tray_cut(sample, lambda solid: solid + _filled(0.05) - _hole(0, x + size * EXACT_SEAT))


@sized("seat-size", f"{SAME_SIZE:g} mm", besides=("socket-shifted",))
def too_wide(sample: Sample, size: float) -> Sample:
    """A tray is wider than its cells: its equals would not stand where it does."""
    part = sample.part("tray", "35x35")
    width, depth, height = part.size
    sheet = box((3, depth - 1, 0), (width - 3, depth + size * SAME_SIZE, height - 5))  # on its bed there is room there
    return sample.cut(part.id, lambda solid: solid + sheet)


@plain("part-not-engaged", besides=("cone-missing",))
def no_cone_below(sample: Sample) -> Sample:
    """All cones below a tray are missing."""
    low, high = sample.box_of("coin-cells")
    panel = sample.placed("liner panel")
    at = matrix_of(panel.space_from_part)[:3, 3]
    off = box((*(low - at)[:2], SEAT.panel + STUB), (*(high - at)[:2], 9))
    return sample.cut(panel.part, lambda solid: solid - off)


@plain("seat-bowed", severity=Severity.NOTE)
def bowed(sample: Sample) -> Sample:
    """The floor of a drawer sags by half a millimetre."""
    return sample.having("spaces", "drawer", bow=0.5)


@plain("pocket-tight")
def pocket_small(sample: Sample) -> Sample:
    """A pocket is 0.4 mm too small."""
    part = sample.part("cradle", "71x53")
    x, y = (float(part.parameters[key][0]) for key in ("pockets_x", "pockets_y"))  # type: ignore[index, arg-type]
    drawn = float(part.parameters["pocket"])  # type: ignore[arg-type]
    sleeve = ring(x, y, 4.1, part.size[2] - STUB, outer=drawn + 0.7, inner=drawn - 0.4)
    return sample.cut(part.id, lambda solid: solid + sleeve)


@sized("pocket-loose", f"{EXACT_POCKET:g} mm")
def pocket_wide(sample: Sample, size: float) -> Sample:
    """All pockets of a cradle are wider than they were drawn."""
    part = sample.part("cradle", "71x53")
    drawn = float(part.parameters["pocket"]) + size * EXACT_POCKET  # type: ignore[arg-type]
    (lot,) = (one for one in sample.kit.lots if one.id == "spice")
    bores = [post(x, y, z, part.size[2] + 1, diameter=drawn, sides=128) for x, y, z in lot.places[0].at]
    return sample.cut(part.id, lambda solid: solid - Manifold.batch_boolean(bores, OpType.Add))


@sized("pocket-loose", f"{EXACT_POCKET:g} mm")
def one_pocket_wide(sample: Sample, size: float) -> Sample:
    """One of the four pockets of a cradle is wider than it was drawn."""
    part = sample.part("cradle", "71x53")
    drawn = float(part.parameters["pocket"]) + size * EXACT_POCKET  # type: ignore[arg-type]
    (lot,) = (one for one in sample.kit.lots if one.id == "spice")
    x, y, z = lot.places[0].at[-1]
    bore = post(x, y, z, part.size[2] + 1, diameter=drawn, sides=128)
    return sample.cut(part.id, lambda solid: solid - bore)


@sized("pocket-loose", f"{SLACK:g} mm of room", severity=Severity.WARN)
def box_small(sample: Sample, size: float) -> Sample:
    """A box is so much smaller than its shoe that it moves about."""
    width = 70.0 + _room_in_shoe(sample) - size * SLACK
    smaller = sample.surveyed("box", "tin", width=width)
    return smaller.keeping("tea", lambda place: {"size": (width, *place.size[1:])})


@sized("part-raised", f"{LIES:g} mm")
def tray_raised(sample: Sample, size: float) -> Sample:
    """A tray hangs above its panel."""
    return sample.moved("coin-cells", z=size * LIES)


@sized("part-raised", f"{LIES:g} mm")
def panel_raised(sample: Sample, size: float) -> Sample:
    """A panel with all that stands on it hangs above the floor of its drawer."""
    return sample.moved(sample.part("panel", "108x90").id, z=size * LIES)


@sized("insert-hangs", f"{HANGS:g} mm")
def lid_raised(sample: Sample, size: float) -> Sample:
    """A sliding lid hangs above the ledges of its rails."""
    return sample.moved("sliding lid, napkins", z=size * HANGS)


@sized("pocket-tight", f"{SLIDES_AT:g} mm that must be left")
def shoe_tight(sample: Sample, size: float) -> Sample:
    """A box hardly goes onto its shoe."""
    shoe = sample.part("shoe")
    wall = _room_in_shoe(sample)
    errors = of_one_print(household_of(sample.room).envelope, 70.0, round_hole=False)
    thicker = (wall - errors.tight - SLIDES_AT / size) / 2
    x, y = shoe.size[0] / 2, shoe.size[1] / 2
    left = box((x - 35 - wall / 2 - 1, y - 12, 4), (x - 35 - wall / 2 + thicker, y + 12, shoe.size[2]))
    right = box((x + 35 + wall / 2 - thicker, y - 12, 4), (x + 35 + wall / 2 + 1, y + 12, shoe.size[2]))
    return sample.cut(shoe.id, lambda solid: solid + left + right)


def _room_in_shoe(sample: Sample) -> float:
    """Room of the tin in its shoe along x, both sides together, mm."""
    shoe = sample.part("shoe")
    section = sample.solid(shoe.id).slice(12.0)
    inner = max((loop[:, 0] for loop in section.to_polygons()), key=lambda x: -np.ptp(x) if np.ptp(x) > 60 else -999)
    return float(np.ptp(inner)) - 70.0


@sized("lid-tight", f"{GOES_IN:g} mm that must be left")
def rail_tight(sample: Sample, size: float) -> Sample:
    """A sliding lid has too little room in its rails."""
    lid, tray = sample.placed("sliding lid, napkins"), sample.placed("napkins")
    members = members_of(sample.kit, sample.shapes | sample.piece_shapes, Verdicts(None))
    between = np.linalg.inv(matrix_of(tray.space_from_part)) @ matrix_of(lid.space_from_part)
    gap = sliding_gap(members[lid.part], members[tray.part], between)
    edges = of_two_prints(household_of(sample.room).envelope, gap.size)
    left = gap.gap - edges.tight - float(BOW_SHARE) * members[tray.part].part.size[1]
    by = left - GOES_IN / size
    nearer = sample.surveyed("printer", "small", spacing=2.0)  # the wider lid may lie a little nearer to the next piece
    wider = nearer.cut(lid.part, lambda solid: solid.scale((1 + by / gap.size, 1, 1)))
    return wider.moved_alone(lid.id, *(matrix_of(lid.space_from_part)[:3, 0] * -by / 2).tolist())


@sized("lid-loose", f"{LIES_ON:g} mm of its ledge")
def lid_narrow(sample: Sample, size: float) -> Sample:
    """A deck lid that is pushed aside hardly lies on its ledge any more."""
    lid, tray = sample.placed("deck lid, erasers"), sample.placed("erasers")
    members = members_of(sample.kit, sample.shapes | sample.piece_shapes, Verdicts(None))
    between = np.linalg.inv(matrix_of(tray.space_from_part)) @ matrix_of(lid.space_from_part)
    gap = deck_gap(members[lid.part], members[tray.part], between, 0)
    edges = of_two_prints(household_of(sample.room).envelope, gap.size)
    less = (gap.kept(edges.loose) - LIES_ON / size) / 2  # on each side: its gaps grow as its hold shrinks

    def narrower(solid: Manifold) -> Manifold:
        trimmed = solid.trim_by_plane((1, 0, 0), less)
        return trimmed.trim_by_plane((-1, 0, 0), less - size_of(solid)[0]).translate((-less, 0, 0))

    return sample.cut(lid.part, narrower).moved_alone(lid.id, *(matrix_of(lid.space_from_part)[:3, 0] * less).tolist())
