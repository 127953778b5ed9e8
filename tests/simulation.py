"""An independent way to an answer: litres carried out by moving about a gram at a time.

Densities are interpolated from the published rows, products are made up here by hand, and
nothing of the kernels is imported. `test_simulation` holds printed plans against it.
Many systems at once are arrays, moved in equal steps: `brute_odds` draws them.
"""

import csv
import pathlib
from typing import NamedTuple

import numpy as np

TABLE = pathlib.Path(__file__).resolve().parent.parent / "data" / "published" / "density.csv"
GRAM = 1e-3  # [kg]
MOLAR_MASS = {"propylene glycol": 76.095, "water": 18.015}  # IUPAC 2021, abridged

#: Which published rows make a fluid's density: source keys of mixes, then of the pure glycol.
MIX_SOURCES = {
    ("ethylene glycol", 20): ("crc-concentrative",),
    ("propylene glycol", 20): ("melinder-2010",),
    ("propylene glycol", 25): ("nakanishi-1967", "george-2003"),
}
PURE_SOURCES = {
    ("ethylene glycol", 20): "perry-8",
    ("propylene glycol", 20): "crc-constants",
    ("propylene glycol", 25): "nakanishi-1967",
}
#: Water in kg/m3: IAPWS-95 at 101.325 kPa, to the printed digits.
WATER_DENSITY = {20: 998.21, 25: 997.05}


def _mass_share(row):
    value = float(row["concentration"])
    if row["basis"] == "mass %":
        return value / 100
    glycol = value * MOLAR_MASS[row["fluid"]]
    return glycol / (glycol + (1 - value) * MOLAR_MASS["water"])


def _points(fluid, temp_c):
    """Mass share and specific volume of the published rows, water to pure glycol. [-, m3/kg]."""
    mixes, pure = MIX_SOURCES[fluid, temp_c], PURE_SOURCES[fluid, temp_c]
    points = {0.0: 1 / WATER_DENSITY[temp_c]}
    with TABLE.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            here = (row["property"], row["fluid"]) == ("density", fluid)
            if here and row["source"] in {*mixes, pure} and float(row["temp_c"]) == temp_c:
                share = _mass_share(row)
                if row["source"] in ({pure} if share == 1.0 else mixes):
                    points[share] = 1 / float(row["value"])
    assert 1.0 in points and len(points) > 6
    apart = [(0.0, points[0.0])]
    for share, volume in sorted(points.items())[1:]:
        # Two rows side by side say how well they agree, not how steep the curve is.
        if share - apart[-1][0] > 0.01 or share == 1.0:
            apart.append((share, volume))
    return np.array(apart).T


def parabola(x, y, middle, at):
    """Value at ``at`` of the parabola through row ``middle`` and its two neighbours."""
    (x0, y0), (x1, y1), (x2, y2) = ((x[middle + step], y[middle + step]) for step in (-1, 0, 1))
    slope, next_slope = (y1 - y0) / (x1 - x0), (y2 - y1) / (x2 - x1)
    return y0 + (at - x0) * (slope + (at - x1) * (next_slope - slope) / (x2 - x0))


class Liquid:
    """Specific volume of glycol and water at one temperature, by parabolas through three rows."""

    def __init__(self, fluid, temp_c):
        self.fluid = fluid
        self.shares, self.volumes = _points(fluid, temp_c)

    def volume_m3_kg(self, share):
        nearest = np.searchsorted((self.shares[:-1] + self.shares[1:]) / 2, share)
        middle = np.clip(nearest, 1, len(self.shares) - 2)
        volume = parabola(self.shares, self.volumes, middle, share)
        return volume if np.ndim(share) else float(volume)


class Can(NamedTuple):
    """Shares by mass of a product, volume of a kilogram of it and of its additives. [m3/kg]."""

    glycol: float
    water: float
    additive: float
    volume: float
    additive_volume: float


def concentrate(liquid, kg_per_litre, at_20=None):
    """94 % glycol, 3 % water, 3 % additives by mass; its density holds at 20 °C.

    The additives keep, at the temperature of ``liquid``, the volume that they have at 20 °C.
    """
    at_20 = at_20 or liquid
    share = 0.94 / 0.97
    additive_volume = (1e-3 / kg_per_litre - 0.97 * at_20.volume_m3_kg(share)) / 0.03
    volume = 0.97 * liquid.volume_m3_kg(share) + 0.03 * additive_volume
    return Can(0.94, 0.03, 0.03, volume, additive_volume)


def water(liquid):
    return Can(0.0, 1.0, 0.0, liquid.volume_m3_kg(0.0), 0.0)


class Engine:
    """What is inside, in kilograms; litres go in and out a gram at a time.

    With ``steps`` each move is that many equal parts instead; ``litres`` and ``share`` may then
    be arrays, one value for each system.
    """

    def __init__(self, liquid, can, litres, share, steps=None):
        """Fill with a mix of glycol share ``share`` that carries the can's additives."""
        self.liquid, self.steps = liquid, steps
        self.additive_volume = can.additive_volume
        additive = share * can.additive / can.glycol
        per_kg = liquid.volume_m3_kg(share) + additive * can.additive_volume
        glycol_water = litres * 1e-3 / per_kg
        self.glycol, self.water = glycol_water * share, glycol_water * (1 - share)
        self.additive = glycol_water * additive

    @property
    def share(self):
        return self.glycol / (self.glycol + self.water)

    @property
    def mass(self):
        return self.glycol + self.water + self.additive

    @property
    def litres(self):
        pure = (self.glycol + self.water) * self.liquid.volume_m3_kg(self.share)
        return 1e3 * (pure + self.additive * self.additive_volume)

    def take_out(self, litres):
        # Well mixed: every gram that leaves has the composition and density of the whole.
        part_out = np.minimum(litres / self.litres, 1.0)  # No more than there is.
        for part in self._parts(part_out * self.mass):
            left = 1 - part / self.mass
            self.glycol *= left
            self.water *= left
            self.additive *= left

    def pour(self, can, litres):
        for part in self._parts(litres * 1e-3 / can.volume):
            self.glycol += part * can.glycol
            self.water += part * can.water
            self.additive += part * can.additive

    def _parts(self, mass):
        if self.steps is not None:
            return [mass / self.steps] * self.steps
        whole = int(mass / GRAM)
        return [GRAM] * whole + [float(mass - whole * GRAM)]
