"""Instruments that tell how strong a mix is, and what they read."""

import dataclasses
from typing import NamedTuple

import numpy as np

from . import fluids, units
from .errors import InputError, one_of
from .units import Q

#: What a refractometer's scale can show; each is a way to read it.
SCALES = ("freeze point",)

#: A handheld instrument that is further out than this is not an instrument. [K]
ERROR_MAX_K = 10.0


class Interval(NamedTuple):
    """Lowest, likeliest and highest value, at 95 %; three quantities."""

    low: object
    value: object
    high: object


@dataclasses.dataclass(frozen=True, kw_only=True)
class Refractometer:
    """A handheld refractometer, compensated for temperature and zeroed on water.

    Its freeze-point scale is taken to read the freezing point that answers display, so that a
    reading and the reading to expect agree. It sees glycol and additives together: the scale is
    taken to be laid out for coolant with its usual additives. A scale laid out for pure glycol
    reads a product too cold, by what its additives do: 1 to 2 K at 50 %.

    Parameters
    ----------
    made_for : str
        The glycol that its scale is made for; one of `coolcalc.fluids.FLUIDS`.
    scale : str
        One of `SCALES`.
    error : text or Quantity
        Give or take of one reading at 95 %. The default, 2 °F, is the accuracy that
        ASTM D3321 states (source key ``astm-d3321``). [K]
    name : str

    Raises
    ------
    InputError
        Names the field, the value, the limit and what to do.
    """

    made_for: str
    scale: str = "freeze point"
    error: object = "2 °F"
    name: str = "refractometer"
    error_k: float = dataclasses.field(init=False, repr=False)

    def __post_init__(self):
        one_of("scale", self.scale, SCALES)
        one_of("made_for", self.made_for, fluids.FLUIDS)
        error = units.read("error", self.error, "temperature difference", low=0.0, high=ERROR_MAX_K)
        object.__setattr__(self, "error_k", error)
        object.__setattr__(self, "error", Q(error, "delta_degC"))

    def read(self, value):
        """Return the `Reading` of a value on the scale.

        Parameters
        ----------
        value : text or Quantity
            Freezing point, from 0 °C down to that of 60 mass % of glycol. [K]

        Raises
        ------
        UnclearInputError
            Above 0 °C: a minus is likely to be missing.
        InputError
            Colder than the range in which freezing points are settled.
        """
        return Reading(instrument=self, temp_k=read_freezing_point("reading", value, self.made_for))

    def must_suit(self, fluid, field):
        """Refuse a glycol that the scale was not made for; ``field`` is named."""
        if self.made_for != fluid:
            raise InputError(
                field,
                self.made_for,
                f"the scale was made for {self.made_for}, and the mix is {fluid}. On the wrong "
                "glycol a scale promises degrees that are not there; read with a scale made for "
                "the glycol inside.",
            )

    def expect(self, frac_mass, half_width):
        """Return what it will read on a mix of uncertain strength.

        Parameters
        ----------
        frac_mass, half_width : float
            Glycol over glycol + water, give or take at 95 %. [kg/kg]

        Returns
        -------
        FreezeInterval
            Lowest, likeliest and highest reading. [K]
        """
        return freeze_interval(self.made_for, frac_mass, half_width, self.error_k)


@dataclasses.dataclass(frozen=True, kw_only=True)
class Reading:
    """A freezing point as read on an instrument. [K]."""

    instrument: Refractometer
    temp_k: float

    @property
    def frac_mass(self):
        """Glycol over glycol + water. [kg/kg]."""
        return fluids.frac_mass_from_freeze_temp_k(self.instrument.made_for, self.temp_k)

    @property
    def half_width_frac_mass(self):
        """Give or take of `frac_mass` at 95 %, first order. [kg/kg]."""
        return frac_mass_half_width(
            self.instrument.made_for, self.frac_mass, self.instrument.error_k
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
            "can be counted on. For a reading: dilute a sample with as much water, read that, and "
            "enter twice its per cent of concentrate as a strength. For a target: "
            "choose a warmer one.",
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


def freeze_interval(fluid, frac_mass, half_width, error_k=0.0):
    """Return the `FreezeInterval` of a strength, give or take, at 95 %. [kg/kg, K].

    The reader's own give or take is added as a root of squares.
    """
    own = frac_mass_half_width(fluid, frac_mass, error_k)
    total = (half_width**2 + own**2) ** 0.5
    strong, weak = min(frac_mass + total, 1.0), max(frac_mass - total, 0.0)
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
