"""How much hot coolant grows, where the level stands, and what the air space above it does."""

from .. import fluids, units
from ..balance.atmosphere import air_pressure_pa
from ..errors import InputError, Reader, UnclearInputError, one_of
from .expansion_answer import Expansion
from .expansion_plan import GAS_SHARE, TANKS, UNDER_CAP, Heating
from .inputs import (
    WORK_TEMP_K,
    kept,
    read_altitude,
    read_cap,
    read_mix,
    read_system,
    read_unit_system,
)
from .metals import METALS, metal_named

#: No metal of an engine grows less than this in volume; those of length do. [1/K]
LENGTH_LIKE_PER_K = 30e-6

#: Published densities of mixes end at 125 °C; the curves are taken a little further. [K]
HOT_MAX_K = 403.15


def expansion(
    *,
    system,
    found,
    temp="20 °C",
    hottest="105 °C",
    tank=UNDER_CAP,
    room=None,
    below=None,
    cap="100 kPa",
    altitude="0 m",
    metal="aluminium",
    gas=None,
    coldest=None,
    show_in="metric",
):
    """Say how much coolant grows from the cold mark, and what it finds room in.

    For the technician whose tank pushes coolant out, or who wonders at a level that rises hot and
    falls in frost; for whoever chooses a tank. All coolant is taken to be as hot as is told, so it
    is the most.

    Parameters
    ----------
    system : CoolingSystem
        Its capacity is that at the cold mark.
    found : Reading, Mixture or WATER
        What is inside.
    temp : text or Quantity
        Of the coolant when it stood at the cold mark, from its freezing point to 40 °C. [K]
    hottest : text or Quantity
        Hottest coolant, up to 130 °C. [K]
    tank : str
        "expansion tank" (under the cap, with its air) or "overflow bottle" (after the cap, without
        pressure).
    room : text or Quantity, optional
        From the cold mark up to the cap, or to the bottle's brim; 0 where it was filled to there.
        Without it the answer says how much there must be. [m3]
    below : text or Quantity, optional
        From the cold mark down to where air is drawn in (the lowest mark, or the outlet). [m3]
    cap : text, Quantity or None
        Pressure that the cap holds above the outside air; None without one that holds. [Pa]
    altitude : text or Quantity
        Height above the sea. [m]
    metal : text or Quantity
        What holds the coolant, a name in `coolcalc.jobs.metals.METALS`, or its volume expansion.
        [1/K]
    gas : text, Quantity or two of them, optional
        Temperature of the gas in the tank when hot, or the least and the most that it may be.
        Without it, from 0.7 of the coolant's rise to as hot as the coolant. [K]
    coldest : text or Quantity, optional
        Coldest start, for the lowest level; not below the freezing point. [K]
    show_in : str
        One of `coolcalc.units.SYSTEMS`: "metric", "US", "imperial".

    Returns
    -------
    Expansion

    Raises
    ------
    InputError
        The field, the value found, the limit and what to do.
    FormError
        If several inputs cannot be used: all of them.

    Notes
    -----
    Growth by the mass balance on this library's densities; its span by published tables of pure
    and inhibited mixes (`coolcalc.fluids.bands.growth_widths`). The air is an ideal gas, saturated
    with vapour at its own temperature. Hoses that stretch and tanks that grow are not counted:
    both leave more room.

    Examples
    --------
    >>> import coolcalc as cc
    >>> can = cc.Product.generic("ethylene glycol concentrate")
    >>> job = expansion(
    ...     system=cc.CoolingSystem(capacity="10 L"), found=can.mix("50 % product"), temp="15 °C",
    ...     hottest="105 °C", room="1.5 L", metal="69 ppm/K", gas=("80 °C", "105 °C"))
    >>> [round(each.m_as("L"), 2) for each in job.growth]
    [0.49, 0.53, 0.55]
    >>> [round(each.m_as("kPa")) for each in job.pressure]
    [117, 200]
    """
    asked = kept(locals())
    reader = Reader()
    system_given = reader(read_system, system)
    old = reader(read_mix, found)
    cold_k = reader(_read_cold, temp, old)
    hot_k = reader(_read_hot, hottest, cold_k)
    told_tank = tank.strip().casefold() if isinstance(tank, str) else tank
    tank = reader(one_of, "tank", told_tank, TANKS)
    room_m3 = None if room is None else reader(_read_beside, "room", room, system_given)
    below_m3 = None if below is None else reader(_read_beside, "below", below, system_given)
    cap_pa = reader(read_cap, cap)
    altitude_m = reader(read_altitude, altitude)
    metal_per_k = reader(_read_metal, metal)
    gas_share = reader(_read_gas, gas, cold_k, hot_k)
    coldest_k = None if coldest is None else reader(_read_coldest, coldest, cold_k, old)
    unit_system = reader(read_unit_system, show_in)
    reader.raise_if_any()
    return Expansion(
        asked=asked,
        system=system_given,
        found=old.told,
        tank=tank,
        heating=Heating(
            old.mixture,
            system_given.worked_m3,
            system_given.capacity_error_m3,
            cold_k,
            metal_per_k,
            air_pressure_pa(altitude_m),
        ),
        hot_k=hot_k,
        room_m3=room_m3,
        below_m3=below_m3,
        cap_pa=cap_pa,
        altitude_m=altitude_m,
        gas_share=gas_share,
        coldest_k=coldest_k,
        unit_system=unit_system,
        step=units.measuring_step(system_given.worked_m3, unit_system.volume),
    )


