"""What to read on a mix of uncertain strength: the freezing scale, whose curve turns."""

from typing import Any, NamedTuple

import numpy as np

from .. import fluids, units
from ..errors import InputError


class Interval(NamedTuple):
    """Lowest, likeliest and highest value, at 95 %.

    Quantities; plain floats where the name of what holds it ends in a unit.
    """

    low: Any
    value: Any
    high: Any


#: Fields that say what is wanted; all others are readings.
WANTED = ("target", "accept, weakest", "accept, strongest")

_WARMER = "Choose a warmer one."
_DILUTE = (
    "Dilute a sample with as much water, read that, and enter it as read on a sample diluted 1:1."
)


def read_freezing_point(field, value, fluid):
    """Read a freezing point within the settled range of a fluid. [K]."""
    lowest = fluids.freeze_temp_k(fluid, fluids.FRAC_MASS_SETTLED_MAX)
    temp_k = units.read(field, value, "freezing point")
    if temp_k < lowest:
        found = units.show(temp_k, "temperature", "°C", 1)
        raise InputError(
            field,
            found,
            f"{found} is colder than {units.show(lowest, 'temperature', '°C', 1)}, the freezing "
            f"point at 60 mass % of {fluid}; beyond it laboratories disagree, and no gain "
            f"can be counted on. {_WARMER if field in WANTED else _DILUTE}",
        )
    return temp_k


def frac_mass_half_width(fluid, frac_mass, error_k):
    """Give or take in strength that a freezing point's give or take makes, first order. [kg/kg]."""
    step = 1e-4
    near = min(max(frac_mass, step), fluids.FRAC_MASS_SETTLED_MAX - step)
    rise = fluids.freeze_temp_k(fluid, near - step) - fluids.freeze_temp_k(fluid, near + step)
    return error_k * 2 * step / rise


class FreezeInterval(NamedTuple):
    """Lowest, likeliest and highest freezing point of an uncertain strength, as read. [K].

    ``weak_k`` is that of the weak end; ``settled`` whether the strong end lies within 60 mass %
    of glycol, ``weak_settled`` whether the weak end does. Where the strong end does not, ``low_k``
    and ``high_k`` are the ends of `coolcalc.fluids.band` over the whole span, and the weak end
    may be the colder one.
    """

    low_k: float
    value_k: float
    high_k: float
    weak_k: float
    settled: bool
    weak_settled: bool


def freeze_interval(fluid, frac_mass, half_width):
    """Return the `FreezeInterval` of a strength, give or take, at 95 %. [kg/kg]."""
    strong, weak = min(frac_mass + half_width, 1.0), max(frac_mass - half_width, 0.0)
    # Beyond 60 mass % the bounds turn, so the ends of the span alone could miss the widest.
    span = np.concatenate([[frac_mass], np.linspace(weak, strong, 101)])
    warm = fluids.freeze_bound_k(fluid, span)[1]
    low, high = warm[1:], warm[1:]
    if strong > fluids.FRAC_MASS_SETTLED_MAX:
        low, high, _ = fluids.band("freeze_temp_k", fluid, span[1:])
    return FreezeInterval(
        low_k=float(low.min()),
        value_k=float(warm[0]),
        high_k=float(high.max()),
        weak_k=float(warm[1]),
        settled=strong <= fluids.FRAC_MASS_SETTLED_MAX,
        weak_settled=weak <= fluids.FRAC_MASS_SETTLED_MAX,
    )
