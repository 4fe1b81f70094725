"""Whether service and ventilation paths are free: of parts, of things, and of a drawer that is drawn out.

The boxes are those of the room file, not those that the kit reckons with, which are larger: what the layout gained by
shrinking or forgetting one is found. A path that is fixed to the building stays where it is while its drawer comes out,
so in the drawer it goes to the back: what stands behind it would be hit.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.assembly import bodies_by_space
from nookwright.checks.bodies import Body, Sort, box_shape
from nookwright.checks.in_words import OURS, called, names, the, volume
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.tolerances import GRID, SHARED_VOLUME_MM3
from nookwright.survey.models import SpaceKind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats
    from nookwright.checks.shared import Overlaps
    from nookwright.exchange.kit import Kit, KitSpace, Size
    from nookwright.survey.models import Blocked, Room, Space

_ASK = (
    "Say stays = true in its table [[space.blocked]] if it is fixed to the building, as a pipe is: then nothing is put "
    "behind it. Say stays = false if it moves with the drawer."
)


@dataclass(frozen=True)
class Path:
    """A service path in the axes of its space.

    Attributes:
        box: of the room file.
        low, high: its corners, above the mat.
        behind: the corner opposite ``low`` when its drawer is drawn out; the same as ``high`` where nothing moves.
    """

    box: Blocked
    low: Size
    high: Size
    behind: Size


def check_kept_free(kit: Kit, room: Room, shapes: Mapping[str, Shape], overlaps: Overlaps) -> Iterator[Finding]:
    """Findings about paths that something stands in, or that the kit does not know.

    Args:
        kit: the kit, its references sound.
        room: says what is to be kept free.
        shapes: sound meshes by file.
        overlaps: measures shared volumes.
    """
    surveyed = {space.id: space for space in room.space}
    labels = {one.id: called(one) for one in kit.placements}
    bodies = bodies_by_space(kit, shapes) if any(_to_keep(space) for space in room.space) else {}
    for space in kit.spaces:
        read = surveyed[space.id]
        if read.kept_free and bodies.get(space.id):
            those = sorted({labels.get(body.owner, body.owner) for body in bodies[space.id]})
            text = f"All of it is a service or ventilation path, and in it {_stand(those)}."
            yield Finding("service-filled", Severity.STOP, space.id, text, OURS, Against(len(those), 0, "1"))
        for path in paths_of(read, space):
            if not any(_covers(low, high, path) for low, high in _known(space)):
                what = the(path.box.reason, first=True)
                text = f"{what} is a service path, and kit.json does not keep all of it free."
                yield Finding("service-forgotten", Severity.STOP, space.id, text, OURS)
            yield from _filled(path, bodies.get(space.id, ()), overlaps)
            yield from _passed(path, bodies.get(space.id, ()), overlaps, labels)


def _to_keep(space: Space) -> bool:
    """Whether something in a space is to be kept free."""
    return space.kept_free or any(box.service for box in space.blocked)


def paths_of(read: Space, space: KitSpace) -> Iterator[Path]:
    """The service paths of a space, as they were read.

    Args:
        read: as surveyed.
        space: of the kit, for its clear height and depth.
    """
    travel = 0.0
    if read.kind is SpaceKind.DRAWER:
        travel = read.depth.largest if read.pulls_out is None else read.pulls_out
    for box in read.blocked:
        if box.service:
            top = space.height if box.height is None else box.z + box.height - read.mat
            low = (box.x, box.y, max(0.0, box.z - read.mat))
            high = (box.x + box.width, box.y + box.depth, top)
            if top > low[2]:
                yield Path(box, low, high, (high[0], high[1] + travel, high[2]))


def _known(space: KitSpace) -> Iterator[tuple[Floats, Floats]]:
    """Corners of the service paths that a kit knows."""
    yield from ((np.array(box.low), np.array(box.high)) for box in space.blocked if box.service)


def _covers(low: Floats, high: Floats, path: Path) -> bool:
    """Whether a box holds all of a path up to the height that it is known for."""
    return bool((low <= np.array(path.low) + GRID).all() and (high >= np.array(path.high) - GRID).all())


def _filled(path: Path, bodies: Sequence[Body], overlaps: Overlaps) -> Iterator[Finding]:
    """What stands in a path."""
    for owner, shared in _sharing(path.low, path.high, bodies, overlaps):
        what = the(path.box.reason)
        text = f"It reaches into {what}, a service path that is kept free for good, with {volume(shared)}."
        yield Finding(
            "service-filled", Severity.STOP, owner, text, OURS, Against(shared, float(SHARED_VOLUME_MM3), "mm3")
        )


def _stand(those: Sequence[str]) -> str:
    """What stands, in words."""
    return f"{'stands' if len(those) == 1 else 'stand'} {names(those)}"


def _passed(path: Path, bodies: Sequence[Body], overlaps: Overlaps, labels: Mapping[str, str]) -> Iterator[Finding]:
    """What a path goes through when its drawer is drawn out: once a path, by the worst."""
    if path.behind == path.high or path.box.stays is False:
        return
    start = (path.low[0], path.high[1], path.low[2])
    hit = sorted(_sharing(start, path.behind, bodies, overlaps), key=lambda found: (-found[1], found[0]))
    if hit:
        owner, shared = hit[0]
        those = names([labels.get(name, name) for name, _ in hit])
        text = f"Drawn out, the drawer passes {the(path.box.reason)}, which would hit what is behind it: {those}."
        severity, remedy = (Severity.STOP, OURS) if path.box.stays else (Severity.WARN, _ASK)
        against = Against(shared, float(SHARED_VOLUME_MM3), "mm3")
        yield Finding("service-passed", severity, owner, text, remedy, against)


def _sharing(low: Size, high: Size, bodies: Sequence[Body], overlaps: Overlaps) -> list[tuple[str, float]]:
    """What shares room with a box, and how much, mm3."""
    box = Body("path", Sort.BLOCKED, box_shape(low, high), np.eye(4))
    least, most = np.array(low), np.array(high)
    found: dict[str, float] = {}
    for body in bodies:
        if (body.box[0] < most).all() and (body.box[1] > least).all():
            shared = overlaps.shared_mm3(body, box)
            if shared > SHARED_VOLUME_MM3:
                found[body.owner] = found.get(body.owner, 0.0) + shared
    return sorted(found.items())
