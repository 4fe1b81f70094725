"""The room as measured and decided: what one ``room.toml`` holds, in millimetres and grams once it is loaded.

Nothing here is computed. A length may be typed as people do (``362``, ``"36.2 cm"``, ``"14 1/4 in"``); it is turned
into millimetres while the file is loaded and is a plain float from then on.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field, JsonValue

from nookwright.ground.frozen import Model
from nookwright.survey.bed_wishes import SPACING, KeepOut, OneByOne
from nookwright.survey.blades import BladeSizes
from nookwright.survey.dispensed import Dispensed
from nookwright.survey.first_layer_wishes import Pads
from nookwright.survey.furniture import SHUT_M_S, Furniture, Pull
from nookwright.survey.inside import Bottom, Lean, Lump, PassesUnder
from nookwright.survey.layout_wishes import OwnBox, Place, Style, Weights
from nookwright.survey.making_wishes import Costs, Making, Running, Spool
from nookwright.survey.origins import CouponForm, FitClass, Instrument, Measured, Purpose
from nookwright.survey.plastic_sheet import Celsius, PlasticKind, PlasticSheet
from nookwright.survey.printer_profile import PrinterProfile
from nookwright.survey.readings import Length, LengthEitherWay, LengthFromZero, PositiveLength, Readings, SideReadings
from nookwright.survey.tray_wishes import TrayDefaults, TrayWishes
from nookwright.survey.trials import Found

Id = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]  # lower case letters, digits, single hyphens
Group = Annotated[str, Field(pattern=r"^([a-z0-9]+(-[a-z0-9]+)*)?$")]  # the same, or empty


class SpaceKind(StrEnum):
    """What a space is the inside of."""

    DRAWER = "drawer"
    SHELF = "shelf"
    UNDER_SHELF = "under-shelf"
    DOOR = "door"
    WALL = "wall"


NO_FLOOR = frozenset({SpaceKind.UNDER_SHELF, SpaceKind.WALL, SpaceKind.DOOR})  # nothing stands on a liner there


class Shape(StrEnum):
    """The shape of one thing of a lot."""

    BOX = "box"  # width x depth x height
    ROUND = "round"  # diameter x height
    FLAT = "flat"  # a stack of sheets or cards: width x depth, and the thickness of one
    LOOSE = "loose"  # bulk without single things: its volume as it lies


class Stance(StrEnum):
    """How a thing may stand in its tray."""

    UPRIGHT = "upright"  # as its height is measured
    LYING = "lying"  # on a side: the height lies along x or y
    ON_EDGE = "on-edge"  # flat things, filed like cards in a drawer


class Use(StrEnum):
    """How often a lot is reached for."""

    DAILY = "daily"
    WEEKLY = "weekly"
    RARELY = "rarely"


class Keep(StrEnum):
    """Which kind of part should hold a lot."""

    ANY = "any"
    TRAY = "tray"
    CRADLE = "cradle"
    LOOSE = "loose"  # poured into a tray, by volume
    REST = "rest"  # long things across two supports, blades with their edge covered
    DISPENSER = "dispenser"  # soft flat things, drawn one by one through a lid with a slot


class FloorStyle(StrEnum):
    """The floor of a tray."""

    SHELL = "shell"  # thin, the sockets show as low domes
    SMOOTH = "smooth"  # flat, above the sockets


class GripWish(StrEnum):
    """What a hand takes a tray by."""

    NOTCH = "notch"  # in two opposite rims
    HAND_HOLE = "hand hole"  # in two opposite walls
    NONE = "none"


class LinerLevel(StrEnum):
    """How much liner a space gets; what each level keeps and gives up stands in the kit, with its price."""

    FULL = "full"
    SPARSE = "sparse"  # cones in every second cell both ways
    FRAME = "frame"  # strips along the walls
    CROSS = "cross"  # strips through the middle
    NONE = "none"


class ConesFor(StrEnum):
    """The smallest footprint, in cells, that a liner's cones hold wherever it stands."""

    SINGLE = "1x1"
    PAIR = "1x2"
    SQUARE = "2x2"
    LAYOUT = "only under the layout"  # parts stay where the layout has them


