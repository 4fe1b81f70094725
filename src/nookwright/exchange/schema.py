"""The JSON Schema of kit.json and its reference for people, both made from the models.

``python -m nookwright.exchange.schema docs`` writes ``kit.schema.json`` and ``kit.md`` anew into the folder ``docs``.
"""

from __future__ import annotations

import inspect
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from nookwright.exchange import kit as models
from nookwright.exchange.kit import Kit

if TYPE_CHECKING:
    from collections.abc import Iterator

Node = dict[str, Any]

_DIALECT = "https://json-schema.org/draft/2020-12/schema"
_KINDS = {
    "null": "nothing",
    "number": "number",
    "integer": "whole number",
    "string": "text",
    "boolean": "true or false",
}
_HEAD = """\
# kit.json

<!-- Made by nookwright.exchange.schema; not edited by hand. -->
"""


def kit_schema() -> Node:
    """The JSON Schema (draft 2020-12) of kit.json, as it is written: no key is ever left out."""
    schema = {"$schema": _DIALECT, **Kit.model_json_schema(mode="serialization"), "title": "kit.json of nookwright"}
    for model in (schema, *schema["$defs"].values()):
        if "properties" in model:
            model["required"] = list(model["properties"])
    return schema


def schema_text() -> str:
    """The schema as it stands in the docs."""
    return json.dumps(kit_schema(), indent=2) + "\n"


def reference_text() -> str:
    """The reference as Markdown: one table for each model, in the order in which they are first used."""
    schema = kit_schema()
    about = inspect.getdoc(models) or ""
    tables = [line for name in ("Kit", *_in_order(schema)) for line in _table(schema, name)]
    return "\n".join((_HEAD, about, "", "A matrix is four rows of four numbers, a size three numbers.", *tables, ""))


def _in_order(schema: Node) -> list[str]:
    """Names of all models below the kit, each where it is first used."""
    names: list[str] = []
    waiting = [schema]
    while waiting:
        used = [name for name in _references(waiting.pop(0)) if name not in names]
        names += list(dict.fromkeys(used))
        waiting += [schema["$defs"][name] for name in dict.fromkeys(used)]
    return [name for name in names if "properties" in schema["$defs"][name]]


def _references(node: object) -> Iterator[str]:
    """Names of the models that a node refers to, those of its inner models aside."""
    if isinstance(node, dict):
        if "$ref" in node:
            yield str(node["$ref"]).rpartition("/")[2]
        for key, value in node.items():
            if key != "$defs":
                yield from _references(value)
    elif isinstance(node, list):
        for value in node:
            yield from _references(value)


def _table(schema: Node, name: str) -> Iterator[str]:
    """The lines of one model's table."""
    node = schema if name == "Kit" else schema["$defs"][name]
    yield from ("", f"## {name}", "", str(node["description"]), "", "| key | holds | meaning |", "|---|---|---|")
    for key, value in node["properties"].items():
        yield f"| `{key}` | {_in_words(value, schema)} | {value.get('description', '')} |"


def _in_words(node: Node, schema: Node) -> str:
    """What a value holds."""
    if "$ref" in node:
        name = str(node["$ref"]).rpartition("/")[2]
        target = schema["$defs"][name]
        return f"[{name}](#{name.lower()})" if "properties" in target else _in_words(target, schema)
    if "anyOf" in node:
        return " or ".join(dict.fromkeys(_in_words(way, schema) for way in node["anyOf"]))
    if "const" in node or "enum" in node:
        return " or ".join(f"`{value}`" if value else "empty" for value in node.get("enum", [node.get("const")]))
    if node.get("type") == "object":
        return f"table of {_in_words(node['additionalProperties'], schema)}"
    return _list_in_words(node, schema) if node.get("type") == "array" else _simple_words(node)


def _simple_words(node: Node) -> str:
    """What a number or a text holds."""
    return "sha256" if "pattern" in node else _KINDS[node["type"]]


def _list_in_words(node: Node, schema: Node) -> str:
    """What a list holds: a matrix, so many values, or any number of them."""
    if "prefixItems" not in node:
        return f"list of {_in_words(node['items'], schema)}"
    inner = node["prefixItems"]
    if inner[0].get("type") == "array":
        return f"{len(inner)} x {len(inner[0]['prefixItems'])} matrix"
    return f"{len(inner)} times {_in_words(inner[0], schema)}"


def renew(folder: Path) -> None:
    """Write both files.

    Args:
        folder: where they stand.
    """
    (folder / "kit.schema.json").write_text(schema_text(), encoding="utf-8", newline="\n")
    (folder / "kit.md").write_text(reference_text(), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    renew(Path(sys.argv[1]))
