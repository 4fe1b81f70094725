"""What kit.json says of the module, of the layout, and of what could be left out."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from nookwright.ground.frozen import Model


class KitModuleRow(Model):
    """What one pitch or rise does to the household."""

    pitch: float = Field(description="Side of a cell.")
    rise: float = Field(description="Step of the outer heights.")
    edge_dm2: float = Field(description="Floor lost beside the cells, fillers included.")
    inside_dm2: float = Field(description="Floor lost inside trays, since footprints are whole cells.")
    mass_g: float = Field(description="Liner, and every lot in the tray that would be taken by itself.")
    time_s: float = Field(description="Of printing them.")
    parts: int = Field(description="Different trays, panels and fillers.")
    dead: float = Field(description="By which a tray is higher than its things need, the mean.")
    homeless: int = Field(description="Lots that no space has room for.")
    judged_g: float = Field(description="All of it on one scale, as the person weighs it; the least is the best.")


class KitModule(Model):
    """The module of the household."""

    pitch: float = Field(description="Side of a cell.")
    rise: float = Field(description="Step of the outer heights.")
    chosen: str = Field(description="Why this pitch and rise, in words.")
    pitches: tuple[KitModuleRow, ...] = Field(default=(), description="Every pitch that was judged.")
    rises: tuple[KitModuleRow, ...] = Field(default=(), description="Every rise that was judged, at that pitch.")
    plot: str = Field(default="", description="Picture of the pitches; empty where only one was judged.")


class CostPart(Model):
    """One part of the layout's cost."""

    name: str = Field(description="What is paid for.")
    value: float = Field(description="How much.")


class KitSpaceLayout(Model):
    """One space in the two layouts, and what it is worth."""

    space: str = Field(description="Id of the space.")
    calm: bool = Field(description="Whether it stands in rows that read; a space that is too full does not.")
    calm_dm2: float = Field(description="Floor that the calm layout takes more than the tightest.")
    calm_g: float = Field(description="Plastic of plain parts that it takes more.")
    worth_per_dm2: float = Field(description="What a dm2 more of this space would save at the margin, in cost units.")
    worth_per_kg: float = Field(description="What a kilogram more of its rating would save.")


class KitLayout(Model):
    """How good the layout is, and what repeats it."""

    style: Literal["calm", "tightest"] = Field(description="Which of the two layouts this kit builds.")
    cost: tuple[CostPart, ...] = Field(description="Its parts, as the search counts them.")
    total: float = Field(description="Their sum.")
    bound: float = Field(description="No layout can cost less; proven.")
    gap: float = Field(description="How far the total is above the bound, as a share of it.")
    tightest_total: float = Field(description="The same sum of the tightest layout that was found.")
    arrangement: tuple[CostPart, ...] = Field(description="What is judged besides, of how parts lie in a space.")
    tightest: tuple[CostPart, ...] = Field(description="All parts of the cost of the tightest layout, judged alike.")
    calm_dm2: float = Field(description="Floor that the calm layout takes more than the tightest.")
    calm_g: float = Field(description="Plastic of plain parts that it takes more.")
    spaces: tuple[KitSpaceLayout, ...] = Field(description="Each space that is used.")
    proven: bool = Field(description="Whether the search ended by itself.")
    by_clock: bool = Field(description="Whether the clock ended it; then another machine may give another layout.")
    seed: int = Field(description="Of the search.")
    iterations: int = Field(description="Of the search.")


class KitSaving(Model):
    """Something that could be left out."""

    text: str = Field(description="What to do.")
    mass_g: float = Field(description="Plastic saved, in closed form.")
    time_s: float = Field(description="Printing time saved.")
    gives_up: str = Field(description="What is lost by it.")
    toml: str = Field(description="Lines of the room file that bring it about; empty where it is done by hand.")