class FillerWish(StrEnum):
    """What fills the gap beside the trays."""

    TALL = "tall"  # up to the rims of the trays beside it, where the gap is so wide that things would fall into it
    PLAIN = "plain"  # flat strips everywhere


class Rest(StrEnum):
    """What becomes of the cells that no lot needs."""

    GROW = "grow"  # trays grow into them
    SPARE = "spare"  # spare trays of the commonest sizes
    OPEN = "open"  # left free, for the next purchase
    FENCED = "fenced"  # one open bay behind a fence, for what stands free


class Hazard(StrEnum):
    """What can hurt."""

    BLADE = "blade"


class RoomHead(Model):
    """The table ``[room]``."""

    name: str = Field(min_length=1, description="Name of the room, for people.")
    units: Literal["mm", "cm", "in"] = Field(default="mm", description="Unit of plain numbers in this file.")


class ModuleChoice(Model):
    """The table ``[module]``: a pitch and a rise that are already decided."""

    pitch: PositiveLength | None = Field(default=None, description="Cell size; chosen by the tool when left out.")
    rise: PositiveLength | None = Field(default=None, description="Height step; chosen by the tool when left out.")
    kept_pitch: PositiveLength | None = Field(
        default=None, description="Cell size of what is printed or published already; kept unless another saves much."
    )
    kept_rise: PositiveLength | None = Field(default=None, description="Height step of the same.")
    change_percent: float = Field(
        default=5.0, ge=0, le=100, description="Share of area or grams that another module must save to be taken."
    )


class Choices(Model):
    """The table ``[choices]``: what the person decided for the whole room."""

    floor: FloorStyle = Field(default=FloorStyle.SHELL, description="Floor of a tray unless its lot says otherwise.")
    liner: LinerLevel = Field(default=LinerLevel.FULL, description="Liner of a space unless it says otherwise.")
    pattern: ConesFor = Field(
        default=ConesFor.PAIR, description="Cones of a liner: for the smallest footprint, in cells, that they hold."
    )
    fillers: FillerWish = Field(default=FillerWish.TALL, description="What fills gaps of more than 8 mm beside trays.")
    sprung_filler: bool = Field(default=False, description="One side of each liner gets springs against its slack.")
    rest: Rest = Field(default=Rest.OPEN, description="What becomes of cells that no lot needs.")
    grip: GripWish = Field(default=GripWish.NOTCH, description="What a hand takes trays by, where there is room.")
    confidence: float = Field(
        default=0.95, ge=0.5, le=0.999, description="How sure all things of a lot are to fit, each lot by itself."
    )
    tray: TrayDefaults = Field(
        default_factory=TrayDefaults, description="What trays have unless their lot says otherwise."
    )
    colours: dict[str, Id] = Field(
        default_factory=dict,
        description="Material (by id) for each group of lots; 'liner' names the liner's, 'text' that of lettering.",
    )
    homes: dict[Id, tuple[Id, ...]] = Field(
        default_factory=dict, description="Spaces (by id) that a group of lots may go to; any when left out."
    )
    layout: Style = Field(default=Style.CALM, description="Which layout is built; the price of the other is said.")
    weights: Weights = Field(default_factory=Weights, description="What counts how much in the layout.")
    order: tuple[Id, ...] = Field(
        default=(),
        description="Lots or groups, by id, in the order that they should lie: left to right, front to back.",
    )
    odds_and_ends: bool = Field(default=True, description="Each space in use gets one tray for odds and ends.")
    stacks: bool = Field(
        default=True, description="Trays may stand on the lid of another one where the height is there."
    )
    children_reach: PositiveLength | None = Field(
        default=None, description="Floors of spaces above this height are out of children's reach; none if left out."
    )
    small_children: bool | None = Field(
        default=None, description="Children under three come there. Left out, the kit only notes small parts in reach."
    )


