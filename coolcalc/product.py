"""Products as sold: generic ones, by their shares, or by what a label says.

A product is not pure glycol: a concentrate is about 94 % glycol by mass with water and
additives. So a mix knows which product's additives it carries.
"""

import dataclasses
from typing import NamedTuple

from . import fluids, units
from .balance.composition import (
    REFERENCE_TEMP_K,
    Composition,
    ProductSI,
    composition_of_mix,
    density_kg_m3,
    frac_mass_from_product_share,
    product_density_kg_m3,
)
from .errors import InputError, one_of
from .mixture import Mixture, refuse_water
from .strength import Strength
from .units import Q

#: Products are measured out and weighed within these temperatures. [K]
MEASURED_TEMP_K = (273.15, 313.15)

# The volume of a kilogram of dissolved additives lies well inside these bounds; a density
# outside them belongs to another liquid, or to another temperature. Common practice, no source.
_ADDITIVE_VOLUME_M3_KG = (1e-4, 2e-3)


class Claim(NamedTuple):
    """What a label promises: a freezing point at a dilution by volume. [K, m3/m3]."""

    freeze_k: float
    share_vol: float


@dataclasses.dataclass(frozen=True, kw_only=True)
class Product:
    """A liquid that can be poured: concentrate, ready-mixed, or water.

    Attributes
    ----------
    name : str
        As printed in answers.
    fluid : str
        One of `coolcalc.fluids.FLUIDS`, or "water".
    share : Composition
        Shares by mass of glycol, water and additives. [kg/kg]
    density_kg_m3 : float
        At 20 °C, as stated or as found from the shares. [kg/m3]
    claim : Claim or None
        The label's own freezing point, where the product was described by it.
    remark : str
        A disagreement between the label and what pure glycol can give; else "".
    made_from : Product or None
        The concentrate that a ready-mixed coolant was made from with water, where it is known;
        "% of product" of a mix then means of that, as the trade means it.
    """

    name: str
    fluid: str
    share: Composition
    density_kg_m3: float
    claim: Claim | None = None
    remark: str = ""
    made_from: "Product | None" = None

    @classmethod
    def generic(cls, name):
        """Return a product with usual shares and density.

        Parameters
        ----------
        name : str
            One of `GENERIC`: the concentrates and ready-mixed coolants of ethylene and
            propylene glycol.

        Raises
        ------
        InputError
            For any other name, with the list.
        """
        return GENERIC[one_of("product", name, GENERIC)]

    @classmethod
    def from_shares(cls, *, name, fluid, glycol, density, additive="3 %", density_temp="20 °C"):
        """Describe a product by its shares by mass and its density; the rest is water.

        Parameters
        ----------
        name : str
        fluid : str
            One of `coolcalc.fluids.FLUIDS`.
        glycol, additive : text or share
            Shares by mass of the product. [kg/kg]
        density, density_temp : text or Quantity
            Of the product as sold, and the temperature that it is stated at. [kg/m3, K]

        Raises
        ------
        InputError
            If the shares exceed the whole, or the density cannot be that of such a liquid.
        """
        one_of("fluid", fluid, fluids.FLUIDS)
        glycol_share = units.read("glycol", glycol, "share")
        additive_share = units.read("additive", additive, "share", high=0.2)
        return cls._checked(name, fluid, glycol_share, additive_share, density, density_temp)

    @classmethod
    def from_label(
        cls,
        *,
        name,
        fluid,
        freezing_point,
        dilution,
        density,
        additive="3 %",
        density_temp="20 °C",
    ):
        """Describe a product by what its label says: a freezing point at a dilution.

        The glycol share is solved for, so that the dilution freezes where the label says.
        A claim colder than pure glycol could give is kept as the label's claim and named in
        `remark`; litres are then balanced as if all but the additives were glycol.

        Parameters
        ----------
        name : str
        fluid : str
            One of `coolcalc.fluids.FLUIDS`.
        freezing_point : text or Quantity
            Of the dilution. [K]
        dilution : text or share
            Volume of product over product + water before mixing, 20 °C; "100 %" for a
            ready-mixed coolant. [m3/m3]
        density, density_temp : text or Quantity
            Of the product as sold, and the temperature that it is stated at. [kg/m3, K]
        additive : text or share
            Share by mass of the product. [kg/kg]

        Raises
        ------
        InputError
            If a figure cannot be true.
        """
        one_of("fluid", fluid, fluids.FLUIDS)
        settled = fluids.freeze_temp_k(fluid, fluids.FRAC_MASS_SETTLED_MAX)
        claim_k = units.read(
            "freezing point", freezing_point, "freezing point", low=settled, high=273.05
        )
        share_vol = units.read("dilution", dilution, "share", low=0.01)
        additive_share = units.read("additive", additive, "share", high=0.2)
        stated = units.read("density", density, "density", low=900.0, high=1400.0)
        frac = fluids.frac_mass_from_freeze_temp_k(fluid, claim_k)
        temp_k = _density_temp(density_temp)
        water_kg = (1.0 - share_vol) * fluids.density_kg_m3(fluid, 0.0, REFERENCE_TEMP_K)
        most = 1.0 - additive_share
        # Dilutions are made at 20 °C: a density stated at another temperature is brought there,
        # which takes the shares that are looked for: a few rounds settle both.
        glycol_share, at_20 = most, stated
        for _ in range(8):
            product_kg = share_vol * at_20
            glycol_share = frac * (product_kg * most + water_kg) / product_kg
            mixed = min(glycol_share / most, 1.0)
            warmed = (most / fluids.density_kg_m3(fluid, mixed, temp_k)) - 1.0 / stated
            at_20 = 1.0 / (most / fluids.density_kg_m3(fluid, mixed, REFERENCE_TEMP_K) - warmed)
        remark = ""
        if glycol_share > most:
            strongest = most * product_kg / (most * product_kg + water_kg)
            bound = fluids.freeze_bound_k(fluid, strongest)[0]
            remark = (
                f"The label promises {units.show(claim_k, 'temperature', '°C', 1)} at "
                f"{100 * share_vol:.3g} % of product; pure {fluid} in that amount gives "
                f"{units.show(bound, 'temperature', '°C', 1)} at best. The promise is kept as the "
                "label's own; litres and freezing points here go by mass, with all but the "
                "additives taken as glycol. Check the dilution on the label."
            )
            glycol_share = most
        product = cls._checked(name, fluid, glycol_share, additive_share, density, density_temp)
        return dataclasses.replace(product, claim=Claim(claim_k, share_vol), remark=remark)

    @classmethod
    def _checked(cls, name, fluid, glycol, additive, density, density_temp):
        water = 1.0 - glycol - additive
        if glycol <= 0.0 or water < -1e-9:
            raise InputError(
                "glycol",
                f"{glycol:.1%}",
                f"{100 * glycol:.1f} % of glycol and {100 * additive:.1f} % of additives by mass "
                "do not make a product; glycol is above 0 % and both together at most 100 %.",
            )
        water = max(water, 0.0)
        stated = units.read("density", density, "density", low=900.0, high=1400.0)
        temp_k = _density_temp(density_temp)
        pure = fluids.density_kg_m3(fluid, glycol / (glycol + water), temp_k)
        if additive == 0.0:
            volume = 0.0
            fits = abs(stated / pure - 1.0) < 0.001
        else:
            volume = (1.0 / stated - (1.0 - additive) / pure) / additive
            fits = _ADDITIVE_VOLUME_M3_KG[0] <= volume <= _ADDITIVE_VOLUME_M3_KG[1]
        if not fits:
            raise InputError(
                "density",
                f"{stated:.0f} kg/m³",
                f"{stated:.0f} kg/m³ does not go with {100 * glycol:.1f} % glycol and "
                f"{100 * additive:.1f} % additives by mass: without additives it would be "
                f"{pure:.0f} kg/m³. Check the data sheet, the temperature of the density, and "
                "the shares.",
            )
        share = Composition(glycol, water, additive)
        at_20 = density_kg_m3(fluid, share, REFERENCE_TEMP_K, volume)
        return cls(name=str(name), fluid=fluid, share=share, density_kg_m3=float(at_20))

    @property
    def is_water(self):
        """Whether there is no glycol in it."""
        return self.share.glycol == 0.0

    @property
    def is_concentrate(self):
        """Whether it is meant to be mixed with water: more than three quarters glycol."""
        return self.share.glycol > 0.75

    @property
    def short(self):
        """What strengths are per cent of, as the trade says it: "concentrate" or "product"."""
        return "concentrate" if self.is_concentrate else "product"

    @property
    def additive_volume_m3_kg(self):
        """Volume of a kilogram of its additives, from the density. [m3/kg]."""
        if self.share.additive == 0.0:
            return 0.0
        pure = fluids.density_kg_m3(self.fluid, self.frac_mass, REFERENCE_TEMP_K)
        return (1.0 / self.density_kg_m3 - (1.0 - self.share.additive) / pure) / self.share.additive

    @property
    def frac_mass(self):
        """Glycol over glycol + water. [kg/kg]."""
        return self.share.glycol / (self.share.glycol + self.share.water)

    def si(self, fluid=None):
        """Return what the ledger needs; ``fluid`` says what water is poured into."""
        return ProductSI(
            fluid if self.is_water else self.fluid, self.share, self.additive_volume_m3_kg
        )

    def mix(self, strength):
        """Return the `Mixture` of this product with water at a strength.

        Parameters
        ----------
        strength : Strength or text
            For example "50 % product". Must say per cent of what.
        """
        refuse_water(self)
        read = Strength.of("strength", strength)
        return Mixture(
            product=self,
            frac_mass=read.frac_mass(self),
            half_width=read.half_width_frac_mass(self),
        )

    def mass_of(self, volume, temp="20 °C"):
        """Return what a volume of it weighs, as a quantity in kg.

        Parameters
        ----------
        volume : text or Quantity
            [m3]
        temp : text or Quantity
            Of the product, 0 to 40 °C. [K]

        Raises
        ------
        InputError
            Names the field, the value, the limit and what to do.

        Examples
        --------
        >>> Product.generic("ethylene glycol concentrate").mass_of("5 L").m
        5.64
        """
        return Q(units.read("volume", volume, "volume") * self._density_at(temp), "kg")

    def volume_of(self, mass, temp="20 °C"):
        """Return the volume of a mass of it, as a quantity in L: weigh instead of measure.

        Parameters
        ----------
        mass : text or Quantity
            [kg]
        temp : text or Quantity
            As for `mass_of`. [K]

        Raises
        ------
        InputError
            Names the field, the value, the limit and what to do.
        """
        return Q(1e3 * units.read("mass", mass, "mass") / self._density_at(temp), "L")

    def _density_at(self, temp):
        low, high = MEASURED_TEMP_K
        temp_k = units.read("temp", temp, "temperature", low=low, high=high)
        # Water is the same beside every glycol.
        return float(product_density_kg_m3(self.si(next(iter(fluids.FLUIDS))), temp_k))


