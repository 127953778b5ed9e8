"""Coolant mixes and cooling-system capacity: litres to drain and pour, with the reading to expect.

Quantities at the door, SI arrays inside. Every percentage says what it is a percentage of.
"""

from . import prints as prints  # gives every answer its card
from .errors import CoolcalcError
from .instruments import Hydrometer, Refractometer, TestStrip
from .jobs import batch, correct_mix, what_now
from .mixture import Mixture
from .product import WATER, Product
from .strength import Strength
from .system import CoolingSystem, SideCircuit
from .units import Q

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
    "batch",
    "correct_mix",
    "what_now",
]
