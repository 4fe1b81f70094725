from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from nookwright.exchange.schema import kit_schema, reference_text, schema_text

DOCS = Path(__file__).parents[2] / "docs"


@pytest.mark.parametrize(("file", "made"), [("kit.schema.json", schema_text), ("kit.md", reference_text)])
def test_the_docs_are_current(file: str, made: object) -> None:
    """What stands in docs/ is what the models say; else run ``python -m nookwright.exchange.schema docs``."""
    assert callable(made)
    assert (DOCS / file).read_text(encoding="utf-8") == made()


def test_it_is_a_valid_schema() -> None:
    """The schema itself follows draft 2020-12."""
    jsonschema.Draft202012Validator.check_schema(kit_schema())


def test_every_key_is_required_and_explained() -> None:
    """A reader may count on every key, no other key is allowed, and the reference says what each means."""
    models = [kit_schema(), *(node for node in kit_schema()["$defs"].values() if "properties" in node)]
    for model in models:
        assert model["additionalProperties"] is False
        assert set(model["required"]) == set(model["properties"])
        for key, node in model["properties"].items():
            assert node.get("description"), key


def test_a_kit_with_an_unknown_key_is_refused() -> None:
    """The schema catches a misspelt key."""
    units = {"length": "mm", "mass": "g", "time": "s"}
    inner = {"$defs": kit_schema()["$defs"], "$ref": "#/$defs/Units"}
    jsonschema.validate(units, inner)
    with pytest.raises(jsonschema.ValidationError, match="lenght"):
        jsonschema.validate(units | {"lenght": "mm"}, inner)


def test_the_text_is_json() -> None:
    """The schema's text is JSON and ends in a line end."""
    assert json.loads(schema_text()) == kit_schema()
    assert schema_text().endswith("}\n")
