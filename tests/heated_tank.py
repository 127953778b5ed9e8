"""An independent way to what a heated tank does: one kelvin at a time, up and down again.

Masses and moles are kept; the cap lets go above its pressure and lets air in below that of the
outside. Nothing of the package is imported: densities and vapour are handed in, or are those of
`published_density` and `ideal_vapor_pa`.
"""

import csv
import pathlib
from typing import NamedTuple

import numpy as np

TABLE = pathlib.Path(__file__).resolve().parent.parent / "data" / "published" / "density.csv"
GAS = 8.314462618  # J/(mol K), CODATA 2018
ZERO_C = 273.15
MOLAR_MASS = {"ethylene glycol": 62.068, "water": 18.015}  # IUPAC 2021, abridged


class Tank(NamedTuple):
    """What is simulated: litres in m3, pascal absolute, kelvin."""

    volume: float  # liquid at the cold mark
    room: float  # air above it
    cold: float
    hot: float
    metal: float  # volume expansion, 1/K
    outside: float
    cap: float  # above the outside
    gas_share: float  # of the rise of the coolant
    coolant_at_cap: bool


def run(tank, density, vapor, mornings=1):
    """Return the highest pressure without a cap, hot litres out, and cold level each morning.

    ``density`` in kg/m3 and ``vapor`` in Pa of a temperature in K.
    """
    mass = tank.volume * density(tank.cold)
    moles = (tank.outside - vapor(tank.cold)) * tank.room / (GAS * tank.cold)
    steps = round(tank.hot - tank.cold)
    warm = [tank.cold + at for at in range(1, steps + 1)]
    sealed_mass, sealed_moles, highest = mass, moles, 0.0
    outs, levels, air_out = [], [], 0.0
    full = tank.volume + tank.room

    def space(mass, temp):
        vessel = full + tank.volume * tank.metal * (temp - tank.cold)
        return vessel - mass / density(temp)

    def gas_temp(temp):
        return tank.cold + tank.gas_share * (temp - tank.cold)

    for temp in warm:
        left = space(sealed_mass, temp)
        inside = np.inf
        if left > 0:
            inside = sealed_moles * GAS * gas_temp(temp) / left + vapor(gas_temp(temp))
        highest = max(highest, inside)
    most = tank.outside + tank.cap
    for _ in range(mornings):
        out = 0.0
        for temp in warm:
            gas = gas_temp(temp)
            air_room = moles * GAS * gas / (most - vapor(gas))
            left = space(mass, temp)
            if air_room > left:
                if tank.coolant_at_cap:
                    gone = (air_room - left) * density(temp)
                else:
                    fits = max(left, 0.0) * (most - vapor(gas)) / (GAS * gas)
                    air_out += moles - fits
                    moles = fits
                    gone = max(-left, 0.0) * density(temp)
                mass -= gone
                out += gone / density(tank.hot)
        for temp in (*reversed(warm[:-1]), tank.cold):
            gas = gas_temp(temp)
            least = (tank.outside - vapor(gas)) * space(mass, temp) / (GAS * gas)
            moles = max(moles, least)
        outs.append(out)
        levels.append(mass / density(tank.cold) - tank.volume)
    return highest, outs, levels, air_out


def published_density(fluid, mass_percent, source):
    """Density over temperature by a cubic through the published rows of one mix. [kg/m3]."""
    with TABLE.open(encoding="utf-8", newline="") as file:
        rows = [
            (float(row["temp_c"]) + ZERO_C, float(row["value"]))
            for row in csv.DictReader(file)
            if (row["property"], row["fluid"], row["source"]) == ("density", fluid, source)
            and float(row["concentration"]) == mass_percent
        ]
    temps, values = np.array(sorted(rows)).T
    assert len(temps) >= 5
    middle = temps.mean()
    fit = np.polynomial.Polynomial.fit(temps - middle, values, 3)
    return lambda temp: float(fit(temp - middle))


def ideal_vapor_pa(mass_share):
    """Vapour over an ideal mix of glycol that gives off none, by Antoine's equation. [Pa].

    Constants of water for 1 to 100 °C in mmHg and °C, as handbooks print them: from memory.
    """
    water = (1 - mass_share) / MOLAR_MASS["water"]
    share = water / (water + mass_share / MOLAR_MASS["ethylene glycol"])

    def vapor(temp):
        return share * 133.322 * 10 ** (8.07131 - 1730.63 / (233.426 + temp - ZERO_C))

    return vapor
