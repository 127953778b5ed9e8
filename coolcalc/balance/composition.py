"""What a mix or a product is made of, and how dense it is.

Shares are by mass. ``frac_mass`` is always glycol over glycol + water: additives are left
out of it, as the freezing curve of pure glycol and water asks. Arrays of shape (n,) and
floats run through the same source.
"""

from typing import NamedTuple

from ..fluids import density_kg_m3_unchecked

#: Products are mixed by volume, and their density is stated, at this temperature. [K]
REFERENCE_TEMP_K = 293.15


class Composition(NamedTuple):
    """Shares by mass, sum 1; floats or (n,) arrays. [kg/kg]."""

    glycol: float
    water: float
    additive: float


class ProductSI(NamedTuple):
    """A product as the ledger sees it.

    ``additive_volume_m3_kg`` is the volume that one kilogram of its additives takes up,
    from the product's stated density. [m3/kg]
    """

    fluid: str
    share: Composition
    additive_volume_m3_kg: float


class OldMix(NamedTuple):
    """What a mix carries beside glycol and water, and which glycol it is.

    ``additive_per_glycol`` in kg/kg, ``additive_volume_m3_kg`` in m3/kg of additives.
    """

    fluid: str
    additive_per_glycol: float
    additive_volume_m3_kg: float


def mix_of_product(product):
    """Return the `OldMix` of mixes that are made from a `ProductSI`."""
    share = product.share
    return OldMix(product.fluid, share.additive / share.glycol, product.additive_volume_m3_kg)


def frac_mass_of(composition):
    """Glycol over glycol + water. [kg/kg]."""
    return composition.glycol / (composition.glycol + composition.water)


def frac_mass_counted(composition):
    """Glycol and additives over all, as if the additives were glycol. [kg/kg].

    Salts and glycol both hold water back from freezing and boiling. What a kilogram of additives
    does is not published for a product; its share of the liquid, counted as glycol, is the far
    end of what is allowed for, and `frac_mass_of`, which ignores them, the near one.
    """
    glycol, water, additive = composition
    return (glycol + additive) / (glycol + water + additive)


def density_kg_m3(fluid, composition, temp_k, additive_volume_m3_kg):
    """Density of glycol, water and additives together. [kg/m3].

    The additives keep their own volume: 1/rho = (g + w)/rho_pure(g/(g + w), T) + a v_a.
    """
    glycol_water = composition.glycol + composition.water
    pure = density_kg_m3_unchecked(fluid, composition.glycol / glycol_water, temp_k)
    return 1.0 / (glycol_water / pure + composition.additive * additive_volume_m3_kg)


def product_density_kg_m3(product, temp_k):
    """Density of a product as sold. [kg/m3]."""
    return density_kg_m3(product.fluid, product.share, temp_k, product.additive_volume_m3_kg)


def composition_of_mix(frac_mass, additive_per_glycol):
    """Composition of a mix that carries ``additive_per_glycol`` kg of additives per kg of glycol.

    Parameters
    ----------
    frac_mass : float or ndarray
        Glycol over glycol + water. [kg/kg]
    additive_per_glycol : float
        As in the product that the mix was made from. [kg/kg]
    """
    additive = frac_mass * additive_per_glycol
    total = 1.0 + additive
    return Composition(frac_mass / total, (1.0 - frac_mass) / total, additive / total)


def frac_mass_from_product_share(product, share_vol):
    """Glycol over glycol + water of a dilution of a product with water. [kg/kg].

    ``share_vol`` is the volume of product over the volumes of product and water, both
    before mixing, at `REFERENCE_TEMP_K`. [m3/m3]
    """
    product_kg = share_vol * product_density_kg_m3(product, REFERENCE_TEMP_K)
    water_kg = (1.0 - share_vol) * density_kg_m3_unchecked(product.fluid, 0.0, REFERENCE_TEMP_K)
    glycol, water, _ = product.share
    return product_kg * glycol / (product_kg * (glycol + water) + water_kg)


def product_share_from_frac_mass(product, frac_mass):
    """Inverse of `frac_mass_from_product_share`; above 1 for a mix stronger than the product.

    [m3/m3].
    """
    glycol, water, _ = product.share
    product_m3_kg = 1.0 / product_density_kg_m3(product, REFERENCE_TEMP_K)
    water_m3_kg = 1.0 / density_kg_m3_unchecked(product.fluid, 0.0, REFERENCE_TEMP_K)
    # Per kilogram of glycol that the product brings, so that no division meets a zero.
    product_kg = frac_mass
    water_kg = glycol - frac_mass * (glycol + water)
    return product_kg * product_m3_kg / (product_kg * product_m3_kg + water_kg * water_m3_kg)
