"""What is wrong with the parts that a room file orders: by their keys alone, and once the module is known.

Every fault names its line, as those of the rest of the room file do.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from nookwright.ground.errors import Fault, RecipeError
from nookwright.parts.orders.orders import MAKERS, SHAPE_NAMES, keys, made_to_order
from nookwright.survey.load import read_toml

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from nookwright.module.module import Module
    from nookwright.survey.models import Order, Room
    from nookwright.survey.typed import Typed

_REFERENCE = "see docs/parts.md"


def order_faults(path: Path, room: Room, module: Module | None = None) -> tuple[Fault, ...]:
    """What is wrong with the orders of a room file, all at once.

    Args:
        path: the room file.
        room: what it holds.
        module: the household's module, once it is known: then sizes that cannot be made are faults too.
    """
    typed, faults = read_toml(path)
    if typed is None:
        return faults
    found = [fault for number, order in enumerate(room.part) for fault in _of(typed, number, order, room, module)]
    return tuple(sorted(found))


def _of(typed: Typed, number: int, order: Order, room: Room, module: Module | None) -> Iterator[Fault]:
    if order.kind not in MAKERS:
        yield typed.fault(
            ("part", number, "kind"), allowed=", ".join(MAKERS), remedy=f"Choose one of them; {_REFERENCE}."
        )
        return
    try:
        keys(order, room.room.units)
    except ValidationError as error:
        for one in error.errors():
            steps = tuple(step for step in one["loc"] if step not in SHAPE_NAMES)
            allowed, remedy = _said(one)
            yield typed.fault(("part", number, "keys", *steps), allowed=allowed, remedy=remedy)
        return
    if module is None:
        return
    try:
        made_to_order(order, module, room.room.units)
    except RecipeError as error:
        yield typed.fault(("part", number, "keys"), allowed=str(error).rstrip("."), remedy="Change its sizes.")


def _said(one: Any) -> tuple[str, str]:  # noqa: ANN401 - what the validation library says of one error
    """What is allowed and what to do, in our words."""
    context = one.get("ctx", {})
    match one["type"]:
        case "missing":
            return "a value", f"Add `{one['loc'][-1]}`; {_REFERENCE}."
        case "extra_forbidden":
            return "only keys of this kind of part", f"Delete it; {_REFERENCE}."
        case "enum" | "literal_error":
            return str(context.get("expected", one["msg"])), "Choose one of them."
        case "union_tag_invalid" | "union_tag_not_found":
            return f"a shape among {', '.join(SHAPE_NAMES)}", "Say which shape it is with the key `shape`."
    return one["msg"][:1].lower() + one["msg"][1:], f"Correct it; {_REFERENCE}."
