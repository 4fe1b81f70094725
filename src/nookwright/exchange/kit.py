"""kit.json: the kit for machines, and the contract of everything that reads a kit.

Units are millimetres, grams and seconds. Matrices are row-major 4 x 4 and act on column vectors; each is named
``target_from_source``: ``space_from_part`` takes a point of the part's own axes to the space's. The axes: x to the
right, y to the back, z up, origin at the front left corner of a space's floor, or of a part's or piece's bounding box;
a bed's origin is the front left corner of its printable area.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from nookwright.exchange.joint_models import KitJoint
from nookwright.exchange.layout_models import KitLayout, KitModule, KitSaving
from nookwright.exchange.printing_models import AlsoOn, BedChange, BedPads, BedSettings, KitPrinting
from nookwright.exchange.saw_models import KitSawing
from nookwright.exchange.trial_models import KitTrials
from nookwright.ground.findings import Severity
from nookwright.ground.frozen import Model
from nookwright.parts.model import Kind

FORMAT: Literal[1] = 1

Row = tuple[float, float, float, float]
Matrix = tuple[Row, Row, Row, Row]
Size = tuple[float, float, float]
Sha256 = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
Value = bool | int | float | str | tuple[float, ...] | tuple[tuple[float, float], ...]


class Units(Model):
    """The units of every number in the file."""

    length: Literal["mm"] = Field(default="mm", description="Of every length, position and size.")
    mass: Literal["g"] = Field(default="g", description="Of every key that ends in _g.")
    time: Literal["s"] = Field(default="s", description="Of every key that ends in _s.")


class BlockedBox(Model):
    """A box that nothing enters, in the space's axes."""

    reason: str = Field(description="What is there.")
    service: bool = Field(description="A service or ventilation path, kept free for good.")
    low: Size = Field(description="Corner nearest the origin.")
    high: Size = Field(description="Corner opposite.")


class UsableAt(Model):
    """The usable inside at one height above the floor."""

    z: float = Field(description="Height above the floor.")
    width: float = Field(description="Along x, from the left wall.")
    depth: float = Field(description="Along y, from the front.")
    x: float = Field(default=0.0, description="How far the left wall stands in, against the floor.")
    y: float = Field(default=0.0, description="How far the front wall stands in.")


class LinerOffer(Model):
    """A level of liner for a space: what it costs and what it keeps."""

    level: str = Field(description="How much liner, as in the room file.")
    pattern: str = Field(description="Where its cones stand.")
    mass_g: float = Field(description="Of panels and plain fillers, in closed form.")
    time_s: float = Field(description="To print them.")
    lost_height: float = Field(description="By which parts stand above the floor.")
    cones: int = Field(description="How many cones.")
    keeps: str = Field(description="What it guarantees, and what not.")
    chosen: bool = Field(description="Whether the space has this one.")


class KitSpace(Model):
    """One space, as it was planned for."""

    id: str = Field(description="As in the room file.")
    name: str = Field(description="For people.")
    kind: str = Field(description="As in the room file.")
    usable: tuple[UsableAt, ...] = Field(description="By height; the last one is the clear height.")
    height: float = Field(description="Clear height, mm.")
    corner_radius: float = Field(description="Of the vertical corners.")
    cove_radius: float = Field(default=0.0, description="Of the round edge between walls and floor.")
    margins: tuple[float, float, float] = Field(
        default=(0.0, 0.0, 0.0), description="What was taken off the smallest readings of width, depth and height."
    )
    bow: float = Field(default=0.0, description="How far the floor sags; negative where it bulges up.")
    blocked: tuple[BlockedBox, ...] = Field(description="Boxes that nothing enters.")
    cell_origin: tuple[float, float] = Field(description="Front left corner of cell (0, 0) in the space's axes.")
    cols: int = Field(description="Cells along x.")
    rows: int = Field(description="Cells along y.")
    blocked_cells: tuple[tuple[int, int], ...] = Field(description="Cells without a cone or a part, as (col, row).")
    mass_g: float = Field(description="Prints in this space.")
    time_s: float = Field(description="Printing time of these prints.")
    budget_g: float = Field(description="What prints of this area and wall should weigh at most.")
    load_g: float = Field(description="Prints and things together.")
    load_limit_g: float = Field(description="What the space may carry.")
    liners: tuple[LinerOffer, ...] = Field(default=(), description="Levels of liner that it could have.")


