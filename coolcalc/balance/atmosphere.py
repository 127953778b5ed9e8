"""Kernel: the outside air, which every gauge pressure and every open boiling point stands on."""

#: Of the standard atmosphere (ISO 2533): sea level, lapse, gas constant of air, and the radius
#: that turns a height above the sea into a geopotential one. [Pa, K, K/m, J/(kg K), m/s2, m]
SEA_LEVEL_PA, SEA_LEVEL_K, LAPSE_K_M = 101325.0, 288.15, 0.0065
AIR_J_KG_K, GRAVITY_M_S2, EARTH_RADIUS_M = 287.05287, 9.80665, 6356766.0

#: Power of the temperature that the pressure goes with where it falls evenly. [-]
LAPSE_POWER = GRAVITY_M_S2 / (AIR_J_KG_K * LAPSE_K_M)

#: What the weather adds or takes. Common practice, no source. [Pa]
WEATHER_PA = 3000.0


def geopotential_m(altitude_m):
    """Height with which the standard atmosphere reckons, of one above the sea. [m].

    Source key ``iso-2533``: gravity falls off with the square of the distance.
    """
    return altitude_m * EARTH_RADIUS_M / (EARTH_RADIUS_M + altitude_m)


def air_pressure_pa(altitude_m):
    """Pressure of the standard atmosphere at a height above the sea, up to 11 km. [Pa].

    Parameters
    ----------
    altitude_m : float or ndarray
        Geometric, −5,000 to 11,000. [m]

    Notes
    -----
    Source key ``iso-2533``.
    """
    fallen_k = LAPSE_K_M * geopotential_m(altitude_m)
    return SEA_LEVEL_PA * (1.0 - fallen_k / SEA_LEVEL_K) ** LAPSE_POWER
