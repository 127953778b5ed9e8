"""By how much what holds the coolant grows with heat."""

from typing import NamedTuple


class Metal(NamedTuple):
    """A metal: growth of its volume, and whose figure it is. [1/K]."""

    per_k: float
    source: str


#: By name, volume expansion near 20 °C. Of the length, in millionths: aluminium alloys 23 (a
#: casting alloy 21.5), grey cast iron 11.4, brass 19.9, copper 17.0; steel 35 of the volume.
METALS = {
    "aluminium": Metal(69e-6, "gere-5"),
    "cast iron": Metal(34.2e-6, "callister-b6"),
    "copper": Metal(51e-6, "callister-b6"),
    "brass": Metal(59.7e-6, "callister-b6"),
    "steel": Metal(35e-6, "openstax-physics"),
}

#: Other names of them.
ALSO = {"aluminum": "aluminium", "iron": "cast iron"}


def metal_named(told):
    """Return the name under which a metal stands in `METALS`; None where it is none of them."""
    name = told.strip().casefold() if isinstance(told, str) else ""
    name = ALSO.get(name, name)
    return name if name in METALS else None
