"""Products as sold, per cent of what, and the mix that they make.

A product is not pure glycol: a concentrate is about 94 % glycol by mass with water and
additives. So a strength always says what it is a percentage of, and a mix knows which
product's additives it carries.
"""

import dataclasses
import math
import numbers
from typing import NamedTuple

from . import fluids, units
from .balance.composition import (
    REFERENCE_TEMP_K,
    Composition,
    ProductSI,
    composition_of_mix,
    density_kg_m3,
    frac_mass_from_product_share,
    product_share_from_frac_mass,
)
from .errors import InputError, one_of
from .units import Q

OF_PRODUCT, GLYCOL_BY_VOLUME, GLYCOL_BY_MASS = units.STRENGTH_BASES

#: What each basis means, in the words that answers print.
BASIS_WORDS = {
    OF_PRODUCT: "% of product as sold, by volume before mixing at 20 °C",
    GLYCOL_BY_VOLUME: "% of pure glycol, by volume before mixing at 20 °C",
    GLYCOL_BY_MASS: "% of glycol by mass of glycol + water",
}
BASIS_SHORT = {
    OF_PRODUCT: "% of product",
    GLYCOL_BY_VOLUME: "% glycol by volume",
    GLYCOL_BY_MASS: "% glycol by mass",
}

# The volume of a kilogram of dissolved additives lies well inside these bounds; a density
# outside them belongs to another liquid, or to another temperature. Common practice, no source.
_ADDITIVE_VOLUME_M3_KG = (1e-4, 2e-3)

#: Largest give or take of a strength that is worth correcting on. [-]
ERROR_MAX_SHARE = 0.2


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
        _refuse_water(self)
        read = Strength.of("strength", strength)
        return Mixture(
            product=self,
            frac_mass=read.frac_mass(self),
            half_width=read.half_width_frac_mass(self),
        )


def _refuse_water(product):
    if product.is_water:
        raise InputError(
            "product", product.name, "water makes no mix; name the glycol product, at 0 %."
        )


def _number(field, value, low, high=math.inf):
    # `low <= value` is false for NaN too.
    if not (isinstance(value, numbers.Real) and low <= value <= high and value < math.inf):
        raise InputError(
            field,
            value,
            f"{value!r} is not a number from {low:g} to {high:g}; give a share of one: 0.5.",
        )


def _density_temp(value):
    return units.read("density_temp", value, "temperature", low=273.15, high=313.15)


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


@dataclasses.dataclass(frozen=True)
class Strength:
    """A strength that says what it is a percentage of.

    Attributes
    ----------
    share : float
        0 to 1. [-]
    basis : str
        One of `coolcalc.units.STRENGTH_BASES`.
    half_width : float
        Give or take at 95 %, on the same basis. [-]
    """

    share: float
    basis: str
    half_width: float = 0.0

    def __post_init__(self):
        one_of("basis", self.basis, units.STRENGTH_BASES)
        for field in ("share", "half_width"):
            _number(f"strength {field}", getattr(self, field), 0.0)

    @classmethod
    def of(cls, field, value, *, error="0 %", basis=None):
        """Read a strength from text such as "50 % product"; pass a Strength through.

        Parameters
        ----------
        field : str
            Named in refusals.
        value : Strength or text
        error : text or share
            Give or take at 95 %, on the same basis. [-]
        basis : str, optional
            The basis that a page shows beside the field.
        """
        if isinstance(value, cls):
            return value
        read = units.read(field, value, "strength", unit=basis)
        return cls(
            read.share,
            read.basis,
            units.read(f"{field} error", error, "share", high=ERROR_MAX_SHARE),
        )

    def frac_mass(self, product):
        """Glycol over glycol + water of this strength. [kg/kg].

        The product need not be able to reach it: 80 mass % of a ready-mixed coolant is a number.
        """
        return _FRAC_MASS[self.basis](self.share, product)

    def half_width_frac_mass(self, product):
        """Give or take of `frac_mass`, first order. [kg/kg]."""
        low, high = (
            _FRAC_MASS[self.basis](min(max(self.share + sign * self.half_width, 0.0), 1.0), product)
            for sign in (-1, 1)
        )
        return (high - low) / 2

    def __str__(self):
        return f"{100 * self.share:.3g} {BASIS_SHORT[self.basis]}"


def _of_product(share, product):
    return float(frac_mass_from_product_share(product.si(), share))


def _by_volume(share, product):
    return float(fluids.frac_mass_from_frac_vol(product.fluid, share))


def _by_mass(share, product):
    return share


_FRAC_MASS = {OF_PRODUCT: _of_product, GLYCOL_BY_VOLUME: _by_volume, GLYCOL_BY_MASS: _by_mass}
_SHARE = {
    OF_PRODUCT: lambda frac, product: float(product_share_from_frac_mass(product.si(), frac)),
    GLYCOL_BY_VOLUME: lambda frac, product: float(
        fluids.frac_vol_from_frac_mass(product.fluid, frac)
    ),
    GLYCOL_BY_MASS: lambda frac, product: frac,
}


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

    product: Product
    frac_mass: float
    half_width: float = 0.0

    def __post_init__(self):
        if not isinstance(self.product, Product):
            raise InputError(
                "product",
                self.product,
                f"{self.product!r} is not a product; use Product.generic(…) or from_label.",
            )
        _refuse_water(self.product)
        _number("frac_mass", self.frac_mass, 0.0, 1.0)
        _number("half_width", self.half_width, 0.0)

    @property
    def fluid(self):
        """The glycol."""
        return self.product.fluid

    @property
    def settled(self):
        """Whether laboratories agree on its freezing point."""
        return fluids.settled(self.fluid, self.frac_mass)

    def strength(self, basis=OF_PRODUCT):
        """Return its `Strength` on a basis; above 100 % of a product that is weaker."""
        one_of("basis", basis, units.STRENGTH_BASES)
        return Strength(_SHARE[basis](self.frac_mass, self.product), basis)

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
            Where `settled` is False; use `freeze_bound`.
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
