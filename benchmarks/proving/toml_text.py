"""Tables as the text of a TOML file: the little that invented rooms need."""

from __future__ import annotations

import json
from typing import Any


def toml_text(tables: dict[str, Any]) -> str:
    """A file of plain values, tables and lists of tables, one level deep; what lies deeper is written inline.

    >>> print(toml_text({"format": 1, "space": [{"id": "a", "width": [1, 2.5], "lean": {"left": 1}}]}))
    format = 1
    <BLANKLINE>
    [[space]]
    id = "a"
    width = [1, 2.5]
    lean = { left = 1 }
    <BLANKLINE>
    """
    plain = [f"{key} = {_value(value)}" for key, value in tables.items() if not _is_table(value)]
    blocks = ["\n".join(plain)]
    for key, value in tables.items():
        if isinstance(value, dict):
            blocks.append(_block(f"[{key}]", value))
        elif _is_table(value):
            blocks += [_block(f"[[{key}]]", one) for one in value]
    return "\n\n".join(blocks) + "\n"


def _is_table(value: object) -> bool:
    return isinstance(value, dict) or (isinstance(value, list) and bool(value) and isinstance(value[0], dict))


def _block(head: str, table: dict[str, Any]) -> str:
    return "\n".join([head, *(f"{key} = {_value(value)}" for key, value in table.items())])


def _value(value: Any) -> str:  # noqa: ANN401 - whatever a file may hold
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_value(one)}" for key, one in value.items()) + " }" if value else "{}"
    if isinstance(value, list):
        return "[" + ", ".join(_value(one) for one in value) + "]"
    return json.dumps(value, ensure_ascii=False)
