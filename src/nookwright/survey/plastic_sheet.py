"""What a room file may say of a material besides its colour and price: its kind of plastic, and its data sheet.

Nothing here must be given. What is left out is taken from the tool's own table for the kind, with its sources.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from nookwright.ground.frozen import Model

Celsius = Annotated[float, Field(ge=-30, le=250)]


class PlasticKind(StrEnum):
    """What a filament is made of."""

    PLA = "pla"
    PETG = "petg"
    ABS = "abs"
    ASA = "asa"
    TPU = "tpu"


class PlasticSheet(Model):
    """The table ``[material.sheet]``: figures of a data sheet that go before the tool's own."""

    modulus_mpa: float | None = Field(
        default=None, gt=1, le=20_000, description="Bending modulus of a print along its layers, in MPa."
    )
    strength_mpa: float | None = Field(
        default=None, gt=1, le=500, description="Tensile strength of a print along its layers, in MPa."
    )
    across_percent: float | None = Field(
        default=None, gt=0, le=100, description="Strength across the layers, as a share of that along them."
    )
    years_percent: float | None = Field(
        default=None, gt=0, le=100, description="Share of the strength that it may be loaded with for years."
    )
    creep_percent: float | None = Field(
        default=None, gt=0, le=100, description="Share of the modulus that is left under a load that stays for years."
    )
    strain_percent: float | None = Field(
        default=None, gt=0, le=100, description="How far it may be stretched once, without a mark."
    )
    expansion_um_m_k: float | None = Field(
        default=None, gt=0, le=500, description="How much a metre grows for each degree, in micrometres."
    )
    softens_c: Celsius | None = Field(
        default=None, description="Where it gives way under a small load (HDT at 0.45 MPa, Vicat), in degrees Celsius."
    )
    most_c: Celsius | None = Field(
        default=None, description="The warmest place that it may stay in for good, in degrees Celsius."
    )
