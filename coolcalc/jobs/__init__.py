"""The questions that people ask: one file a question."""

from .correct_mix import MixCorrection, correct_mix

__all__ = ["MixCorrection", "correct_mix"]
