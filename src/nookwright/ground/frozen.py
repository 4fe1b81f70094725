"""The base of all models read from or written to a file: frozen, and strict about unknown keys."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Model(BaseModel):
    """A frozen record that refuses unknown keys and numbers that are not finite."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, validate_default=True)
