"""From a room file to a kit: the pipeline, and the table of contents of this program.

Each step is one stage; it takes what the stages before it gave and gives plain frozen data.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from nookwright import __version__
from nookwright.checks.prove import look_at_schedule, proof_of
from nookwright.cutting.claims import wish_faults
from nookwright.cutting.cut import cut_all, longest_strip_in, whole_footprint
from nookwright.cutting.loose_keys import loose_keys
from nookwright.cutting.model import uncut
from nookwright.documents.coupon_sheet import coupon_sheet
from nookwright.documents.looked import looked_records
from nookwright.documents.printing_files import write_printing
from nookwright.documents.write import write_documents
from nookwright.exchange.assemble import assemble
from nookwright.exchange.coupon_files import coupon_bed_faults, readings_table, write_coupon
from nookwright.exchange.kit_file import write_kit
from nookwright.exchange.printing_records import printing_record
from nookwright.exchange.step_files import WrittenSteps, require_step, write_steps
from nookwright.exchange.trial_files import trials_to_write, write_trials
from nookwright.exchange.written import unwritten, write_meshes
from nookwright.ground.aside import Aside
from nookwright.ground.errors import RoomError
from nookwright.ground.whole import replacing
from nookwright.layout.first_print import first_print_of
from nookwright.layout.next_readings import NextReading, next_readings
from nookwright.layout.pins import pin_faults
from nookwright.layout.place import Effort
from nookwright.layout.plan import Plan, plan_room
from nookwright.making.coarser import coarser, coarser_findings
from nookwright.making.estimate.many import Estimates, estimate_all
from nookwright.making.expected import Batch, expected
from nookwright.making.forecast import SpaceForecast, forecast
from nookwright.making.jobs import make
from nookwright.making.printing import plan_printing
from nookwright.making.prints_csv import read_prints
from nookwright.making.savings.find import cheapest, savings
from nookwright.making.schedule.model import Stage
from nookwright.making.trials import Trials, trials_of
from nookwright.module.measured import about_printers, clearance_growth
from nookwright.parts.design import LINER_GROUP, Copy, design, material_of, materials_of
from nookwright.parts.orders.order_check import order_faults
from nookwright.parts.orders.orders import ordered
from nookwright.parts.rests.dowels import about_dowels
from nookwright.parts.trays.wishes import needs_of_room
from nookwright.parts.trials.coupon import coupon as coupon_part
from nookwright.parts.wish_check import text_faults, tray_faults, turned_fronts
from nookwright.sizing.printers.household import household_of
from nookwright.sizing.printers.slips import coupon_faults
from nookwright.solids.mesh import build as build_mesh
from nookwright.solids.pool import make_all
from nookwright.survey.load import check_room
from nookwright.survey.load import room_sha256 as hash_of
from nookwright.survey.origins import CouponForm
from nookwright.survey.suspects import suspects

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from nookwright.checks.prove import Looked
    from nookwright.cutting.model import CutPart
    from nookwright.exchange.kit import Kit
    from nookwright.exchange.printing_models import KitPrinting
    from nookwright.ground.errors import Fault
    from nookwright.ground.findings import Finding
    from nookwright.ground.progress import Progress
    from nookwright.making.savings.model import Saving
    from nookwright.sizing.printers.household import Household
    from nookwright.solids.triangles import Mesh
    from nookwright.survey.models import Room
    from nookwright.survey.origins import CouponForm


@dataclass(frozen=True)
class Designed:
    """A room, planned and designed, before any geometry.

    Attributes:
        room: as surveyed.
        plan: what goes where.
        copies: all copies of all parts that have a place, loose keys included.
        ordered: copies of parts that were made to order and have none.
        cut: every distinct part and its pieces, by the digest of its recipe.
        findings: what there is to say so far.
        trials: what is printed and tried before the rest.
    """

    room: Room
    plan: Plan
    copies: tuple[Copy, ...]
    ordered: tuple[Copy, ...]
    cut: Mapping[str, CutPart]
    findings: tuple[Finding, ...]
    trials: Trials

    @property
    def all_copies(self) -> tuple[Copy, ...]:
        """Everything that is printed."""
        return (*self.copies, *self.ordered)

    @property
    def forecast(self) -> tuple[SpaceForecast, ...]:
        """Grams and hours of every space, in closed form."""
        return forecast(self.room, self.plan, self.copies)

    @cached_property
    def savings(self) -> tuple[Saving, ...]:
        """The cheapest things that could be left out."""
        return cheapest(savings(self.room, self.plan, self.copies))


def check(room_file: Path) -> tuple[Room | None, tuple[Fault, ...]]:
    """Load a room file, or say all that is wrong with it, the keys of ordered parts included.

    Args:
        room_file: the room file.

    Returns:
        The room and no faults, or no room and the faults.
    """
    room, faults = check_room(room_file)
    if room is None:
        return None, faults
    faults = (*order_faults(room_file, room), *text_faults(room_file, room), *coupon_faults(room_file, room))
    faults = (*faults, *read_prints(room_file, room)[1])
    return (None, faults) if faults else (room, ())


def measure(room_file: Path, *, progress: Progress, effort: Effort | None = None) -> tuple[NextReading, ...]:
    """What to measure next in a room, the best first; nothing where no decision would change.

    Args:
        room_file: the room file.
        progress: who is told how far it is.
        effort: how hard the layout is searched; the usual way when left out.

    Raises:
        RoomError: the room file cannot be used.
    """
    progress.stage("reading")
    room, faults = check(room_file)
    if room is None:
        raise RoomError(faults)
    designed = plan_and_design(room, room_file=room_file, effort=effort or Effort(), progress=progress)
    progress.stage("readings")
    return next_readings(room, designed.plan)


def write_coupons(room_file: Path, out: Path, *, form: CouponForm, only: str = "") -> tuple[Path, ...]:
    """Write the coupon of each printer of a room, with the sheet and the table for its readings.

    Args:
        room_file: the room file.
        out: folder to write to; it is replaced as a kit is, and never where a table in it was filled in.
        form: how long the cross is.
        only: id of the one printer that is wanted; all when left out.

    Returns:
        The files.

    Raises:
        RoomError: the room file cannot be used, has no such printer, or a coupon does not fit its bed.
        FolderError: the folder holds what this tool did not write, or what was filled in since.
    """
    room, faults = check(room_file)
    faults = faults or coupon_bed_faults(room_file, room, form, only)
    if room is None or faults:
        raise RoomError(faults)
    names: list[str] = []
    with replacing(out) as folder:
        for printer in room.printer:
            if only and printer.id != only:
                continue
            material = next(one for one in room.material if one.id == printer.materials[0])
            part = coupon_part(form, printer.layer)
            files = write_coupon(folder, part, build_mesh(part.recipe), printer=printer, material=material)
            title = f"{printer.name or printer.id}, {material.name or material.id}"
            sheet, table = f"sheet_{printer.id}.svg", f"readings_{printer.id}.csv"
            (folder / sheet).write_text(coupon_sheet(form, title=title), encoding="utf-8", newline="\n")
            (folder / table).write_text(readings_table(form), encoding="utf-8", newline="")
            names += [*(file.name for file in files), sheet, table]
    return tuple(out / name for name in names)


def plan_only(room: Room, household: Household, *, effort: Effort, progress: Progress) -> Plan:
    """Decide what goes where.

    Args:
        room: as surveyed.
        household: how its printers err.
        effort: how hard the layout is searched.
        progress: who is told how far it is.
    """
    return plan_room(
        room,
        longest=longest_strip_in(room, material_of(room, LINER_GROUP)),
        whole=whole_footprint(materials_of(room), room.printer),
        needs=needs_of_room(room),
        errors=household.envelope,
        growth=clearance_growth(household),
        effort=effort,
        progress=progress,
    )


def plan_and_design(room: Room, *, room_file: Path | None = None, effort: Effort, progress: Progress) -> Designed:
    """Decide what goes where, design every part and cut it to the beds.

    Args:
        room: as surveyed.
        room_file: where it was read from, so that parts that cannot be made to order are named with their line.
        effort: how hard the layout is searched.
        progress: who is told how far it is.

    Raises:
        RoomError: parts are ordered, or options of trays wished for, that cannot be made.
    """
    progress.stage("planning")
    household = household_of(room)
    plan = plan_only(room, household, effort=effort, progress=progress)
    faults: tuple[Fault, ...] = ()
    if room_file:
        faults = (*order_faults(room_file, room, plan.module), *tray_faults(room_file, room, plan))
        faults = (*faults, *pin_faults(room_file, plan.laid.slips))
    if faults:
        raise RoomError(faults)
    progress.stage("designing")
    copies = design(room, plan)
    loose = ordered(room, plan.module)
    if room_file and (faults := wish_faults(room_file, room, (*copies, *loose))):
        raise RoomError(faults)
    cut, findings = cut_all((*copies, *loose), plan.module, room.printer, household.envelope, room=room)
    keys = loose_keys(copies, cut, plan.module)
    cut |= {copy.part.recipe.digest: uncut(copy.part) for copy in keys}
    slips = suspects(room_file, room) if room_file else ()
    said = (*plan.findings, *turned_fronts(room, plan), *about_dowels(room, plan))
    findings = (*slips, *about_printers(household), *said, *findings)
    return Designed(room, plan, (*copies, *keys), loose, cut, findings, trials_of(room, plan, copies))


def sketch(designed: Designed, room_sha256: str) -> Kit:
    """A kit in closed forms, with no file behind it: enough for a first plan.

    Args:
        designed: the parts and their pieces.
        room_sha256: hash of the room file.
    """
    making = make(designed.room, designed.all_copies, designed.cut, lambda piece: piece.plastic.body_mm3)
    return assemble(
        version=__version__,
        room=designed.room,
        room_sha256=room_sha256,
        plan=designed.plan,
        copies=designed.copies,
        ordered=designed.ordered,
        making=making,
        written=unwritten(making, copies=designed.all_copies),
        findings=(*designed.findings, *making.findings),
        first=trials_to_write(designed.room, designed.plan, designed.trials),
        first_print=first_print_of(designed.room, designed.plan),
        savings=designed.savings,
    )


def build(
    room_file: Path,
    out: Path,
    *,
    progress: Progress,
    effort: Effort | None = None,
    cache: Path | None = None,
    processes: int = 1,
    step: bool = False,
    tell: Callable[[tuple[SpaceForecast, ...], tuple[Saving, ...]], None] = lambda _, __: None,
) -> Kit:
    """Build the kit of a room. The folder is replaced only when the new kit is complete and proven.

    Args:
        room_file: the room file.
        out: folder of the kit.
        progress: who is told how far it is.
        effort: how hard the layout is searched; the usual way when left out.
        cache: folder that remembers meshes and proofs by their content; ``None`` to make everything anew.
        processes: how many may make parts solid, see ``solids.pool``.
        step: whether the kit gets a STEP file of every part.
        tell: is handed the forecast, and what could be left out, before any geometry is made.

    Raises:
        RoomError: the room file cannot be used.
        FolderError: the folder holds what this tool did not write.
        MissingExtraError: STEP files are asked for, and the extra ``step`` is not installed.
    """
    if step:
        require_step()
    progress.stage("reading")
    room, faults = check(room_file)
    if room is None:
        raise RoomError(faults)
    sha = hash_of(room_file)
    prints, _ = read_prints(room_file, room)
    with replacing(out) as folder:
        designed = plan_and_design(room, room_file=room_file, effort=effort or Effort(), progress=progress)
        tell(designed.forecast, designed.savings)
        meshes = make_solid(designed, cache=cache, processes=processes, progress=progress)
        estimates = estimate_pieces(designed, meshes, cache=cache, processes=processes, progress=progress)
        making, tried = (
            make(
                room,
                copies,
                cut,
                lambda piece: meshes[piece.recipe.digest].volume_mm3,
                estimates=estimates,
                meshes=meshes,
            )
            for copies, cut in (
                (designed.all_copies, designed.cut),
                (designed.trials.copies, designed.trials.cut),
            )
        )
        coarse = tuple(
            coarser_findings(
                coarser(
                    room,
                    making,
                    meshes,
                    designed.plan.module.wall,
                    progress=progress,
                    folder=cache,
                    processes=processes,
                )
            )
        )
        batches = (Batch(tried, designed.trials.copies, Stage.TRIAL), Batch(making, designed.all_copies, Stage.KIT))
        awaited = expected(room, batches, prints)
        planning = Aside(lambda: plan_printing(room, awaited.bedfuls, prints, spoilage=awaited.spoilage))
        progress.stage("readings")
        readings, first_print = next_readings(room, designed.plan), first_print_of(room, designed.plan)
        progress.stage("writing")
        version = f"{__version__}, room file {sha[:12]}"
        written = write_meshes(folder, room, making, meshes, progress, copies=designed.all_copies, version=version)
        first = write_trials(
            folder, room, designed.plan, designed.trials, making=tried, meshes=meshes, progress=progress
        )
        made = write_steps(folder, making.parts, processes=processes, progress=progress) if step else WrittenSteps()

        def kit_with(
            findings: tuple[Finding, ...], printing: KitPrinting | None = None, looked: tuple[Looked, ...] = ()
        ) -> Kit:
            return assemble(
                version=__version__,
                room=room,
                room_sha256=sha,
                plan=designed.plan,
                copies=designed.copies,
                ordered=designed.ordered,
                making=making,
                written=written,
                steps=made.steps,
                findings=(*designed.findings, *making.findings, *made.findings, *coarse, *findings),
                first=first,
                readings=readings,
                first_print=first_print,
                savings=designed.savings,
                printing=printing,
                looked=looked_records(looked),
            )

        progress.stage("proving")
        proof = proof_of(folder, kit_with(()), room=room, cache=cache, progress=progress)
        progress.stage("schedule")
        printed = planning.result()
        record = printing_record(printed, awaited)
        planned = look_at_schedule(kit_with(printed.findings, record), room)
        said = (*proof.findings, *printed.findings, *planned.findings)
        kit = kit_with(said, record, (*proof.looked, planned) if proof.looked else ())
        progress.stage("documents")
        write_printing(folder, room, printed)
        write_kit(folder / "kit.json", kit)
        write_documents(folder, kit, designed.plan.choice)
    return kit


def make_solid(designed: Designed, *, cache: Path | None, processes: int, progress: Progress) -> Mapping[str, Mesh]:
    """Make every part and every piece solid, each distinct recipe once.

    Args:
        designed: the parts and their pieces.
        cache: folder that remembers meshes; ``None`` to make everything anew.
        processes: how many may be started.
        progress: who is told how far it is.

    Returns:
        The meshes by the digest of their recipe.
    """
    progress.stage("solids")
    recipes = {
        recipe.digest: recipe
        for cut in (*designed.cut.values(), *designed.trials.cut.values())
        for recipe in (cut.part.recipe, *(piece.recipe for piece in cut.pieces))
    }
    return make_all(recipes, folder=cache, processes=processes, progress=progress)


def estimate_pieces(
    designed: Designed, meshes: Mapping[str, Mesh], *, cache: Path | None, processes: int, progress: Progress
) -> Estimates:
    """Time and mass of every piece, those of the trials among them, from their meshes.

    Args:
        designed: the parts and their pieces.
        meshes: by the digest of their recipe.
        cache: folder that remembers estimates; ``None`` to make everything anew.
        processes: how many may be started.
        progress: who is told how far it is.
    """
    progress.stage("estimating")
    cuts = (*designed.cut.values(), *designed.trials.cut.values())
    return estimate_all(
        [piece.recipe.digest for cut in cuts for piece in cut.pieces],
        meshes,
        designed.room.printer,
        wall=designed.plan.module.wall,
        folder=cache,
        processes=processes,
        progress=progress,
    )
