"""By how much what holds the coolant grows with heat."""

from typing import NamedTuple


class Metal(NamedTuple):
    """A metal: growth of its volume, and whose figure it is. [1/K]."""

    per_k: float
    source: str


#: By name, volume expansion about 20 °C.
METALS = {
    "aluminium": Metal(69e-6, ""),
    "cast iron": Metal(35e-6, ""),
    "copper": Metal(51e-6, ""),
    "brass": Metal(56e-6, ""),
    "steel": Metal(35e-6, ""),
}