class Blocked(Model):
    """A box inside a space that nothing may enter. Its corner is measured from the front left corner of the floor."""

    reason: str = Field(min_length=1, description="What is there: a waste pipe, a catch, a ventilation gap.")
    service: bool = Field(default=False, description="A service or ventilation path, to be kept free for good.")
    stays: bool | None = Field(
        default=None,
        description="It is fixed to the building, as a pipe is: a drawer passes it on its way out, so that nothing "
        "stands behind it either. Left out, it moves with the drawer, and the kit asks where that would matter.",
    )
    x: Length = Field(default=0.0, ge=0, description="From the left wall.")
    y: Length = Field(default=0.0, ge=0, description="From the front wall.")
    z: Length = Field(default=0.0, ge=0, description="From the floor.")
    width: PositiveLength = Field(description="Along x.")
    depth: PositiveLength = Field(description="Along y.")
    height: PositiveLength | None = Field(default=None, description="Along z; up to the top when left out.")


class Space(Model):
    """One ``[[space]]``: one interior to fit out."""

    id: Id = Field(description="Short name without blanks: lower case letters, digits, hyphens.")
    name: str = Field(default="", description="Name for people; the id when left out.")
    kind: SpaceKind = Field(description="What it is the inside of.")
    width: SideReadings = Field(
        description="Inside, along x: one reading, several at different places, or at the floor and at heights above."
    )
    depth: SideReadings = Field(description="Inside, along y.")
    height: Readings = Field(description="Clear height above the floor, along the whole travel.")
    instrument: Instrument = Field(default=Instrument.TAPE, description="What width, depth and height were read with.")
    lean: Lean | None = Field(default=None, description="How far walls lean in at the rim, read with a square.")
    out_of_square: LengthFromZero | None = Field(
        default=None, description="How far the side walls run off over the depth, by a square or two sticks; 0 if not."
    )
    diagonals: Annotated[tuple[PositiveLength, ...], Field(min_length=2, max_length=2)] | None = Field(
        default=None, description="Both diagonals of the floor, by tape, in place of out_of_square; far less sure."
    )
    bow: LengthEitherWay | None = Field(
        default=None, description="Bow of the floor under a straight edge: how far it sags; negative if it bulges up."
    )
    bottom: Bottom | None = Field(default=None, description="The board of the floor, to work its sag out from.")
    corner_radius: Length = Field(default=0.0, ge=0, description="Radius of the vertical inside corners.")
    cove_radius: Length = Field(default=0.0, ge=0, description="Radius of the round edge between walls and floor.")
    mat: Length = Field(default=0.0, ge=0, description="Thickness of a mat or felt that stays in; it costs height.")
    floor_height: Length = Field(ge=0, description="Height of its floor above the floor of the room.")
    load_kg: float = Field(gt=0, description="What it may carry, prints included.")
    children: bool = Field(default=False, description="Children can reach it.")
    locked: bool = Field(default=False, description="It is locked: children cannot get in.")
    opening: Annotated[tuple[PositiveLength, ...], Field(min_length=2, max_length=2)] | None = Field(
        default=None, description="Clear width and height of the opening that parts must pass; its inside if left out."
    )
    pulls_out: PositiveLength | None = Field(
        default=None, description="How far a drawer comes out; all of its depth if left out."
    )
    soft_close: bool = Field(default=False, description="A damper brakes the drawer before it is shut.")
    shut_m_s: float = Field(
        default=float(SHUT_M_S), gt=0, le=3, description="How fast the drawer is when it meets its stops, in m/s."
    )
    furniture: Id | None = Field(
        default=None, description="The [[furniture]] that it is in, by id: whether that could tip over."
    )
    warm: bool = Field(default=False, description="It gets warm: above an oven, beside a heater, in the sun.")
    warmest_c: Celsius | None = Field(
        default=None, description="The warmest it gets in there, in degrees Celsius; if left out, 50 if warm, else 30."
    )
    wet: bool = Field(default=False, description="It may get wet: below a basin, beside a door.")
    kept_free: bool = Field(
        default=False, description="All of it is a service or ventilation path: nothing is ever put into it."
    )
    odds_and_ends: bool | None = Field(default=None, description="Overrides the choice of the room.")
    liner: LinerLevel | None = Field(default=None, description="Overrides the choice of the room.")
    pattern: ConesFor | None = Field(default=None, description="Overrides the choice of the room.")
    fillers: FillerWish | None = Field(default=None, description="Overrides the choice of the room.")
    sprung_filler: bool | None = Field(default=None, description="Overrides the choice of the room.")
    rest: Rest | None = Field(default=None, description="Overrides the choice of the room.")
    blocked: tuple[Blocked, ...] = Field(default=(), description="Boxes that nothing may enter.")
    lump: tuple[Lump, ...] = Field(default=(), description="What stands out from its walls.")
    passes_under: tuple[PassesUnder, ...] = Field(
        default=(), description="What it passes under on its way; the lowest of it is the clear height."
    )


