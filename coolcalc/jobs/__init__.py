"""The questions that people ask: one file a question."""

from .after_topups import after_topups
from .after_topups_answer import AfterTopups
from .batch import batch
from .batch_answer import Batch
from .boil_margin import boil_margin
from .boil_margin_answer import BoilMargin
from .capacity_answer import FilledCapacity
from .capacity_from_fill import capacity_from_fill
from .capacity_from_parts import capacity_from_parts
from .capacity_from_swap import capacity_from_swap
from .capacity_parts_answer import PartsCapacity
from .capacity_swap_answer import SwapCapacity
from .check_water import check_water
from .check_water_answer import WaterCheck
from .compare_standards import compare_standards
from .correct_mix import correct_mix
from .expansion import expansion
from .expansion_answer import Expansion
from .flush import flush
from .flush_answer import Flush
from .frost_answer import FrostStandard
from .frost_standard import frost_standard
from .mix_correction import MixCorrection
from .refill import refill
from .refill_answer import Refill
from .standards_compared import StandardsCompared
from .what_now import what_now
from .what_now_answer import WhatNow

__all__ = [
    "AfterTopups",
    "Batch",
    "BoilMargin",
    "Expansion",
    "FilledCapacity",
    "Flush",
    "FrostStandard",
    "MixCorrection",
    "PartsCapacity",
    "Refill",
    "StandardsCompared",
    "SwapCapacity",
    "WaterCheck",
    "WhatNow",
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
