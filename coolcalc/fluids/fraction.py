"""Mass fraction and volume fraction of glycol.

A volume fraction here is the volume of pure glycol over the volumes of pure glycol and pure
water, measured before mixing, both at 20 °C. It is not per cent of a product as sold, and not
glycol over the volume of the finished mix (the mix shrinks by up to 2 %).
"""

from .density import glycol_volume_m3_kg, water_volume_m3_kg
from .fluid import check, check_frac_mass, fluid_named, numeric

#: Temperature at which the volumes before mixing are measured. [K]
VOLUME_TEMP_K = 293.15


def _glycol_over_water(fluid):
    """Return the specific volume of the glycol over that of water at 20 °C. [-]."""
    return float(glycol_volume_m3_kg(fluid, VOLUME_TEMP_K) / water_volume_m3_kg(VOLUME_TEMP_K))


def frac_mass_from_frac_vol_unchecked(fluid, frac_vol):
    """Return `frac_mass_from_frac_vol` without its checks. [-]."""
    ratio = _glycol_over_water(fluid)
    return frac_vol / (frac_vol + (1.0 - frac_vol) * ratio)


def frac_vol_from_frac_mass_unchecked(fluid, frac_mass):
    """Return `frac_vol_from_frac_mass` without its checks. [-]."""
    ratio = _glycol_over_water(fluid)
    return frac_mass * ratio / (frac_mass * ratio + (1.0 - frac_mass))


def frac_mass_from_frac_vol(fluid, frac_vol):
    """Return the mass fraction of glycol from its volume fraction.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_vol : float or array
        Pure glycol over pure glycol and water, volumes before mixing at 20 °C, 0 to 1. [-]

    Returns
    -------
    float or array
        Mass of glycol over mass of glycol and water. [-]

    Raises
    ------
    OutOfRangeError
        For a fraction that is not from 0 to 1 (NaN and inf too).

    Notes
    -----
    Uses the densities of `density_kg_m3` at 20 °C. At 15.6 °C it would differ by at most 0.0006.

    Examples
    --------
    >>> round(frac_mass_from_frac_vol("ethylene glycol", 0.5), 3)
    0.527
    """
    fluid_named(fluid)
    frac_vol = numeric("glycol volume fraction", frac_vol)
    check("glycol volume fraction", frac_vol, 0.0, 1.0, "m3/m3", "volume fractions")
    return frac_mass_from_frac_vol_unchecked(fluid, frac_vol)


def frac_vol_from_frac_mass(fluid, frac_mass):
    """Return the volume fraction of glycol, before mixing at 20 °C, from its mass fraction.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, 0 to 1. [-]

    Returns
    -------
    float or array
        Pure glycol over pure glycol and water, volumes before mixing at 20 °C. [-]

    Raises
    ------
    OutOfRangeError
        For a fraction that is not from 0 to 1 (NaN and inf too).

    Examples
    --------
    >>> round(frac_vol_from_frac_mass("propylene glycol", 0.5), 3)
    0.491
    """
    fluid_named(fluid)
    frac_mass = numeric("glycol mass fraction", frac_mass)
    check_frac_mass(frac_mass, "mass fractions")
    return frac_vol_from_frac_mass_unchecked(fluid, frac_mass)
