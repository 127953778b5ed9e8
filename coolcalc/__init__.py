"""Coolant mixes and cooling-system capacity: litres to drain and pour, with the reading to expect.

Quantities at the door, SI arrays inside. Every percentage says what it is a percentage of.
"""

from .answers import Answer
from .errors import CoolcalcError
from .instruments import Hydrometer, Refractometer, TestStrip
from .jobs import (
    after_topups,
    batch,
    boil_margin,
    capacity_from_fill,
    capacity_from_parts,
    capacity_from_swap,
    check_water,
    compare_standards,
    correct_mix,
    expansion,
    flush,
    frost_standard,
    refill,
    what_now,
)
from .jobs.frost_answer import FrostStandard
from .mixture import Mixture
from .product import WATER, Product
from .strength import Strength
from .system import CoolingSystem, SideCircuit
from .units import Q


def _save_card(answer, path, **options):
    from .prints import save_card  # what lays out a card is read when one is asked for

    return save_card(answer, path, **options)


def _save_label(answer, path, **options):
    from .prints import save_label

    return save_label(answer, path, **options)


def _save_sheet(answer, path, **options):
    from .prints import save_standard_sheet

    return save_standard_sheet(answer, path, **options)


Answer.card_writer = staticmethod(_save_card)
Answer.label_writer = staticmethod(_save_label)
FrostStandard.sheet_writer = staticmethod(_save_sheet)

__all__ = [
    "WATER",
    "CoolcalcError",
    "CoolingSystem",
    "Hydrometer",
    "Mixture",
    "Product",
    "Q",
    "Refractometer",
    "SideCircuit",
    "Strength",
    "TestStrip",
    "after_topups",
    "batch",
    "boil_margin",
    "capacity_from_fill",
    "capacity_from_parts",
    "capacity_from_swap",
    "check_water",
    "compare_standards",
    "correct_mix",
    "expansion",
    "flush",
    "frost_standard",
    "refill",
    "what_now",
]
