"""A mix of one product with water, and what it does: freezes, boils, weighs, bends light.

A mix asks its product only for the fluid, the shares and the volume of the additives, so this
file stands above the products that make mixes.
"""

import contextlib
import dataclasses
from typing import Any

import numpy as np

from . import fluids, units
from .balance.composition import composition_of_mix, density_kg_m3, frac_mass_counted
from .errors import InputError, OutOfRangeError
from .strength import OF_PRODUCT, Strength, check_number
from .units import Q

#: Outside air where no altitude is given: the standard atmosphere. [Pa]
OUTSIDE_AIR_PA = 101325.0


def refuse_water(product):
    """Refuse to call water with water a mix."""
    if product.is_water:
        raise InputError(
            "product", product.name, "water makes no mix; name the glycol product, at 0 %."
        )


@dataclasses.dataclass(frozen=True, kw_only=True)
class Mixture:
    """A mix of one product with water.

    Attributes
    ----------
    product : Product
        The product whose additives it carries.
    frac_mass, half_width : float
        Glycol over glycol + water, and its give or take at 95 %. [kg/kg]
    """

    product: Any  # a Product: products stand below
    frac_mass: float
    half_width: float = 0.0

    def __post_init__(self):
        if not hasattr(self.product, "si"):
            raise InputError(
                "product",
                self.product,
                f"{self.product!r} is not a product; use Product.generic(…) or from_label.",
            )
        refuse_water(self.product)
        check_number("frac_mass", self.frac_mass, 0.0, 1.0)
        check_number("half_width", self.half_width, 0.0)

    @property
    def fluid(self):
        """The glycol."""
        return self.product.fluid

    @property
    def settled(self):
        """Whether its freezing point has a value, not bounds alone; see `fluids.settled`."""
        return fluids.settled(self.fluid, self.frac_mass)

    def strength(self, basis=OF_PRODUCT):
        """Return its `Strength` on a basis; above 100 % of a product that is weaker."""
        return Strength.from_frac_mass(self.frac_mass, basis, self.product)

    @property
    def share(self):
        """Shares by mass, a `Composition`: it carries its product's additives. [kg/kg]."""
        share = self.product.share
        return composition_of_mix(self.frac_mass, share.additive / share.glycol)

    @property
    def freeze_bound(self):
        """Lowest and highest freezing point that published work allows, two quantities.

        For glycol and water alone: additives are not counted.
        """
        low, high = fluids.freeze_bound_k(self.fluid, self.frac_mass)
        return Q(low, "kelvin"), Q(high, "kelvin")

    @property
    def freeze_temp(self):
        """First-crystal temperature, additives not counted.

        Up to 60 mass % of glycol that is the weaker promise. Stronger, it is where crystals of
        the glycol form, of no use as protection: see `freeze_band`.

        Raises
        ------
        NotSettledError
            Where `settled` is False; use `freeze_bound`.
        """
        return Q(fluids.freeze_temp_k(self.fluid, self.frac_mass), "kelvin")

    @property
    def freeze_band(self):
        """Lowest and highest first-crystal temperature of this product's mix, two quantities.

        From additives counted as if they were glycol to additives ignored, each with the band of
        the curve (`coolcalc.fluids.band`), at 95 %.
        """
        return self._band("freeze_temp_k")

    def _band(self, name, *at):
        # The coldest mix may lie between the ends: beyond it more glycol freezes sooner.
        fracs = np.linspace(self.frac_mass, frac_mass_counted(self.share), 17)
        with _in_words():
            low, high, _ = fluids.band(name, self.fluid, fracs, *at)
        return Q(float(low.min()), "kelvin"), Q(float(high.max()), "kelvin")

    def refractive_index(self, temp="20 °C"):
        """Return the refractive index at a temperature, additives not counted. [-].

        An instrument sees glycol and additives together; `refractive_index_band` has both ends.
        """
        with _in_words():
            return fluids.refractive_index(self.fluid, self.frac_mass, _temp_k(temp))

    def refractive_index_band(self, temp="20 °C"):
        """Return the lowest and highest refractive index of this product's mix. [-].

        From additives ignored to additives counted as if they were glycol (a dissolved salt bends
        light about as much, mass for mass; by how much is not published for a product), each with
        the band of the curve, at 95 %.
        """
        ends = np.array([self.frac_mass, frac_mass_counted(self.share)])
        with _in_words():
            low, high, _ = fluids.band("refractive_index", self.fluid, ends, _temp_k(temp))
        return float(low.min()), float(high.max())

    def boil_temp(self, pressure="0 kPa gauge"):
        """Boiling point, additives not counted, as a quantity: the weaker promise.

        Parameters
        ----------
        pressure : text or Quantity
            Above the outside air, which is taken at 101.325 kPa; a pressure that does not say so
            is taken as gauge too, as a cap is marked. [Pa]

        Raises
        ------
        InputError
            Where no boiling point is given: see `coolcalc.fluids.boil_temp_k`.
        """
        pressure_pa = _absolute_pa(pressure)
        with _in_words():
            return Q(fluids.boil_temp_k(self.fluid, self.frac_mass, pressure_pa), "kelvin")

    def boil_band(self, pressure="0 kPa gauge"):
        """Lowest and highest boiling point of this product's mix, two quantities.

        From additives ignored to additives counted as if they were glycol, each with the band of
        the curve, at 95 %. `pressure` as for `boil_temp`.
        """
        return self._band("boil_temp_k", _absolute_pa(pressure))

    def density(self, temp="20 °C"):
        """Return the density at a temperature, additives counted, as a quantity.

        Parameters
        ----------
        temp : text or Quantity
            From the freezing point to 130 °C. [K]

        Raises
        ------
        InputError
            Outside that range: see `coolcalc.fluids.density_kg_m3`.
        """
        temp_k = _temp_k(temp)
        with _in_words():
            fluids.density_kg_m3(self.fluid, self.frac_mass, temp_k)  # refuses outside its range
        volume = self.product.additive_volume_m3_kg
        return Q(float(density_kg_m3(self.fluid, self.share, temp_k, volume)), "kg/m^3")


#: How the units of the properties are shown to whoever typed °C and kPa: kind, unit, decimals.
_SHOWN = {"K": ("temperature", "°C", 1), "Pa": ("absolute pressure", "kPa", 1)}


@contextlib.contextmanager
def _in_words():
    """Turn a property's refusal, in SI units, into one in the units of the door."""
    try:
        yield
    except OutOfRangeError as error:
        if error.unit not in _SHOWN:
            raise
        found, low, high = (
            units.show(each, *_SHOWN[error.unit]) for each in (error.value, error.low, error.high)
        )
        raise InputError(
            error.what,
            found,
            f"{found} is outside {low} to {high}, the range of {error.source} at this strength. "
            "Ask inside it, or for another strength.",
        ) from None


def _absolute_pa(gauge):
    return OUTSIDE_AIR_PA + units.read("pressure", gauge, "gauge pressure")


def _temp_k(temp):
    return units.read("temp", temp, "temperature")
