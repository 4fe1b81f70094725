"""Choosing the module: every candidate is judged over all spaces and lots of the household at once.

``candidates`` says which pitches and rises are tried. ``spaces`` and ``lots`` say what each of them does to the spaces
and to the lots, with the closed forms of ``trays`` on whole arrays. ``judging`` puts a row together and weighs it by
``prices``; ``keeping`` holds what is printed against what would be best; ``deciding`` decides; ``table`` shows it.
"""

from nookwright.module.choice.candidates import RISE_START, TYPICAL_DENSITY_G_CM3, module_of, pitches, rises
from nookwright.module.choice.deciding import Decided, ModuleChoice, choose
from nookwright.module.choice.judging import ModuleRow, judge
from nookwright.module.choice.keeping import Change, Dimension
from nookwright.module.choice.spaces import Inside

__all__ = [
    "RISE_START",
    "TYPICAL_DENSITY_G_CM3",
    "Change",
    "Decided",
    "Dimension",
    "Inside",
    "ModuleChoice",
    "ModuleRow",
    "choose",
    "judge",
    "module_of",
    "pitches",
    "rises",
]
