"""The questions that people ask: one file a question."""

from .batch import batch
from .batch_answer import Batch
from .correct_mix import correct_mix
from .mix_correction import MixCorrection
from .refill import refill
from .refill_answer import Refill
from .what_now import what_now
from .what_now_answer import WhatNow

__all__ = [
    "Batch",
    "MixCorrection",
    "Refill",
    "WhatNow",
    "batch",
    "correct_mix",
    "refill",
    "what_now",
]
