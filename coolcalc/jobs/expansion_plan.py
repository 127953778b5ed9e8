"""One system for the kernels of `expansion`: rise of the level, pressure, and what goes out."""

import math
from typing import Any, NamedTuple

import numpy as np

from .. import fluids
from ..balance import boiling, expansion
from ..balance.composition import frac_mass_counted, mix_of_product
from ..fluids.bands import growth_widths
from ..instruments import Interval
from .mix_plan import contents_of

#: Where the growth goes: under the cap with its air, or past the cap into a bottle without
#: pressure.
UNDER_CAP, BOTTLE = "expansion tank", "overflow bottle"
TANKS = (UNDER_CAP, BOTTLE)

#: By how much of the coolant's rise in temperature the gas above it gets warmer, at least. By
#: judgement, no source: a tank stands in the engine bay, and warm coolant flows through it.
GAS_SHARE = 0.7

#: Whether there is room for the growth.
FITS, MAY_NOT_FIT, NO_ROOM, ROOM_NOT_TOLD = "fits", "may not fit", "no room", "room not told"


class Heating(NamedTuple):
    """A system that is heated from the cold mark, in SI.

    Attributes
    ----------
    mixture : Mixture
    capacity_m3, capacity_error_m3 : float
        Full to the cold mark, and its give or take. [m3]
    cold_k : float
        At the cold mark. [K]
    metal_per_k : float
        Volume expansion of what holds the liquid. [1/K]
    outside_pa : float
        Outside air. [Pa]
    """

    mixture: Any
    capacity_m3: float
    capacity_error_m3: float
    cold_k: float
    metal_per_k: float
    outside_pa: float

    def liquid_share(self, temp_k, frac_mass=None):
        """Return the share by which the liquid grows from the cold mark, (n,). [K, -]."""
        frac_mass = self.mixture.frac_mass if frac_mass is None else frac_mass
        mix = mix_of_product(self.mixture.product.si())
        inside = contents_of(mix, self.capacity_m3, frac_mass, self.cold_k)
        return expansion.liquid_growth(inside, self.cold_k, np.atleast_1d(temp_k))

    def metal_share(self, temp_k):
        """Return the share by which what holds the liquid grows. [K, -]."""
        return self.metal_per_k * (np.atleast_1d(temp_k) - self.cold_k)

    def rise_m3(self, temp_k, frac_mass=None):
        """Return the rise of the level, (n,); a fall is negative. [K, m3]."""
        change_k = np.atleast_1d(temp_k) - self.cold_k
        share = self.liquid_share(temp_k, frac_mass)
        return expansion.level_rise_m3(self.capacity_m3, share, self.metal_per_k, change_k)

    def causes_m3(self, temp_k):
        """Return what each input takes off the rise, and adds: "growth", "capacity", "found".

        "growth" is how far published tables lie from the model. Pairs of (n,). [K, m3]
        """
        temp_k = np.atleast_1d(temp_k)
        frac, half = self.mixture.frac_mass, self.mixture.half_width
        value = self.rise_m3(temp_k)
        less, more = growth_widths(self.mixture.fluid, frac, self.cold_k, temp_k)
        # What grows more with heat shrinks more in the cold.
        hotter = temp_k >= self.cold_k
        below, above = np.where(hotter, less, more), np.where(hotter, more, less)
        by_capacity = np.abs(value) * self.capacity_error_m3 / self.capacity_m3
        weak, strong = (min(max(frac + move, 0.0), 1.0) for move in (-half, half))
        moved = np.sort([self.rise_m3(temp_k, each) - value for each in (weak, strong)], axis=0)
        return {
            "growth": (self.capacity_m3 * below, self.capacity_m3 * above),
            "capacity": (by_capacity, by_capacity),
            "found": (np.maximum(-moved[0], 0.0), np.maximum(moved[1], 0.0)),
        }

    def rise_ends_m3(self, temp_k):
        """Return the least, likeliest and most rise of the level, each (n,). [K, m3]."""
        value = self.rise_m3(temp_k)
        below, above = (
            np.sqrt(sum(part**2 for part in side))
            for side in zip(*self.causes_m3(temp_k).values(), strict=True)
        )
        return value - below, value, value + above

    def rise_span(self, temp_k):
        """Return the `Interval` of the rise at one temperature. [K, m3]."""
        return Interval(*(float(each[0]) for each in self.rise_ends_m3(temp_k)))


def boils_k(heating, gauge_pa):
    """Return the least and likeliest boiling point under a pressure above the outside air. [K]."""
    mixture = heating.mixture
    band = boiling.boil_band(
        mixture.fluid,
        mixture.frac_mass,
        frac_mass_counted(mixture.share),
        mixture.half_width,
        heating.outside_pa,
        np.array([gauge_pa]),
        0.0,
    )
    return float(band.low_k[0]), float(band.value_k[0])


