"""A mix of one product with water, and what it does: freezes, weighs.

A mix asks its product only for the fluid, the shares and the volume of the additives, so this
file stands above the products that make mixes.
"""

import dataclasses
from typing import Any

from . import fluids, units
from .balance.composition import composition_of_mix, density_kg_m3
from .errors import InputError
from .strength import OF_PRODUCT, Strength, check_number
from .units import Q


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
        """Whether laboratories agree on its freezing point."""
        return self.frac_mass <= fluids.FRAC_MASS_SETTLED_MAX

    def strength(self, basis=OF_PRODUCT):
        """Return its `Strength` on a basis; above 100 % of a product that is weaker."""
        return Strength.from_frac_mass(self.frac_mass, basis, self.product)

    @property
    def freeze_bound(self):
        """Lowest and highest freezing point that published work allows, two quantities."""
        low, high = fluids.freeze_bound_k(self.fluid, self.frac_mass)
        return Q(low, "kelvin"), Q(high, "kelvin")

    @property
    def freeze_temp(self):
        """First-crystal temperature, additives not counted.

        Raises
        ------
        NotSettledError
            Above 60 mass % of glycol; use `freeze_bound`.
        """
        return Q(fluids.freeze_temp_k(self.fluid, self.frac_mass), "kelvin")

    def density(self, temp="20 °C"):
        """Density at a temperature, additives counted, as a quantity."""
        temp_k = units.read("temp", temp, "temperature")
        si = self.product.si()
        share = composition_of_mix(self.frac_mass, si.share.additive / si.share.glycol)
        fluids.density_kg_m3(self.fluid, self.frac_mass, temp_k)  # refuses outside its range
        value = density_kg_m3(self.fluid, share, temp_k, si.additive_volume_m3_kg)
        return Q(float(value), "kg/m^3")
