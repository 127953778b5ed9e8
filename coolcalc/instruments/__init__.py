"""Instruments that tell how strong a mix is, what they read, and what to expect on them."""

from .expected import (
    FreezeInterval,
    Interval,
    frac_mass_half_width,
    freeze_interval,
    read_freezing_point,
)
from .hydrometer import Hydrometer
from .reading import Reading
from .refractometer import Refractometer
from .scales import MIXED, SCALES
from .strip import TestStrip

__all__ = [
    "MIXED",
    "SCALES",
    "FreezeInterval",
    "Hydrometer",
    "Interval",
    "Reading",
    "Refractometer",
    "TestStrip",
    "frac_mass_half_width",
    "freeze_interval",
    "read_freezing_point",
]