class BodyBeside(Model):
    """A further body of each thing of a place, such as a knife's handle."""

    size: Size = Field(description="Of its box, in the part's axes.")
    offset: Size = Field(description="Centre of its underside from that of the thing.")


class LotPlace(Model):
    """Some things of a lot in one placed part."""

    placement: str = Field(description="Where they are.")
    part: str = Field(description="What they are in.")
    count: int = Field(description="How many.")
    stance: str = Field(
        description="How they are kept: upright, lying, on-edge; nested, heaped, 'in a rest', 'in a dispenser', or "
        "'in a box' of the person's own."
    )
    size: Size = Field(
        description="One thing at its largest, as it stands in the part's axes; or a full pile, a heap, the box."
    )
    round_axis: Literal["", "x", "y", "z"] = Field(description="Axis of a round thing; empty for a box.")
    at: tuple[Size, ...] = Field(description="Centre of the underside of each thing, in the part's axes.")
    held: tuple[int, ...] = Field(
        default=(), description="How many things each of these places holds; empty where each holds one."
    )
    box: str = Field(default="", description="Id of the person's own box that they are in.")
    corner_radius: float = Field(default=0.0, description="Of the upright corners of such a box.")
    held_by: tuple[str, ...] = Field(
        default=(), description="Placements that hold them as well: the other supports of a rest, and its guards."
    )
    beside: BodyBeside | None = Field(default=None, description="The handle of each; none where it has none.")


class KitBox(Model):
    """Boxes of one kind that stand on shoes of this kit."""

    id: str = Field(description="As in the room file.")
    name: str = Field(description="For people.")
    count: int = Field(description="How many are used.")
    buy: int = Field(description="How many of them are not there yet.")
    price: float = Field(description="Of those, in the person's currency.")


class KitPocket(Model):
    """How the pockets of a lot got their diameter: a sum, in the order of its parts."""

    fit: str = Field(description="How a thing goes in: falls in, easy, close, held.")
    measured: float = Field(description="The largest reading, or the published limit.")
    limit: float = Field(description="What the largest of the whole lot may be above that.")
    printer: float = Field(description="What the printer may take off; negative where it prints insides large.")
    clearance: float = Field(description="For the fit.")
    found: float = Field(default=0.0, description="What trials with gauges move the sum by.")
    size: float = Field(description="The diameter that is drawn: the sum, in whole hundredths.")
    confidence: float = Field(description="That all things go into all pockets with the clearance to spare.")
    calibrated: bool = Field(description="Whether the printer's part comes from a coupon, not from usual values.")


class KitSize(Model):
    """One dimension of the things of a lot, and what its limit comes from."""

    dimension: str = Field(description="As in the room file.")
    readings: tuple[float, ...] = Field(description="What was measured, or the published limit.")
    published: bool = Field(description="Whether it is the limit of a standard.")
    limit: float = Field(description="What no thing of the lot is taken to exceed.")
    confidence: float = Field(description="That none does; all dimensions of a lot together hold that of the room.")
    process: str = Field(description="How the things were made; empty for a published limit.")
    tolerance: float = Field(description="What that lets sizes differ by, to each side; 0 where it was not needed.")
    source: str = Field(description="Where that comes from.")
    samples_alone: float = Field(
        default=0.0,
        description="The classical one-sided tolerance limit of the samples alone, mean and k1 standard deviations, "
        "for the share of things that the whole lot needs; 0 with fewer than two samples, or where it is not needed.",
    )
    pocket: KitPocket | None = Field(default=None, description="Of a lot that is kept in pockets.")


class KitLot(Model):
    """One lot."""

    id: str = Field(description="As in the room file.")
    name: str = Field(description="For people.")
    count: int = Field(description="How many there are.")
    mass_g: float = Field(description="All things of the lot together.")
    places: tuple[LotPlace, ...] = Field(description="Where they are; empty for a lot that was left out.")
    sizes: tuple[KitSize, ...] = Field(default=(), description="How large its things may be, and how that is known.")