def _degrees(temp_k):
    return units.show(temp_k, "temperature", "°C", 0)


def _read_cold(temp, old):
    """Return the temperature at which the level stood at the cold mark. [K]."""
    cold_k = units.read("temp", temp, "temperature")
    if cold_k > WORK_TEMP_K[1]:
        raise InputError(
            "temp",
            _degrees(cold_k),
            f"{_degrees(cold_k)} is not the temperature of a cold engine, and the cold mark holds "
            "for a cold one. Enter the temperature at which it stood there.",
        )
    if old is not None:
        _check_liquid("temp", cold_k, old)
    return cold_k


def _check_liquid(field, temp_k, old):
    frost_k = float(fluids.freeze_bound_k(old.mixture.fluid, old.mixture.frac_mass)[1])
    if temp_k < frost_k:
        raise InputError(
            field,
            _degrees(temp_k),
            f"{_degrees(temp_k)} is colder than {_degrees(frost_k)}, where this mix begins to "
            "freeze: ice, not a level, is then the trouble. Correct the mix first, or enter a "
            "temperature that it survives.",
        )


def _read_hot(hottest, cold_k):
    hot_k = units.read("hottest", hottest, "temperature")
    if hot_k > HOT_MAX_K:
        raise InputError(
            "hottest",
            _degrees(hot_k),
            f"{_degrees(hot_k)} is above {_degrees(HOT_MAX_K)}: published densities of mixes "
            "end near there. Enter the hottest coolant up to there.",
        )
    if cold_k is not None and hot_k <= cold_k:
        raise InputError(
            "hottest",
            _degrees(hot_k),
            f"{_degrees(hot_k)} is no hotter than the coolant at the cold mark "
            f"({_degrees(cold_k)}). Enter the hottest coolant; how far the level falls in frost is "
            "told by the coldest start.",
        )
    return hot_k


def _read_beside(field, volume, system):
    value = units.read(field, volume, "volume")
    if system is not None and value > system.worked_m3:
        shown = units.show(value, "volume", "L", 2)
        raise InputError(
            field,
            shown,
            f"{shown} is more than the system holds "
            f"({units.show(system.worked_m3, 'volume', 'L', 2)}). Enter what there is between the "
            "cold mark and the end of the tank, not the tank.",
        )
    return value


def _read_metal(metal):
    named = metal_named(metal)
    if named is not None:
        return METALS[named].per_k
    try:
        per_k = units.read("metal", metal, "volume expansion")
        if 0.0 < per_k < LENGTH_LIKE_PER_K:
            shown, volume = (
                units.show(each, "volume expansion", "ppm/K", 0) for each in (per_k, 3 * per_k)
            )
            raise UnclearInputError(
                "metal",
                shown,
                f"{shown} is what tables print for the growth of a length; of the volume it is "
                f"three times as much. Write {volume}, if that was meant.",
                (volume,),
            )
        return per_k
    except UnclearInputError:
        raise
    except InputError as error:
        known = ", ".join(METALS)
        raise InputError("metal", error.found, f"{error.what} Or name it: {known}.") from None


def _read_gas(gas, cold_k, hot_k):
    """Return the least and most share of the coolant's rise that the gas takes part in. [-]."""
    if gas is None:
        return GAS_SHARE, 1.0
    told = tuple(gas) if isinstance(gas, (tuple, list)) else (gas,)
    if not 1 <= len(told) <= 2:
        raise InputError(
            "gas", len(told), f"{len(told)} temperatures; give one, or the least and the most."
        )
    temps_k = sorted(units.read("gas", each, "temperature") for each in told)
    if cold_k is None or hot_k is None:
        return None
    for each in temps_k:
        if not cold_k - 1e-9 <= each <= hot_k + 1e-9:
            raise InputError(
                "gas",
                _degrees(each),
                f"{_degrees(each)} is not between the coolant at the cold mark "
                f"({_degrees(cold_k)}) and the hottest coolant ({_degrees(hot_k)}). Enter the gas "
                "above the hot coolant, or leave it out.",
            )
    shares = [(each - cold_k) / (hot_k - cold_k) for each in temps_k]
    return shares[0], shares[-1]


def _read_coldest(coldest, cold_k, old):
    coldest_k = units.read("coldest", coldest, "temperature")
    if cold_k is not None and coldest_k > cold_k:
        raise InputError(
            "coldest",
            _degrees(coldest_k),
            f"{_degrees(coldest_k)} is warmer than the coolant at the cold mark "
            f"({_degrees(cold_k)}). Enter the coldest start, or leave it out.",
        )
    if old is not None:
        _check_liquid("coldest", coldest_k, old)
    return coldest_k
