"""The cautions in words, one table for all: why, what to do, and where it comes from.

A finding adds what it is about. Nothing here is advice of a licensed person; where one is needed, it says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.checks.in_words import OURS
from nookwright.ground.findings import Finding, Severity

if TYPE_CHECKING:
    from nookwright.ground.findings import Against

DEFERENCE = (
    "These are the usual cautions, as far as a room file shows that they apply; they are not all there is to mind. The "
    "codes of your place, the makers of furniture, appliances, filament and printer, and licensed people for gas, "
    "mains, water and fixings have the last word."
)
_LOCAL = " Local codes and a licensed person have the last word."


@dataclass(frozen=True)
class Caution:
    """One caution.

    Attributes:
        title: two or three words for a heading.
        why: what can happen, in a sentence or two.
        remedy: what a person can do.
        source: where that is said.
        severity: of a finding that says it.
    """

    title: str
    why: str
    remedy: str
    source: str
    severity: Severity = Severity.NOTE

    def finding(self, code: str, subject: str, about: str, against: Against | None = None) -> Finding:
        """Say it of something.

        Args:
            code: of the finding.
            subject: id of the lot, space or part that it is about; ``kit`` for the whole.
            about: what it is about, a whole sentence.
            against: figure and limit, where there are.
        """
        return Finding(code, self.severity, subject, f"{about} {self.why}".strip(), self.remedy, against)


_BLADES = "Common practice for knife drawers; ISO 13857 for the width of gaps, from memory."
_REACH = "Common practice; what must be out of reach says the room file."
_CELLS = "16 CFR 1263 and UL 4200A-2023 (Reese's Law): button and coin cells wider than high."
_TIPPING = "CPSC 16 CFR 1261 and ASTM F2057-23; EN 14749."
CAUTIONS = {
    "blade-bare": Caution(
        "Bare edge",
        "A hand that reaches in runs into it.",
        OURS,
        _BLADES,
        Severity.STOP,
    ),
    "blade-in-tray": Caution(
        "Loose blade",
        "A hand may run into it.",
        "Put a guard on the blade, or measure it: with [lot.blade] it gets a rest.",
        _BLADES,
        Severity.WARN,
    ),
    "blade-handle": Caution(
        "Handle shut in",
        "Who cannot take it by the handle takes it by the blade.",
        "Measure blade and handle again ([lot.blade]). A knife with a handle so short wants a sheath in a tray, not a "
        "rest; if the handle is longer, this is a fault of the tool: please report it with the room file.",
        _BLADES,
        Severity.WARN,
    ),
    "blades": Caution(
        "Blades",
        "An edge that shows cuts whoever reaches past it.",
        "Put them in edge down, to the heel, and take them out by the handle alone; keep them where no child reaches.",
        _BLADES,
    ),
    "out-of-reach": Caution(
        "In children's reach",
        "",
        "Keep it elsewhere, or lock that space and say locked = true.",
        _REACH,
        Severity.STOP,
    ),
    "reach-doubtful": Caution(
        "Perhaps in children's reach",
        "A drawer that is not locked is opened from there.",
        "Lock it and say locked = true, or say children = true: then it goes elsewhere.",
        _REACH,
        Severity.WARN,
    ),
    "button-cell-in-reach": Caution(
        "Button cells in reach",
        "Swallowing one can kill, also a flat one.",
        "Keep them where children cannot reach, in packs that need a tool; used ones too.",
        _CELLS,
        Severity.WARN,
    ),
    "button-cells": Caution(
        "Button cells",
        "Swallowing one can kill, also a flat one.",
        "Keep them out of children's reach, new and used, and say out_of_reach = true. Swallowed: call for help at "
        "once.",
        _CELLS,
    ),
    "cells-loose": Caution(
        "Loose cells",
        "A coin, a key or another cell across both poles makes them hot enough to burn.",
        'Keep them in their packs, or each in a pocket (keep = "cradle"), no metal beside them; tape the poles of used '
        "ones, and never put a dented one back.",
        "Common practice of battery makers, from memory.",
    ),
    "small-parts-in-reach": Caution(
        "Small parts in reach",
        "A child under three may choke on what goes into the test cylinder 31.7 wide and 25.4 to 57.1 deep.",
        "Keep them elsewhere while small children come there, or lock it and say locked = true. If none ever do, say "
        "small_children = false under [choices].",
        "16 CFR 1501 and ISO 8124-1, from memory.",
    ),
    "latch-no-lock": Caution(
        "No child lock",
        "A printed lid, cap or latch opens for a child: it is no child lock and must not be called one.",
        "Where a child must not get in, fit a bought lock that was tested for it, or keep the things elsewhere.",
        "EN 16948:2017 and ASTM F3492-21: child locks hold thousands of cycles and a pull of some 200 N.",
    ),
    "overhead": Caution(
        "Loads overhead",
        "What lies above the eyes is taken down blindly, and falls.",
        "Keep what is heavy low, let trays stand behind an edge that holds them, use a step; see that the board and "
        "its fixings bear it.",
        "OSHA storage guidance, 29 CFR 1910.176(b); the wall and its fixings are outside of EN 14749.",
    ),
    "wall-fixings": Caution(
        "Hung parts",
        "Only you see the wall, the door or the board that it hangs on: screws hold no more than what they are in.",
        "Judge board, wall and screws on site, look behind it for pipes and cables, hang a trial load of twice the "
        "weight on it first; keep nothing in it that hurts when it falls." + _LOCAL,
        "EN 14749: the wall and its fixings are outside of its scope.",
    ),
    "ballast": Caution(
        "Ballast",
        "Dust of sand, mortar and concrete holds quartz that scars lungs, and wet cement burns skin and eyes.",
        "Fill outdoors or with a mask of FFP2 or FFP3, with gloves and glasses; sweep damp, never dry; close the cap "
        "before use. Steel shot has neither.",
        "Quartz: OSHA 50 ug/m3, NIOSH 0.05 mg/m3, EU 0.1 mg/m3; cement: CLP Annex II 2.3, H315, H317, H318, H335.",
    ),
    "glue": Caution(
        "Glue",
        "Superglue joins skin in seconds, and its vapour stings.",
        "Open a window, wear thin gloves (not cotton, which it heats) and glasses, keep children away, read the label. "
        "Pull nothing apart that sticks to skin: soak it in warm soapy water. In the eye: water and a doctor.",
        "GisChem of the German accident insurers, ECHA dossier, safety data sheets: H315, H319, H335.",
    ),
    "heat": Caution(
        "Heat and fire",
        "Printed plastic softens, and it burns.",
        "Nothing printed beside hot parts: hobs, ovens, lamps, heaters, chargers in use. Choose a plastic that stands "
        "the warmest day, and never the dishwasher.",
        "Data sheets: PLA softens from 53 degC, ABS sheets are rated HB of UL 94: they burn.",
    ),
    "food-contact": Caution(
        "Food",
        "A print is not food-safe by itself: grooves between layers hold what washing leaves, and nobody has tested "
        "colour, additives and nozzle.",
        "Let only what is wrapped, or is washed before use, touch the print, or lay a sheet in it that is meant for "
        "food; wash trays by hand, lukewarm.",
        "EU 1935/2004, 10/2011 and 2023/2006; 21 CFR 177.1020 and 177.1315, PLA is not in part 177.",
    ),
    "service-path": Caution(
        "Service path",
        "Who must shut water, gas or mains has no time to empty a drawer, and what cannot breathe gets hot.",
        "Keep it free for good, loose things too: label it, and never cover grilles, sockets, taps or shut-offs."
        + _LOCAL,
        "Makers' manuals of built-in appliances; common practice for shut-offs, from memory.",
    ),
    "furniture-tips": Caution(
        "Tipping furniture",
        "Loaded drawers that stand open tip tall furniture over: children have died under it.",
        "Anchor it to the wall before you load it, keep what is heavy in the lowest drawers, open one at a time, and "
        "never defeat an interlock." + _LOCAL,
        _TIPPING,
    ),
    "hollow-wet": Caution(
        "Hollow parts",
        "Water that gets in does not get out: it goes mouldy, and ballast cakes.",
        "Seal the cap with silicone, or wash the part without its filling and let it dry, mouth down.",
        "Common practice, from memory.",
    ),
}

# Findings of the checks of forces and strength that say the same, with figures.
SAID_ELSEWHERE = {
    "furniture-anchor": "furniture-tips",
    "furniture-unsaid": "furniture-tips",
    "rack-on-site": "wall-fixings",
    "rack-thin": "wall-fixings",
    "material-softens": "heat",
}


def words_for(code: str) -> Caution | None:
    """The caution that a finding says, by its code; none for a finding that is no caution."""
    return CAUTIONS.get(SAID_ELSEWHERE.get(code, code))


def caution(code: str, subject: str, about: str = "", against: Against | None = None) -> Finding:
    """The finding of a caution.

    Args:
        code: one of ``CAUTIONS``.
        subject: id of the lot, space or part that it is about; ``kit`` for the whole.
        about: what it is about, a whole sentence.
        against: figure and limit, where there are.

    >>> caution("furniture-tips", "chest", "The chest stands free.").text
    'The chest stands free. Loaded drawers that stand open tip tall furniture over: children have died under it.'
    """
    return CAUTIONS[code].finding(code, subject, about, against)