class Lot(Model):
    """One ``[[lot]]``: like things that are kept together."""

    id: Id = Field(description="Short name without blanks.")
    name: str = Field(default="", description="Name for people; the id when left out.")
    group: Group = Field(default="", description="Lots of one group share a colour.")
    count: int = Field(gt=0, le=10_000, description="How many there are.")
    standard: str | None = Field(default=None, description="Published size by designation, such as 'R6' or 'A4'.")
    shape: Shape | None = Field(default=None, description="Shape of one thing; not with 'standard'.")
    width: Readings | None = Field(default=None, description="Box and flat: the longer side as it is used.")
    depth: Readings | None = Field(default=None, description="Box and flat: the other side.")
    diameter: Readings | None = Field(default=None, description="Round: outer diameter.")
    height: Readings | None = Field(default=None, description="Box and round: height as it stands upright.")
    thickness: Readings | None = Field(default=None, description="Flat: thickness of one.")
    volume_ml: float | None = Field(
        default=None, gt=0, le=100_000, description="Loose: volume of one as it lies, in a measuring jug."
    )
    nests_by: PositiveLength | None = Field(
        default=None, description="Box and round: how much higher a pile of them gets with each more; none if left out."
    )
    made: str | None = Field(
        default=None, min_length=1, description="How the things were made, or the id of a [[process]]; see below."
    )
    measured: Measured = Field(default=Measured.SAMPLE, description="Whether every thing was measured, or some.")
    instrument: Instrument = Field(default=Instrument.CALIPER, description="What its readings were taken with.")
    rough: bool = Field(default=False, description="Its sizes are rough: to 5 mm, of one thing.")
    purpose: Purpose | None = Field(
        default=None, description="What a pocket does for it, which sets the fit; keep upright if left out."
    )
    fit: FitClass | None = Field(default=None, description="How it goes into a pocket; goes before 'purpose'.")
    mass_g: float | None = Field(default=None, gt=0, description="Mass of one thing; from the standard if it has one.")
    stands: tuple[Stance, ...] | None = Field(default=None, description="How it may stand; the usual ways if left out.")
    use: Use = Field(default=Use.WEEKLY, description="How often it is reached for.")
    near: tuple[Id, ...] = Field(default=(), description="Lots that it should be in the same space with.")
    keep: Keep = Field(default=Keep.ANY, description="Which kind of part should hold it.")
    dispenses: Dispensed | None = Field(
        default=None, description="What is drawn from its dispenser; sheets of flat things, else gloves, if left out."
    )
    pull: Pull = Field(default_factory=Pull, description="How a hand draws one from its dispenser.")
    floor: FloorStyle | None = Field(default=None, description="Floor of its tray; the room's choice if left out.")
    tray: TrayWishes = Field(
        default_factory=TrayWishes, description="Front, dividers, name strip, inlay and grip of its tray."
    )
    grow_percent: float = Field(default=15.0, ge=0, le=300, description="Room to grow; 0 for fixed sets.")
    shares: Id | None = Field(
        default=None, description="It shares the tray of this lot, by id, with a divider between them."
    )
    box: Id | None = Field(default=None, description="It is kept in this [[box]], by id, on a shoe.")
    keep_cool: bool = Field(default=False, description="It must not stand in a warm space.")
    keep_dry: bool = Field(default=False, description="It must not stand in a wet space.")
    hazard: Hazard | None = Field(default=None, description="What can hurt.")
    blade: BladeSizes | None = Field(default=None, description="Sizes of its blade, for a rest that covers the edge.")
    out_of_reach: bool = Field(default=False, description="Must be out of children's reach.")
    food: bool = Field(default=False, description="Food, or what touches food or mouths: cutlery, cups, tea.")
    quiet: bool | None = Field(
        default=None, description="It should lie still and not clink; so glass and ceramics do if left out."
    )