class KitPart(Model):
    """A distinct part: what is used as one."""

    id: str = Field(description="Of this kit.")
    kind: Kind = Field(description="What it is.")
    name: str = Field(description="For people, with the outer size.")
    recipe: Sha256 = Field(description="Hash of its shape; the same shape has the same.")
    parameters: dict[str, Value] = Field(description="What it was made from.")
    size: Size = Field(description="Outer size.")
    volume_mm3: float = Field(description="Of its solid.")
    mass_g: float = Field(description="As printed, infill and lines considered.")
    time_s: float = Field(description="To print it.")
    joints: tuple[KitJoint, ...] = Field(default=(), description="Of a part that is printed in pieces, but for panels.")
    stl: str = Field(description="File of the whole, also where it is printed in pieces.")
    stl_sha256: Sha256 = Field(description="Of that file.")


class Placement(Model):
    """A part in its place."""

    id: str = Field(description="Of this kit.")
    part: str = Field(description="Which part.")
    space: str = Field(description="In which space.")
    label: str = Field(description="What people call it: what is in it, or which panel it is.")
    space_from_part: Matrix = Field(description="Where it is.")
    travel: float = Field(
        default=0.0, description="Of a sprung filler, as it lies unpressed: how far the wall presses its front in."
    )
    stands_on: tuple[str, ...] = Field(description="Ids of the placements that carry it; none: the floor of the space.")


class KitOrder(Model):
    """A part that was made to order: it is printed with the kit and has no place in it."""

    id: str = Field(description="The id that the room file gave it.")
    part: str = Field(description="Id of the part.")
    count: int = Field(description="How many.")


class KitSheet(Model):
    """A sheet that is cut by hand or by a cutter: an inlay, or a divider of card."""

    id: str = Field(description="Of this kit.")
    use: str = Field(description="What it is for: inlay, divider.")
    size: tuple[float, float] = Field(description="Width and depth of its outline.")
    thickness: float = Field(description="Of the felt, cork or card.")
    count: int = Field(description="How many are needed.")
    placements: tuple[str, ...] = Field(description="The trays that they go into, each once; none: a part to order.")
    dxf: str = Field(description="Outline for a cutter.")
    dxf_sha256: Sha256 = Field(description="Of that file.")
    svg: str = Field(description="The same on a page at 1:1, to print and cut along.")
    svg_sha256: Sha256 = Field(description="Of that file.")


class KitStep(Model):
    """The exact solid of a part, uncut, for people who draw on; where STEP files were asked for."""

    part: str = Field(description="Id of the part.")
    file: str = Field(description="The STEP file.")
    sha256: Sha256 = Field(description="Of that file.")


class Piece(Model):
    """What is printed as one."""

    id: str = Field(description="Of this kit.")
    part: str = Field(description="Which part it is of.")
    part_from_piece: Matrix = Field(description="Where in the part it is.")
    count: int = Field(description="Copies in the whole kit.")
    recipe: Sha256 = Field(description="Hash of its shape.")
    material: str = Field(description="Id of a material.")
    colour: str = Field(description="Of the material, #rrggbb.")
    file: str = Field(description="STL of the piece.")
    stl_sha256: Sha256 = Field(description="Of that file.")
    size: Size = Field(description="Outer size.")
    volume_mm3: float = Field(description="Of its solid.")
    mass_g: float = Field(description="Of one copy as printed.")
    time_s: float = Field(description="Of one copy.")
    lies: str = Field(default="", description="How it lies on the bed, and why.")


class BedItem(Model):
    """One copy of a piece on a bed."""

    piece: str = Field(description="Which piece.")
    bed_from_piece: Matrix = Field(description="Where on the bed.")


