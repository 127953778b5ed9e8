"""By how much what holds the coolant grows with heat."""

from typing import NamedTuple


class Metal(NamedTuple):
    """A metal: growth of its volume, and whose figure it is. [1/K]."""

    per_k: float
    source: str


#: By name, volume expansion near 20 °C: aluminium alloys 23, cast iron 9.9 to 12 and brass 19.1
#: to 21.2 millionths of the length, copper 51 of the volume.
METALS = {
    "aluminium": Metal(69e-6, "gere-5"),
    "cast iron": Metal(33e-6, "gere-5"),
    "copper": Metal(51e-6, "openstax-physics"),
    "brass": Metal(60e-6, "gere-5"),
}
