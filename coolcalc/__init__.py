"""Coolant mixes and cooling-system capacity: litres to drain and pour, with the reading to expect.

Quantities at the door, SI arrays inside. Every percentage says what it is a percentage of.
"""

from .errors import CoolcalcError
from .instruments import Hydrometer, Refractometer, TestStrip
from .jobs import correct_mix
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
    "correct_mix",
]