class Printer(Model):
    """One ``[[printer]]``."""

    id: Id = Field(description="Short name without blanks.")
    name: str = Field(default="", description="Name for people.")
    bed_width: PositiveLength = Field(description="Printable width.")
    bed_depth: PositiveLength = Field(description="Printable depth.")
    bed_height: PositiveLength = Field(description="Printable height.")
    margin: Length = Field(default=5.0, ge=0, description="Kept free at each edge of the bed, for brim and skirt.")
    nozzle: PositiveLength = Field(default=0.4, validate_default=False, description="Diameter of the nozzle.")
    layer: PositiveLength = Field(default=0.2, validate_default=False, description="Layer height.")
    materials: tuple[Id, ...] = Field(min_length=1, description="Materials that it may print, by id.")
    profile: PrinterProfile = Field(default_factory=PrinterProfile, description="How it prints, for time and mass.")
    running: Running = Field(
        default_factory=Running, description="When it may run, and what a change of its bed takes."
    )
    spacing: LengthFromZero = Field(
        default=float(SPACING), validate_default=False, description="Between two pieces on its bed, brims not counted."
    )
    keep_out: tuple[KeepOut, ...] = Field(default=(), description="Places on its bed that no piece may lie on.")
    one_by_one: OneByOne | None = Field(
        default=None, description="Each piece is finished before the next is begun; all together if left out."
    )


class Material(Model):
    """One ``[[material]]``: a kind of filament in one colour."""

    id: Id = Field(description="Short name without blanks.")
    name: str = Field(default="", description="Name for people.")
    colour: str = Field(pattern=r"^#[0-9a-fA-F]{6}$", description="Colour on plans and in 3MF, as #rrggbb.")
    density_g_cm3: float = Field(gt=0.5, lt=9, description="Density.")
    price_per_kg: float = Field(default=0.0, ge=0, description="Price of a kilogram, in the person's currency.")
    spool_g: float = Field(default=1000.0, gt=0, description="Filament on a full spool.")
    drying_h: float = Field(default=0.0, ge=0, le=72, description="Hours in a dryer before it is printed; 0 for none.")
    plastic: PlasticKind | None = Field(
        default=None, description="What it is made of; if left out, read from its id or name, else PLA, the weakest."
    )
    sheet: PlasticSheet = Field(
        default_factory=PlasticSheet, description="Figures of its data sheet, where you have one."
    )
    longest: PositiveLength | None = Field(
        default=None, description="Longest flat part in one piece; if left out, 180 for ABS and ASA, else 400."
    )
    pads: Pads = Field(default=Pads.AUTO, description="Thin discs at the corners of large pieces, torn off after.")
    pads_from: PositiveLength | None = Field(
        default=None, description="'auto' gives pads to pieces longer than this; by its density if left out."
    )


class OwnProcess(Model):
    """One ``[[process]]``: how much things differ that are made in a way that you know."""

    id: Id = Field(description="What lots call it in 'made'; one of the built-in words is replaced by it.")
    tolerance: LengthFromZero = Field(
        default=0.0, validate_default=False, description="Sizes lie within this of each other's mean, to each side."
    )
    percent: float = Field(default=0.0, ge=0, le=30, description="And within this share of the size besides.")
    source: str = Field(default="the room file", min_length=1, description="Where that comes from.")


