"""Words of a survey: how things were made, what they were measured with, what a pocket is for, how tight it is."""

from __future__ import annotations

from enum import StrEnum


class Process(StrEnum):
    """How things were made; their sizes differ accordingly."""

    MOULDED_GLASS = "moulded glass"  # bottles, jars
    BLOWN_GLASS = "blown glass"  # by mouth
    MOULDED_PLASTIC = "moulded plastic"  # injection moulded
    FORMED_SHEET = "formed sheet"  # tins, pressed or folded
    MACHINED_METAL = "machined metal"  # turned, milled
    WOOD = "wood"  # sawn or turned
    CERAMICS = "ceramics"  # thrown or cast by hand
    PAPER = "paper"  # cut paper and card
    SOFT = "soft"  # textiles, sponge, bags
    UNKNOWN = "unknown"


class Measured(StrEnum):
    """How much of a lot the readings are of."""

    SAMPLE = "sample"  # some of its things, each once
    ALL = "all"  # every one, each once


class Instrument(StrEnum):
    """What a reading was taken with."""

    TAPE = "tape"
    RULE = "rule"
    CALIPER = "caliper"
    LASER = "laser"


class CouponForm(StrEnum):
    """How long the cross of a printer's coupon is."""

    SHORT = "short"  # for a caliper of 150 mm
    LONG = "long"  # for a caliper of 200 mm


class Purpose(StrEnum):
    """What a pocket does for the thing in it."""

    LOCATE = "locate"
    KEEP_UPRIGHT = "keep upright"
    KEEP_APART = "keep apart"


class FitClass(StrEnum):
    """How a thing goes into its pocket."""

    FALLS_IN = "falls in"
    EASY = "easy"
    CLOSE = "close"
    HELD = "held"


class Says(StrEnum):
    """What a person found when a thing was tried in a gauge."""

    TIGHT = "tight"  # does not go in, or only with force
    GOES_IN = "goes in"  # goes in and comes out as it should
    LOOSE = "loose"  # rattles more than is wanted
