"""Kernel of `expansion`: how much hot coolant grows, and what the air space above it then does.

Volumes are those of the liquid as it stands: a share that it grows by is over the volume at the
cold mark. The air space is closed at the cold mark at outside pressure, saturated with vapour,
and no liquid moves out of the system until the cap lets it.
"""

from typing import NamedTuple

import numpy as np

from . import ledger

#: Points of a search, and how often it is narrowed down: to a millionth of a kelvin.
_POINTS, _ZOOMS = 33, 6


def liquid_growth(inside, cold_k, hot_k):
    """Share by which what is inside grows from one temperature to another. [-].

    Negative where it shrinks. ``inside`` is a `ledger.State`. [K]
    """
    return ledger.volume_m3(inside, hot_k) / ledger.volume_m3(inside, cold_k) - 1.0


def level_rise_m3(volume_m3, liquid_share, metal_per_k, change_k):
    """Litres by which the level rises: what the liquid grows by less what the metal does. [m3].

    Parameters
    ----------
    volume_m3 : float or ndarray
        Of the liquid at the cold mark. [m3]
    liquid_share : float or ndarray
        From `liquid_growth`, or a constant coefficient times ``change_k``. [-]
    metal_per_k : float or ndarray
        Volume expansion of what holds the liquid. [1/K]
    change_k : float or ndarray
        Hot less cold. [K]
    """
    return volume_m3 * (liquid_share - metal_per_k * change_k)


class AirSpace(NamedTuple):
    """The closed air space above the cold mark, (n,).

    Attributes
    ----------
    room_m3 : ndarray
        At the cold mark. [m3]
    cold_k : ndarray
        At which it was closed. [K]
    outside_pa, cold_vapor_pa : ndarray
        Outside air, and vapour over the cold mix. [Pa]
    """

    room_m3: np.ndarray
    cold_k: np.ndarray
    outside_pa: np.ndarray
    cold_vapor_pa: np.ndarray

    def air_pa_m3(self, gas_k):
        """Return pressure times volume of its air at a temperature. [Pa m3]."""
        return (self.outside_pa - self.cold_vapor_pa) * self.room_m3 * gas_k / self.cold_k


def pressure_pa(space, rise_m3, gas_k, vapor_pa):
    """Pressure in the air space if nothing is let out, absolute. [Pa].

    NaN where no air space is left: liquid does not give way.

    Parameters
    ----------
    space : AirSpace
    rise_m3 : ndarray
        Of the level. [m3]
    gas_k : ndarray
        Temperature of the gas. [K]
    vapor_pa : ndarray
        Vapour over the mix at that temperature. [Pa]
    """
    left = space.room_m3 - rise_m3
    some = left > 0.0
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(some, space.air_pa_m3(gas_k) / np.where(some, left, 1.0) + vapor_pa, np.nan)


def _air_room_m3(space, gas_k, vapor_pa, most_pa):
    """Room that the air takes at the pressure of the cap; NaN where vapour alone passes it."""
    with np.errstate(divide="ignore", invalid="ignore"):
        air_pa = most_pa - vapor_pa
        return np.where(air_pa > 0.0, space.air_pa_m3(gas_k) / air_pa, np.nan)


def air_let_out(space, rise_m3, gas_k, vapor_pa, most_pa):
    """Share of its air that leaves through the cap where air stands below it, 0 to 1. [-].

    All of it where no room is left, or where vapour alone passes the cap. [m3, K, Pa]
    """
    room = _air_room_m3(space, gas_k, vapor_pa, most_pa)
    left = np.maximum(space.room_m3 - rise_m3, 0.0)
    stays = np.where(np.isnan(room), 0.0, left / np.where(np.isnan(room), 1.0, room))
    return np.clip(1.0 - stays, 0.0, 1.0)


def coolant_pushed_out_m3(space, rise_m3, gas_k, vapor_pa, most_pa):
    """Hot litres pushed out by the first heating where coolant stands at the cap. [m3].

    NaN where vapour alone passes the cap: then it boils over, and nothing tells how much goes.
    """
    room = _air_room_m3(space, gas_k, vapor_pa, most_pa)
    return np.maximum(room - (space.room_m3 - rise_m3), 0.0)


def overflow_m3(room_m3, rise_m3):
    """Hot litres that no room is left for. [m3]."""
    return np.maximum(rise_m3 - room_m3, 0.0)


def when_cold_m3(hot_m3, liquid_share):
    """Litres at the cold mark's temperature of litres that left hot: missing next morning. [m3].

    Of an overflow that is all: what is left then grows into just the room there is.
    """
    return hot_m3 / (1.0 + liquid_share)


def air_factor(space, gas_k, vapor_pa, most_pa):
    """Room that the air takes under the cap when hot, over its room when cold. [-].

    At 1 or more no room is large enough to keep the pressure under the cap. NaN where vapour
    alone passes it.
    """
    unit = space._replace(room_m3=np.ones_like(space.room_m3))
    return _air_room_m3(unit, gas_k, vapor_pa, most_pa)


def room_needed_m3(rise_m3, factor):
    """Room above the cold mark with which the pressure stays under the cap. [m3].

    NaN where no room does. ``factor`` from `air_factor`.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(factor < 1.0, rise_m3 / (1.0 - factor), np.nan)


def settles_m3(room_m3, volume_m3, liquid_share, metal_share, factor):
    """Cold litres below the mark at which coolant at the cap is no longer pushed out. [m3].

    Each cooling lets air in again, so the air space is larger by what went and as full of air as
    at first. Where it is missing this much, the next heating just reaches the cap. NaN where no
    room does.
    """
    rise = volume_m3 * (liquid_share - metal_share)
    short = rise - (1.0 - factor) * room_m3
    with np.errstate(divide="ignore", invalid="ignore"):
        settled = np.maximum(short, 0.0) / (1.0 + liquid_share - factor)
    return np.where(factor < 1.0, settled, np.nan)


def first_reached_k(figure_of, low_k, high_k, most):
    """Temperature at which a figure that rises with heat reaches ``most``, one row. [K].

    NaN where it does not between the ends. ``figure_of`` takes temperatures, (m,); where it gives
    NaN the figure counts as beyond.
    """
    for _ in range(_ZOOMS):
        temps_k = np.linspace(low_k, high_k, _POINTS)
        with np.errstate(invalid="ignore"):
            beyond = ~(figure_of(temps_k) < most)
        if not beyond[-1]:
            return float("nan")
        first = int(np.argmax(beyond))
        low_k, high_k = temps_k[max(first - 1, 0)], temps_k[first]
    return float(high_k)
