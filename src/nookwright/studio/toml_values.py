"""Values as TOML 1.0 writes them, on one line."""

from __future__ import annotations

import json
import math
import re
from typing import Final

Value = bool | int | float | str | list["Value"] | dict[str, "Value"]

_BARE: Final = re.compile(r"[A-Za-z0-9_-]+")


def typed(value: Value) -> str:
    r"""A value as it stands right of the equals sign.

    Raises:
        ValueError: a number beyond all measure, or a half of a pair of surrogates.

    >>> typed({"floor": [362, 361.5], "by": "tape\n"})
    '{ floor = [362, 361.5], by = "tape\\n" }'
    """
    match value:
        case bool():
            return "true" if value else "false"
        case int():
            return str(value)
        case float():
            if not math.isfinite(value):
                raise ValueError("not a number that can be measured")
            return repr(value)
        case str():
            value.encode()
            return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007F")
        case list():
            return f"[{', '.join(typed(item) for item in value)}]"
        case dict():
            inside = ", ".join(f"{key(name)} = {typed(item)}" for name, item in value.items())
            return f"{{ {inside} }}" if inside else "{}"


def key(name: str) -> str:
    """A key as it stands left of the equals sign: bare where it may be.

    >>> key("lot"), key("a b")
    ('lot', '"a b"')
    """
    return name if _BARE.fullmatch(name) else typed(name)
