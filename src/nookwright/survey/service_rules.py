"""Service paths that contradict themselves: what stays behind where nothing moves, places in what is kept free.

The checks read the file as typed, so that they still run where other parts of it are broken.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.survey.typed import listed, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.ground.errors import Fault
    from nookwright.survey.typed import Typed


def service_contradictions(typed: Typed) -> Iterator[Fault]:
    """Every fault of service paths."""
    free = {space.get("id") for _, space in typed.tables("space") if space.get("kept_free") is True}
    for path, space in typed.tables("space"):
        boxes = space.get("blocked")
        for index, box in enumerate(boxes if isinstance(boxes, list) else ()):
            if isinstance(box, dict) and "stays" in box and space.get("kind") != "drawer":
                yield typed.fault(
                    (*path, "blocked", index, "stays"),
                    allowed="only in drawers, which pass what is fixed to the building",
                    remedy="Delete `stays`: nothing moves in this space.",
                )
    for path, place in typed.tables("place"):
        if place.get("space") in free:
            yield typed.fault(
                (*path, "space"),
                allowed="a space that is not kept free",
                remedy="Choose another space, or delete `kept_free` if it is no service path.",
            )
    yield from _homes(typed, free)


def _homes(typed: Typed, free: set[object]) -> Iterator[Fault]:
    """Groups that may go nowhere but into what is kept free."""
    homes = typed.at(("choices", "homes"))
    for group, names in homes.items() if isinstance(homes, dict) else ():
        if isinstance(names, list) and names and all(name in free for name in names):
            others = [name for name in typed.ids("space") if name not in free]
            yield typed.fault(
                ("choices", "homes", group),
                found=", ".join(show(name) for name in names),
                allowed=f"a space that is not kept free: {listed(show(name) for name in others)}",
                remedy="Add another space, or delete `kept_free` if it is no service path.",
            )
