"""docs/parts.md: the kinds of part that can be made to order, and the keys of each.

::

    python -m nookwright.parts.orders.order_reference docs/parts.md
"""

from __future__ import annotations

import dataclasses
import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from nookwright.parts.orders.order_models import CELL_KEYS, NOT_LENGTHS, shape_name
from nookwright.parts.orders.orders import MAKERS, keys_of
from nookwright.parts.racks.screws import HOLE, Head, screw_of

if TYPE_CHECKING:
    from collections.abc import Iterator

HEAD = """# Parts to order

Any part of the family can be ordered in the room file; it is printed with the kit, and you put it where you like::

```toml
[[part]]
id = "glove-box"
kind = "sliding-tray"
count = 2
keys = { outer_width = 110, outer_depth = 220, height = 66 }
```

`outer_width`, `outer_depth` and `outer_length` are rounded up to the next size that the module has. A pocket or a slot
says with `shape` which one it is. Lengths may be typed as everywhere in the file. Sizes that cannot be made are refused
with the reason, all at once, before anything is written. Say with `space` where a part goes: how warm it gets there
counts for its material.
"""


USUAL = {
    "outer_width": "Outer size along x; the part gets the next size up.",
    "outer_depth": "Outer size along y; the part gets the next size up.",
    "outer_length": "Length; the part gets the next size up.",
    "height": "Outer height.",
    "smooth": "A flat floor above the sockets instead of a thin one with domes.",
    "rises": "Height in steps of the module.",
    "first_has_cone": "Whether the chessboard of cones on top begins with one at the front left.",
}


def reference() -> str:
    """The text of the page."""
    lines = [HEAD, "## Kinds\n", "| kind | what it is |", "|---|---|"]
    lines += [f"| [`{kind}`](#{kind}) | {maker.what} |" for kind, maker in MAKERS.items()]
    shared: dict[str, type] = {}
    for kind in MAKERS:
        model = keys_of(kind)
        lines += ["", f"## {kind}", "", *_table(model, shared)]
    done: set[str] = set()
    while left := sorted(shared.keys() - done):
        done.add(left[0])
        lines += ["", f"## {left[0]}", "", *_table(shared[left[0]], shared)]
    return "\n".join([*lines, "", *_screws()]) + "\n"


def _screws() -> Iterator[str]:
    """The screws that racks are made for."""
    yield "## Screws of racks\n"
    yield "A rack says in its parameters how many it takes; you choose their length by what shall hold them.\n"
    yield "| `thread` | `head` | screw | hole, mm | head, mm |"
    yield "|---|---|---|---|---|"
    for thread in HOLE:
        for head in Head:
            one = screw_of(thread, head)
            yield f'| `{thread}` | "{head}" | {one.name} | {one.hole:g} | {one.head_diameter:g} |'


def _table(model: Any, shared: dict[str, type]) -> Iterator[str]:  # noqa: ANN401 - a model made at run time
    meanings = _meanings(model.spec_class)
    yield "| key | what it may be | default | meaning |"
    yield "|---|---|---|---|"
    defaults = {CELL_KEYS.get(field.name, field.name): field for field in dataclasses.fields(model.spec_class)}
    for key, field in model.model_fields.items():
        default = "must be given" if field.is_required() else _default(defaults[key])
        words = " or ".join(_words(key, field.annotation, shared))
        yield f"| `{key}` | {words} | {default} | {_sentence(meanings.get(key) or USUAL.get(key, ''))} |"


def _default(field: dataclasses.Field[Any]) -> str:
    value = field.default
    if value in (None, (), dataclasses.MISSING) or dataclasses.is_dataclass(value):
        return "left out"
    if field.name in CELL_KEYS:
        return f"{value} cells"
    if isinstance(value, bool):
        return "`true`" if value else "`false`"
    return f"`{value:g}`" if isinstance(value, float) else f"`{value}`" if value != "" else "empty"


def _words(key: str, hint: Any, shared: dict[str, type]) -> Iterator[str]:  # noqa: ANN401 - types
    """What a value may be, in words; records are collected."""
    spec = getattr(hint, "spec_class", None)
    if spec is not None:
        name = shape_name(spec)
        shared.setdefault(name, hint)
        yield f"[{name}](#{name})"
    elif hint in (int, bool, str, float):
        yield {
            int: "a whole number",
            bool: "true or false",
            str: "a text",
            float: "a number" if key.endswith(NOT_LENGTHS) else "a length",
        }[hint]
    elif hasattr(hint, "__members__"):
        yield "one of " + ", ".join(f'"{item.value}"' for item in hint)
    elif getattr(hint, "__args__", ()):
        inner = [word for one in hint.__args__ if one not in (..., type(None)) for word in _words(key, one, shared)]
        many = getattr(hint, "__origin__", None) is tuple and ... in hint.__args__
        yield ("a list, each " if many else "") + " or ".join(dict.fromkeys(inner))
    else:
        yield f'"{shape_name(hint)}"' if isinstance(hint, type) else str(hint).strip("'\"")


def _meanings(spec: type) -> dict[str, str]:
    """What the docstring says of each attribute; a line may name several."""
    found: dict[str, str] = {}
    for names, text in re.findall(
        r"^ {8}(\w+(?:, \w+)*): (.+?)(?=^ {8}\w+(?:, \w+)*: |\Z)", _attributes(spec), re.MULTILINE | re.DOTALL
    ):
        for name in names.split(", "):
            if name not in CELL_KEYS:
                found[name] = " ".join(text.split())
    return found


def _sentence(text: str) -> str:
    """A text with a capital."""
    return text[:1].upper() + text[1:]


def _attributes(spec: type) -> str:
    return (spec.__doc__ or "").partition("Attributes:\n")[2].rstrip() + "\n"


def main() -> None:
    """Write the page to the path that is named."""
    Path(sys.argv[1]).write_text(reference(), encoding="utf-8")


if __name__ == "__main__":
    main()