class Bedful(Model):
    """One load of a printer's bed."""

    id: str = Field(description="Of this kit.")
    printer: str = Field(description="Id of a printer.")
    material: str = Field(description="Id of a material.")
    colour: str = Field(description="Of the material, #rrggbb.")
    file: str = Field(description="The 3MF.")
    model_sha256: Sha256 = Field(description="Of the uncompressed model part inside the 3MF.")
    card: str = Field(default="", description="Its print card, a text file.")
    night: bool = Field(default=True, description="Whether it may run with nobody looking.")
    time_s: float = Field(description="To print it all.")
    mass_g: float = Field(description="Of all on it.")
    items: tuple[BedItem, ...] = Field(description="What lies on it.")
    pads: tuple[BedPads, ...] = Field(default=(), description="Of its large pieces: what holds their corners down.")
    settings: BedSettings | None = Field(default=None, description="What it is printed with; none before an estimate.")
    change: BedChange | None = Field(default=None, description="Of its filament on the way; none where there is none.")
    also_on: tuple[AlsoOn, ...] = Field(default=(), description="Other printers that could print it as it is.")


class KitPrinterError(Model):
    """One component of a printer's error."""

    name: str = Field(description="Such as 'scale x' or 'inside'.")
    value: float = Field(description="The likeliest; scales as shares, skew in degrees, all else in mm.")
    uncertainty: float = Field(description="Its standard uncertainty, in the same unit.")


class KitPrinterErrors(Model):
    """What is known of a printer with one material."""

    material: str = Field(description="Id of the material.")
    basis: str = Field(description="'coupon', 'other material' (a coupon in another one) or 'defaults'.")
    components: tuple[KitPrinterError, ...] = Field(description="How it errs.")


class KitPrinter(Model):
    """A printer, as far as a bedful needs it."""

    id: str = Field(description="As in the room file.")
    name: str = Field(description="For people.")
    bed: Size = Field(description="Printable width, depth and height.")
    margin: float = Field(description="Kept free at each edge.")
    layer: float = Field(description="Height of a layer.")
    errors: tuple[KitPrinterErrors, ...] = Field(default=(), description="What is known of it, material by material.")


class KitMaterial(Model):
    """A material with what the kit needs of it."""

    id: str = Field(description="As in the room file.")
    name: str = Field(description="For people.")
    colour: str = Field(description="As #rrggbb.")
    mass_g: float = Field(description="Needed for this kit.")
    price: float = Field(description="Of that mass, in the person's currency.")
    spools: int = Field(description="Full spools that hold it.")


class KitAgainst(Model):
    """What was computed, against what limit."""

    computed: float = Field(description="The figure that was found.")
    limit: float = Field(description="What it may be at most, or must be at least: the text of the finding says which.")
    unit: str = Field(description="Of both; 1 for a share or a ratio.")


class KitFinding(Model):
    """A finding."""

    code: str = Field(description="Stable name of what was found.")
    severity: Severity = Field(description="stop: do not print; warn: think first; note: good to know.")
    subject: str = Field(description="Id or file that it is about.")
    text: str = Field(description="What was found, with figure and limit.")
    remedy: str = Field(description="What to do.")
    against: KitAgainst | None = Field(default=None, description="The figure and its limit; none where there is none.")


class KitLooked(Model):
    """One thing that proving looked at, in the files as written."""

    what: str = Field(description="In words.")
    count: int = Field(description="How many there are of it in the kit.")
    findings: int = Field(description="What was found of it, notes included.")


class KitReading(Model):
    """Readings that would change a decision, and what they gain on average."""

    subject: str = Field(description="Id of a lot or a space.")
    name: str = Field(description="The same for people.")
    dimension: str = Field(description="Key of the room file that they go to.")
    readings: int = Field(description="How many: each of another thing, or at another place along the wall.")
    instrument: str = Field(description="What to take them with.")
    rough: bool = Field(description="What is known so far is rough.")
    tighter: float = Field(description="By how much pockets get tighter.")
    saved_mm2: float = Field(description="Floor that its part takes less, mm2; negative where it takes more.")
    saved_g: float = Field(description="Plastic saved; negative where it is more.")
    surer: float = Field(description="How much likelier the first print fits.")
    surer_instead: float = Field(description="How likely all fit if pockets stay as wide instead; 0 without pockets.")
    lines: float = Field(description="By how many columns or rows of cells its space changes; for a height, the risk.")
    time_s: float = Field(description="To take them.")
    why: str = Field(description="The same in words.")


