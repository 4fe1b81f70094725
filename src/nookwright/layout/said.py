"""What there is to say about a plan: layers, spaces, lots that were left out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.layout.floor_bow import about_bow
from nookwright.layout.space_liner import about_liner
from nookwright.module.seat import common_layer
from nookwright.sizing.spaces.notes import about_reading

if TYPE_CHECKING:
    from nookwright.layout.model import Layout
    from nookwright.layout.spaces import SpacePlan
    from nookwright.module.module import Module


def about_layers(layers: tuple[float, ...]) -> tuple[Finding, ...]:
    """That printers have no common layer."""
    if common_layer(layers) is not None:
        return ()
    text = f"The layers {', '.join(f'{layer:g}' for layer in sorted(set(layers)))} mm have no common height."
    remedy = f"Print all parts at {layers[0]:g} mm, or give the printers layers such as 0.2 and 0.3."
    return (Finding("layers-differ", Severity.WARN, "printers", text, remedy),)


def about_spaces(spaces: tuple[SpacePlan, ...], layout: Layout, module: Module) -> tuple[Finding, ...]:
    """What holds for each space: readings, bow, liner, edges that stay open."""
    found: list[Finding] = []
    for plan in spaces:
        if plan.space.kept_free:
            text, remedy = "All of it is a service or ventilation path: nothing is put into it.", "Keep it so."
            found.append(Finding("space-kept-free", Severity.NOTE, plan.space.id, text, remedy))
            continue
        if not plan.grid.fill:
            text = f"A space of kind {plan.space.kind} has no floor for trays; it is left empty."
            found.append(
                Finding("space-empty", Severity.NOTE, plan.space.id, text, "Plan hanging things by hand for now.")
            )
            continue
        placed = layout.in_space(plan.space.id)
        found += about_reading(plan.space, plan.usable)
        found += about_bow(plan.usable, module, placed)
        found += about_liner(plan.space.id, plan.wish, plan.liner, placed, thickness=module.seat.panel)
        for axis, rest in (("width", plan.floor.open_x), ("depth", plan.floor.open_y)):
            if rest > 0 and plan.liner.panels:
                text = f"{rest:.1f} mm of the {axis} stay open: too little for a filler."
                remedy = "Let the liner lie as it falls, or fix it with two spots of double-sided tape."
                found.append(Finding("edge-open", Severity.NOTE, plan.space.id, text, remedy))
    return tuple(found)


def about_layout(layout: Layout) -> tuple[Finding, ...]:
    """Lots that have no place, and a search that did not end by itself."""
    found = [
        Finding("lot-left-out", Severity.WARN, left.lot, _sentence(left.reason), _sentence(left.remedy))
        for left in layout.left_out
    ]
    if layout.by_clock:
        text = "The search for the layout was stopped by the clock; another machine may find another layout."
        found.append(Finding("layout-by-clock", Severity.WARN, "layout", text, "Build again on a quieter machine."))
    return tuple(found)


def _sentence(text: str) -> str:
    """A text with a capital and a full stop."""
    return text[:1].upper() + text[1:].rstrip(".") + "."
