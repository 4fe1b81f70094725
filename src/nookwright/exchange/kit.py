"""kit.json: the kit for machines, and the contract of everything that reads a kit.

Units are millimetres, grams and seconds. Matrices are row-major 4 x 4 and act on column vectors; each is named
``target_from_source``: ``space_from_part`` takes a point of the part's own axes to the space's. The axes: x to the
right, y to the back, z up, origin at the front left corner of a space's floor, or of a part's or piece's bounding box;
a bed's origin is the front left corner of its printable area.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from nookwright.ground.findings import Severity
from nookwright.ground.frozen import Model

FORMAT = 1

Row = tuple[float, float, float, float]
Matrix = tuple[Row, Row, Row, Row]
Size = tuple[float, float, float]
Sha256 = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
Value = bool | int | float | str | tuple[float, ...] | tuple[tuple[float, float], ...]


class Units(Model):
    """The units of every number in the file."""

    length: Literal["mm"] = "mm"
    mass: Literal["g"] = "g"
    time: Literal["s"] = "s"


class KitModule(Model):
    """The module of the household."""

    pitch: float
    rise: float
    chosen: str = Field(description="Why this pitch and rise, in one sentence.")


class BlockedBox(Model):
    """A box that nothing enters, in the space's axes."""

    reason: str
    service: bool
    low: Size
    high: Size


class UsableAt(Model):
    """The usable inside at one height above the floor."""

    z: float
    width: float
    depth: float


class KitSpace(Model):
    """One space, as it was planned for."""

    id: str
    name: str
    kind: str
    usable: tuple[UsableAt, ...] = Field(description="By height; the last one is the clear height.")
    height: float = Field(description="Clear height, mm.")
    corner_radius: float
    blocked: tuple[BlockedBox, ...]
    cell_origin: tuple[float, float] = Field(description="Front left corner of cell (0, 0) in the space's axes.")
    cols: int
    rows: int
    blocked_cells: tuple[tuple[int, int], ...] = Field(description="Cells without a cone or a part, as (col, row).")
    mass_g: float = Field(description="Prints in this space.")
    time_s: float = Field(description="Printing time of these prints.")
    budget_g: float = Field(description="What prints of this area and wall should weigh at most.")
    load_g: float = Field(description="Prints and things together.")
    load_limit_g: float


class LotPlace(Model):
    """Some things of a lot in one placed part."""

    placement: str
    part: str
    count: int
    stance: str
    size: Size = Field(description="One thing at its largest, as it stands in the part's axes.")
    round_axis: Literal["", "x", "y", "z"] = Field(description="Axis of a round thing; empty for a box.")
    at: tuple[Size, ...] = Field(description="Centre of the underside of each thing, in the part's axes.")


class KitLot(Model):
    """One lot."""

    id: str
    name: str
    count: int
    mass_g: float = Field(description="All things of the lot together.")
    places: tuple[LotPlace, ...]


class KitPart(Model):
    """A distinct part: what is used as one."""

    id: str
    kind: Literal["tray", "cradle", "panel", "filler", "key"]
    name: str
    recipe: Sha256
    parameters: dict[str, Value]
    size: Size
    volume_mm3: float
    mass_g: float
    time_s: float
    stl: str
    stl_sha256: Sha256


class Placement(Model):
    """A part in its place."""

    id: str
    part: str
    space: str
    label: str = Field(description="What people call it: what is in it, or which panel it is.")
    space_from_part: Matrix
    stands_on: Literal["liner", "floor"]


class Piece(Model):
    """What is printed as one."""

    id: str
    part: str
    part_from_piece: Matrix
    count: int
    recipe: Sha256
    material: str
    colour: str
    file: str
    stl_sha256: Sha256
    size: Size
    volume_mm3: float
    mass_g: float
    time_s: float


class BedItem(Model):
    """One copy of a piece on a bed."""

    piece: str
    bed_from_piece: Matrix


class Bedful(Model):
    """One load of a printer's bed."""

    id: str
    printer: str
    material: str
    colour: str
    file: str
    model_sha256: Sha256 = Field(description="Of the uncompressed model part inside the 3MF.")
    time_s: float
    mass_g: float
    items: tuple[BedItem, ...]


class KitPrinter(Model):
    """A printer, as far as a bedful needs it."""

    id: str
    name: str
    bed: Size
    margin: float
    layer: float


class KitMaterial(Model):
    """A material with what the kit needs of it."""

    id: str
    name: str
    colour: str
    mass_g: float
    price: float
    spools: int


class KitFinding(Model):
    """A finding."""

    code: str
    severity: Severity
    subject: str
    text: str
    remedy: str


class Totals(Model):
    """The sums that stand at the end."""

    spaces: int
    lots: int
    lots_placed: int
    parts: int
    pieces: int = Field(description="Copies, all pieces together.")
    bedfuls: int
    mass_g: float
    time_s: float
    area_dm2: float = Field(description="Floor area of the spaces that are fitted out.")
    g_per_dm2: float
    price: float


class CostPart(Model):
    """One part of the layout's cost."""

    name: str
    value: float


class KitLayout(Model):
    """How good the layout is, and what repeats it."""

    cost: tuple[CostPart, ...]
    total: float
    bound: float
    gap: float
    proven: bool
    by_clock: bool
    seed: int
    iterations: int


class Kit(Model):
    """A whole kit."""

    format: Literal[1] = FORMAT
    tool: Literal["nookwright"] = "nookwright"
    version: str
    room: str
    room_sha256: Sha256
    units: Units = Units()
    module: KitModule
    spaces: tuple[KitSpace, ...]
    lots: tuple[KitLot, ...]
    parts: tuple[KitPart, ...]
    placements: tuple[Placement, ...]
    pieces: tuple[Piece, ...]
    printers: tuple[KitPrinter, ...]
    materials: tuple[KitMaterial, ...]
    bedfuls: tuple[Bedful, ...]
    findings: tuple[KitFinding, ...]
    totals: Totals
    layout: KitLayout
