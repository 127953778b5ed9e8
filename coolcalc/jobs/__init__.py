"""The questions that people ask: one file a question."""

from .batch import batch
from .batch_answer import Batch
from .correct_mix import correct_mix
from .flush import flush
from .flush_answer import Flush
from .mix_correction import MixCorrection
from .what_now import what_now
from .what_now_answer import WhatNow

__all__ = [
    "Batch",
    "Flush",
    "MixCorrection",
    "WhatNow",
    "batch",
    "correct_mix",
    "flush",
    "what_now",
]