class OwnStandard(Model):
    """One ``[[standard]]``: a size that is published somewhere, for lots to name."""

    designation: str = Field(min_length=1, description="What lots write as their standard; goes before the built-in.")
    name: str = Field(default="", description="What it is, for people.")
    shape: Shape = Field(description="Its shape.")
    width: Readings | None = Field(default=None, description="The largest, or the smallest and the largest.")
    depth: Readings | None = Field(default=None, description="The same.")
    diameter: Readings | None = Field(default=None, description="The same.")
    height: Readings | None = Field(default=None, description="The same.")
    thickness: Readings | None = Field(default=None, description="The same.")
    mass_g: float | None = Field(default=None, gt=0, description="Mass of one; each lot gives it if left out.")
    source: str = Field(min_length=1, description="Where it is published.")


class Coupon(Model):
    """One ``[[coupon]]``: what was read on the coupon of one printer in one material."""

    printer: Id = Field(description="The printer that printed it, by id.")
    material: Id = Field(description="The material that it is printed in, by id.")
    form: CouponForm = Field(default=CouponForm.SHORT, description="How long its cross is; the sheet says it.")
    instrument: Instrument = Field(default=Instrument.CALIPER, description="What it was measured with.")
    readings: dict[str, Readings] = Field(
        default_factory=dict, description="By id of the sheet: one reading or several. Any may be left out."
    )
    corrected: bool = Field(
        default=False, description="The printer has been set since by the scale and skew that this coupon showed."
    )
    csv: str | None = Field(
        default=None, min_length=1, description="In place of 'readings': the filled-in table, beside this file; in mm."
    )


class Order(Model):
    """One ``[[part]]``: a part made to order, printed with the kit and put where the person likes."""

    id: Id = Field(description="Short name without blanks.")
    kind: str = Field(description="Kind of part, see the reference of parts.")
    count: int = Field(default=1, gt=0, le=1000, description="How many.")
    group: Group = Field(default="", description="Group whose colour it gets.")
    space: Id | None = Field(
        default=None, description="Space that it goes to, by id: how warm it gets there counts for its material."
    )
    keys: dict[str, JsonValue] = Field(description="Its sizes and choices; which there are depends on the kind.")


class Room(Model):
    """A whole ``room.toml``."""

    format: Literal[1] = Field(description="Version of this file format.")
    room: RoomHead = Field(description="What the room is called, and the unit of its numbers.")
    module: ModuleChoice = Field(default_factory=ModuleChoice, description="A module that is already decided.")
    choices: Choices = Field(default_factory=Choices, description="What was decided for the whole room.")
    space: tuple[Space, ...] = Field(min_length=1, description="One table for each interior to fit out.")
    lot: tuple[Lot, ...] = Field(min_length=1, description="One table for each kind of thing to keep.")
    process: tuple[OwnProcess, ...] = Field(default=(), description="One table for each way of making that you know.")
    standard: tuple[OwnStandard, ...] = Field(default=(), description="One table for each published size of your own.")
    part: tuple[Order, ...] = Field(default=(), description="One table for each part that is made to order.")
    printer: tuple[Printer, ...] = Field(min_length=1, description="One table for each printer.")
    coupon: tuple[Coupon, ...] = Field(default=(), description="One table for each coupon that was measured.")
    material: tuple[Material, ...] = Field(min_length=1, description="One table for each filament in one colour.")
    found: tuple[Found, ...] = Field(default=(), description="One table for each trial: gauge, pilot or seat.")
    place: tuple[Place, ...] = Field(default=(), description="One table for each part that stays where it is.")
    box: tuple[OwnBox, ...] = Field(default=(), description="One table for each kind of box that you have or can buy.")
    furniture: tuple[Furniture, ...] = Field(
        default=(), description="One table for each piece of furniture that could tip over."
    )
    making: Making = Field(default_factory=Making, description="When the printing is done, and who is there.")
    spool: tuple[Spool, ...] = Field(default=(), description="One table for each spool that is there.")
    costs: Costs = Field(default_factory=Costs, description="What printing costs besides filament.")