def _density_temp(value):
    low, high = MEASURED_TEMP_K
    return units.read("density_temp", value, "temperature", low=low, high=high)


def _concentrate(name, fluid, density):
    return Product.from_shares(name=name, fluid=fluid, glycol="94 %", density=density)


def _ready_mixed(name, concentrate):
    """Half concentrate, half water by volume before mixing at 20 °C."""
    si = concentrate.si()
    frac = frac_mass_from_product_share(si, 0.5)
    share = composition_of_mix(frac, concentrate.share.additive / concentrate.share.glycol)
    share = Composition(*(float(part) for part in share))
    density = density_kg_m3(si.fluid, share, REFERENCE_TEMP_K, si.additive_volume_m3_kg)
    return Product(
        name=name,
        fluid=si.fluid,
        share=share,
        density_kg_m3=float(density),
        made_from=concentrate,
    )


# 94 % glycol, 3 % water, 3 % additives by mass and these densities at 20 °C are usual for
# concentrates; common practice, no source. The published limits that they meet are in the tests.
_EG = _concentrate("ethylene glycol concentrate", "ethylene glycol", "1.128 kg/L")
_PG = _concentrate("propylene glycol concentrate", "propylene glycol", "1.050 kg/L")

#: Water that meets the maker's limits (`check_water` is a later job).
WATER = Product(name="water", fluid="water", share=Composition(0.0, 1.0, 0.0), density_kg_m3=998.2)

#: Generic products by name.
GENERIC = {
    product.name: product
    for product in (
        _EG,
        _PG,
        _ready_mixed("ethylene glycol ready-mixed 50 %", _EG),
        _ready_mixed("propylene glycol ready-mixed 50 %", _PG),
        WATER,
    )
}
