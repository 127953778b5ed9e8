"""How strong a mix is, and per cent of what.

A product is not pure glycol, and volumes shrink on mixing, so 50 % can mean three strengths, up
to five points apart. Nothing here takes a percentage that does not say which.
"""

import dataclasses
import math
import numbers

from . import fluids, units
from .balance.composition import frac_mass_from_product_share, product_share_from_frac_mass
from .errors import InputError, one_of

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

#: Largest give or take of a strength that is worth correcting on. [-]
ERROR_MAX_SHARE = 0.2


def check_number(field, value, low, high=math.inf):
    """Refuse what is not a number within the limits; NaN and inf never pass."""
    # `low <= value` is false for NaN too.
    if not (isinstance(value, numbers.Real) and low <= value <= high and value < math.inf):
        raise InputError(
            field,
            value,
            f"{value!r} is not a number from {low:g} to {high:g}; give a share of one: 0.5.",
        )


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
            check_number(f"strength {field}", getattr(self, field), 0.0)

    @classmethod
    def from_frac_mass(cls, frac_mass, basis, product):
        """Return the strength of a mix on a basis; above 100 % of a product that is weaker.

        Parameters
        ----------
        frac_mass : float
            Glycol over glycol + water. [kg/kg]
        basis : str
            One of `coolcalc.units.STRENGTH_BASES`.
        product : Product
            Whose per cent is meant by "of product".
        """
        return cls(_SHARE[one_of("basis", basis, units.STRENGTH_BASES)](frac_mass, product), basis)

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
        """Glycol over glycol + water of this strength in mixes of a product. [kg/kg].

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