#: Which of the ends of the rise an air space is squeezed by.
LEAST, LIKELIEST, MOST = 0, 1, 2


class Closed(NamedTuple):
    """The closed air space above a system that is heated, in SI.

    Attributes
    ----------
    heating : Heating
    room_m3 : float
        Air space at the cold mark. [m3]
    cap_pa : float
        What the cap holds above the outside air. [Pa]
    gas_share : float
        Share of the coolant's rise in temperature that the gas takes part in. [-]
    end : int
        By which growth it is squeezed: `LEAST`, `LIKELIEST` or `MOST`.
    """

    heating: Heating
    room_m3: float
    cap_pa: float
    gas_share: float
    end: int = LIKELIEST

    def rise_m3(self, temp_k):
        """Return the rise of the level, (n,). [K, m3]."""
        return self.heating.rise_ends_m3(temp_k)[self.end]

    @property
    def space(self):
        """The `expansion.AirSpace`, one row."""
        here = self.heating
        cold_k, outside_pa = np.array([here.cold_k]), np.array([here.outside_pa])
        return expansion.AirSpace(
            np.array([self.room_m3]), cold_k, outside_pa, self._vapor_over(cold_k)
        )

    @property
    def most_pa(self):
        """What the cap holds, absolute. [Pa]."""
        return self.heating.outside_pa + self.cap_pa

    def gas_k(self, temp_k):
        """Return the temperature of the gas over coolant, (n,). [K]."""
        cold_k = self.heating.cold_k
        return cold_k + self.gas_share * (np.atleast_1d(temp_k) - cold_k)

    def _vapor_over(self, gas_k):
        mixture = self.heating.mixture
        return fluids.vapor_pressure_pa_unchecked(mixture.fluid, mixture.frac_mass, gas_k)

    def vapor_pa(self, temp_k):
        """Return the vapour in the gas over coolant at one temperature. [K, Pa]."""
        return float(self._vapor_over(self.gas_k(temp_k))[0])

    def _gas(self, temp_k):
        gas_k = self.gas_k(temp_k)
        return gas_k, self._vapor_over(gas_k)

    def pressure_pa(self, temp_k):
        """Return the pressure above the outside air if nothing is let out, (n,). [K, Pa].

        NaN where no air space is left.
        """
        inside_pa = expansion.pressure_pa(self.space, self.rise_m3(temp_k), *self._gas(temp_k))
        return inside_pa - self.heating.outside_pa

    def reaches_cap_k(self, hot_k):
        """Return the coolant's temperature at which the cap's pressure is reached; None. [K]."""
        cold_k = self.heating.cold_k
        found = expansion.first_reached_k(self.pressure_pa, cold_k, hot_k, self.cap_pa)
        return None if math.isnan(found) else found

    def air_let_out(self, hot_k):
        """Return the share of the air that leaves where air stands below the cap. [-]."""
        rise_m3 = self.rise_m3(hot_k)
        return float(expansion.air_let_out(self.space, rise_m3, *self._gas(hot_k), self.most_pa)[0])

    def coolant_out_m3(self, hot_k):
        """Return the hot litres that leave where coolant stands at the cap; None. [m3]."""
        rise_m3 = self.rise_m3(hot_k)
        gas = self._gas(hot_k)
        out = _known(expansion.coolant_pushed_out_m3(self.space, rise_m3, *gas, self.most_pa))
        return None if out is None else min(out, self.heating.capacity_m3)

    def _factor(self, hot_k):
        return expansion.air_factor(self.space, *self._gas(hot_k), self.most_pa)

    def room_needed_m3(self, hot_k):
        """Return the room with which the pressure stays under the cap; None. [m3]."""
        rise_m3 = self.rise_m3(hot_k)
        return _known(expansion.room_needed_m3(rise_m3, self._factor(hot_k)))

    def settles_m3(self, hot_k):
        """Return the cold litres below the mark where pushing out coolant ends; None. [m3]."""
        here = self.heating
        more = (self.rise_m3(hot_k) - here.rise_m3(hot_k)) / here.capacity_m3
        return _known(
            expansion.settles_m3(
                self.room_m3,
                here.capacity_m3,
                here.liquid_share(hot_k) + more,
                here.metal_share(hot_k),
                self._factor(hot_k),
            )
        )


def _known(figure):
    """Return a figure of one row; None where there is none."""
    return None if np.isnan(figure[0]) else float(figure[0])