class KitStepUp(Model):
    """One step that would raise the probability of the first print."""

    step: str = Field(description="What to do.")
    subject: str = Field(description="Id of the lot or space; empty for the printer.")
    probability: float = Field(description="Of the whole kit, if the step left no doubt.")
    gain: float = Field(description="By how much that is more.")


class KitFirstPrint(Model):
    """How likely the first print fits: things into pockets, parts onto liners, liners into spaces; by seeded chance."""

    kit: float = Field(default=1.0, description="Everything; 1 where no pocket and no liner is.")
    lots: dict[str, float] = Field(default={}, description="All things of a lot into all of its pockets, by id.")
    spaces: dict[str, float] = Field(default={}, description="The liner into its space, by id.")
    seat: float = Field(default=1.0, description="Every part onto its liner, as if parts were independent.")
    helps: tuple[KitStepUp, ...] = Field(default=(), description="What would raise the kit's most, the best first.")


class Totals(Model):
    """The sums that stand at the end."""

    spaces: int = Field(description="Spaces that are fitted out.")
    lots: int = Field(description="Lots of the room.")
    lots_placed: int = Field(description="Lots that have a place for all of their things.")
    parts: int = Field(description="Distinct parts.")
    pieces: int = Field(description="Copies, all pieces together.")
    bedfuls: int = Field(description="Loads of a bed.")
    mass_g: float = Field(description="All prints.")
    time_s: float = Field(description="All prints, one after the other.")
    area_dm2: float = Field(description="Floor area of the spaces that are fitted out.")
    g_per_dm2: float = Field(description="Prints by that area.")
    price: float = Field(description="All prints, in the person's currency.")


class Kit(Model):
    """A whole kit."""

    format: Literal[1] = Field(default=FORMAT, description="Version of this format.")
    tool: Literal["nookwright"] = Field(default="nookwright", description="What made it.")
    version: str = Field(description="Of the tool.")
    room: str = Field(description="Name of the room.")
    room_sha256: Sha256 = Field(description="Of the room file.")
    units: Units = Field(default=Units(), description="Of every number.")
    module: KitModule = Field(description="Cell and height step.")
    spaces: tuple[KitSpace, ...] = Field(description="What is fitted out.")
    lots: tuple[KitLot, ...] = Field(description="What is kept, and where.")
    parts: tuple[KitPart, ...] = Field(description="What is used as one.")
    placements: tuple[Placement, ...] = Field(description="Where every part is.")
    boxes: tuple[KitBox, ...] = Field(default=(), description="Own boxes that things are kept in.")
    orders: tuple[KitOrder, ...] = Field(description="Parts made to order, without a place.")
    pieces: tuple[Piece, ...] = Field(description="What is printed as one.")
    sheets: tuple[KitSheet, ...] = Field(default=(), description="What is cut from felt, cork or card.")
    steps: tuple[KitStep, ...] = Field(default=(), description="STEP files of the parts.")
    first: KitTrials = Field(default=KitTrials(), description="What to print and try before the rest.")
    printers: tuple[KitPrinter, ...] = Field(description="Printers of the room.")
    materials: tuple[KitMaterial, ...] = Field(description="Materials of the room.")
    bedfuls: tuple[Bedful, ...] = Field(description="How it is printed.")
    findings: tuple[KitFinding, ...] = Field(description="What there is to say about it.")
    looked: tuple[KitLooked, ...] = Field(default=(), description="What proving looked at; none in a plan.")
    next_readings: tuple[KitReading, ...] = Field(
        default=(), description="What to measure next, the best first; none where no decision would change."
    )
    more_readings: int = Field(default=0, description="How many more there are that gain less.")
    first_print: KitFirstPrint = Field(default=KitFirstPrint(), description="How likely the first print fits.")
    totals: Totals = Field(description="Sums.")
    layout: KitLayout = Field(description="How good the layout is.")
    sawing: KitSawing = Field(default=KitSawing(), description="What may be sawn of wood instead of printed.")
    savings: tuple[KitSaving, ...] = Field(default=(), description="The cheapest things that could be left out.")
    printing: KitPrinting = Field(default=KitPrinting(), description="When each bedful is printed, and from what.")
