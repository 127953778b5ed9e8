"""The hydrometer: by specific gravity, or by a freezing-point scale."""

import dataclasses
import math
from typing import Any

import numpy as np

from .. import units
from ..balance.composition import OldMix, mix_of_product
from ..balance.reading import densest_frac_mass, frac_mass_from_gravity, gravity_shown
from ..errors import InputError, one_of
from ..fluids import REFERENCE_60_F_K
from ..strength import GLYCOL_BY_MASS
from .instrument import STEP, Instrument, of_line

#: Temperatures that a scale is laid out at. [K]
REFERENCE_RANGE_K = (273.15, 303.15)


@dataclasses.dataclass(frozen=True, kw_only=True)
class Hydrometer(Instrument):
    """A hydrometer: a float that shows how heavy a sample is, by one of its scales.

    The sample's temperature is corrected for by the expansion of the mix itself, and by that of
    the glass (source key ``iso-1768``). Additives make a mix heavier: their share and volume are
    the product's, so a reading is no better than what is known of the product.

    Parameters
    ----------
    made_for : str or tuple of str
        The glycol that a freezing-point scale is made for; specific gravity needs none.
    scale : str
        "specific gravity" or "freeze point".
    error : text or Quantity
        Give or take of one reading at 95 %; 0.005 or 8 °F unless told (common practice, no
        source). [unit of the scale]
    repeatability : text or Quantity, optional
        As for `Refractometer`.
    reference_temp : text or Quantity
        That the scale was laid out at, against water of the same temperature: 60 °F unless told,
        as ASTM D1122 has it (source key ``astm-d1122``). [K]
    compensated : bool
        Whether it shows what the sample would show at the reference temperature.
    name : str

    Raises
    ------
    InputError
        Names the field, the value, the limit and what to do.

    Examples
    --------
    >>> tool = Hydrometer(reference_temp="20 °C")
    >>> found = tool.read("1.070", inside="ethylene glycol", sample_temp="20 °C")
    >>> round(found.mixture().strength().share, 2)
    0.5
    """

    scale: str = "specific gravity"
    reference_temp: Any = dataclasses.field(default="60 °F", compare=False)
    compensated: bool = False
    reference_temp_k: float = dataclasses.field(init=False, repr=False)

    kind = "hydrometer"
    per_cent_of = GLYCOL_BY_MASS

    def __post_init__(self):
        one_of("compensated", self.compensated, (True, False))
        low, high = REFERENCE_RANGE_K
        reference = units.read(
            "reference_temp", self.reference_temp, "temperature", low=low, high=high
        )
        if abs(reference - REFERENCE_60_F_K) < 0.01:
            reference = REFERENCE_60_F_K
        self._set(reference_temp_k=reference)
        super().__post_init__()

    def read(self, value, *, line=None, inside=None, sample_temp=None, diluted=0):
        """Return the `Reading` of a value on the scale.

        Parameters
        ----------
        value : text or Quantity
            As read: a specific gravity, or a freezing point. [unit of the scale]
        line, inside, diluted
            As for `Refractometer.read`; by specific gravity ``inside`` is needed, unless a job
            is told what is poured.
        sample_temp : text or Quantity
            Of the sample; needed unless the instrument compensates. [K]

        Raises
        ------
        InputError
            Off the scale, or not a mix of this glycol. Where two strengths float alike, the
            `Reading` is given, and its `mixture` refuses with both.
        """
        if not self.compensated and sample_temp is None:
            home = units.show(self.reference_temp_k, "temperature", "°C", 1)
            raise InputError(
                "sample_temp",
                "",
                "a hot sample is lighter and reads too weak; enter the temperature of the sample "
                f"(the scale was laid out at {home}).",
            )
        return self._reading(value, line, inside, sample_temp, diluted)

    def gravity(self, reading, product):
        """Specific gravity that stands at the mark that was read. [-]."""
        if not self.spec.label:
            return reading.value
        own = of_line(reading.line, product)
        mark = self.line_frac_mass(reading.value, reading.line, product)
        reference = self.reference_temp_k
        return float(gravity_shown(_mix(own), mark, reference, reference))

    def fracs(self, reading, product, temp_k=None):
        """Strengths that give a reading on the undiluted sample, weakest first. [kg/kg].

        ``temp_k`` takes the sample as if it had another temperature.
        """
        gravity = np.array([self.gravity(reading, product)])
        at = reading.optics_k if temp_k is None else temp_k
        most, home = product.frac_mass, self.reference_temp_k
        own = frac_mass_from_gravity(_mix(product), gravity, at, home, most)
        strong = own.strong[0]
        # What additives an old mix has is taken on trust. Where a mix without them would float
        # alike at another strength, the reading has two answers; and where the product itself
        # would float so nearly alike that the error covers it.
        plain = OldMix(product.fluid, 0.0, 0.0)
        if np.isnan(strong) and densest_frac_mass(plain, most, at) < most:
            strong = frac_mass_from_gravity(plain, gravity, at, home, most).strong[0]
        turns = densest_frac_mass(_mix(product), most, at) < most
        if turns and np.isnan(strong) and not np.isnan(own.weak[0]):
            off = abs(self._property(most, product, at) - gravity[0])
            strong = (
                most if off <= self._error_of_gravity(own.weak[0], reading, product) else strong
            )
        roots = (own.weak[0], strong)
        return tuple(float(each) for each in roots if not np.isnan(each))

    def _error_of_gravity(self, frac_mass, reading, product):
        if not self.spec.label:
            return self.error_si
        low, high = (
            self._property(frac_mass + sign * STEP, product, reading.optics_k) for sign in (-1, 1)
        )
        half_width = math.hypot(*self.own_half_widths(frac_mass, reading, product))
        return half_width * abs(high - low) / (2 * STEP)

    def ends(self, reading, product):
        """Strengths that the scale can end at: its densest mix too. [kg/kg]."""
        densest = densest_frac_mass(_mix(product), product.frac_mass, reading.optics_k)
        return (0.0, float(densest), product.frac_mass)

    def _mark(self, frac_mass, line, product, temp_k):
        own, reference = of_line(line, product), self.reference_temp_k
        mix, most = _mix(own), own.frac_mass
        gravity = self._property(frac_mass, product, temp_k)
        densest = float(densest_frac_mass(mix, most, reference))
        low, near, high = (
            float(gravity_shown(mix, each, reference, reference)) for each in (0.0, STEP, densest)
        )
        if gravity < low:  # lighter than water: the line goes on as it begins
            return STEP * (gravity - low) / (near - low)
        if gravity > high:
            return densest
        found = frac_mass_from_gravity(mix, np.array([gravity]), reference, reference, most)
        return float(found.weak[0])

    def _property(self, frac_mass, product, temp_k):
        return float(gravity_shown(_mix(product), frac_mass, temp_k, self.reference_temp_k))


def _mix(product):
    return mix_of_product(product.si())
