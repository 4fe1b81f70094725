"""What kit.json says of the prints that are tried first."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from nookwright.ground.frozen import Model

Sha256 = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]


class TrialPiece(Model):
    """A piece of a trial."""

    name: str = Field(description="For people.")
    file: str = Field(description="STL of the piece, in print orientation.")
    sha256: Sha256 = Field(description="Of that file.")
    count: int = Field(description="How many.")
    material: str = Field(description="Id of a material.")
    size: tuple[float, float, float] = Field(description="Outer size.")
    mass_g: float = Field(description="Of one.")


class TrialLength(Model):
    """A strip of a pilot: what it should do where the readings are right."""

    axis: Literal["width", "depth", "height"] = Field(description="The side of the space that it lies along.")
    length: float = Field(description="From wall to wall as drawn, fillers included: `pilot` of the room file.")
    gap: float = Field(description="What should be left beside it.")
    whole: bool = Field(description="Whether it reaches from wall to wall.")


class KitTrial(Model):
    """Something to print and try before the rest."""

    id: str = Field(description="Of this kit.")
    kind: Literal["pilot", "gauge", "seat"] = Field(description="What it is.")
    subject: str = Field(description="Id of the space or the lot; empty for the seat.")
    name: str = Field(description="For people.")
    proves: str = Field(description="What it proves, and what was left out of it.")
    enter: str = Field(description="What to write into the room file afterwards, as an example.")
    lengths: tuple[TrialLength, ...] = Field(default=(), description="Of a pilot: its strips.")
    sizes: tuple[float, ...] = Field(default=(), description="Of gauges: what is marked on them.")
    tray: str = Field(default="", description="Of a pilot: the part that is one of the kit's own; print one fewer.")
    goes_in: float = Field(default=0.0, description="Of gauges: how likely all go in without them.")
    holds: float = Field(default=0.0, description="Of gauges: how likely no pocket is loose either.")
    risk_g: float = Field(default=0.0, description="Of gauges: mass at risk times the doubt of that.")
    pieces: tuple[TrialPiece, ...] = Field(description="What is printed for it.")
    mass_g: float = Field(description="All of it.")
    time_s: float = Field(description="All of it, one after the other.")


class TrialBedful(Model):
    """One load of a bed with trials."""

    id: str = Field(description="Of this kit.")
    printer: str = Field(description="Id of a printer.")
    material: str = Field(description="Id of a material.")
    file: str = Field(description="The 3MF.")
    model_sha256: Sha256 = Field(description="Of the uncompressed model part inside the 3MF.")
    time_s: float = Field(description="To print it all.")
    mass_g: float = Field(description="Of all on it.")


class KitTrials(Model):
    """Everything to print first."""

    trials: tuple[KitTrial, ...] = Field(default=(), description="One entry a pilot, a set of gauges, the seat's bar.")
    bedfuls: tuple[TrialBedful, ...] = Field(default=(), description="How they are printed.")
