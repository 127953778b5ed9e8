"""The published rows of data/published/, and what tests say of a row."""

import csv
import pathlib

import numpy as np

from coolcalc import fluids

FOLDER = pathlib.Path(__file__).resolve().parent.parent / "data" / "published"
ZERO_C = 273.15
MOLAR_MASS = {"ethylene glycol": 62.068, "propylene glycol": 76.095, "glycerol": 92.094}

#: Bases that describe a product or an inhibited fluid: held by the tests of the products.
PRODUCT_BASES = {"mass % inhibited", "volume % inhibited", "volume % product"}
#: A table that does not say: held by the tests of what was left out of the fit.
PRODUCT_BASES |= {"% of what is not printed"}


def read_rows():
    """Return every row as a dict of text."""
    rows = []
    for path in sorted(FOLDER.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            rows += csv.DictReader(file)
    return rows


ROWS = read_rows()


def name(row):
    """Return a short name of a row, used as the test's id."""
    at = f" at {row['temp_c']} C" if row["temp_c"] else ""
    what = f"{row['source']} {row['property']} {row['fluid']}"
    return f"{what} {row['concentration']} {row['basis']}{at}"


def frac_mass(row):
    """Return the row's mass fraction of glycol, from its own basis."""
    value = float(row["concentration"])
    if row["basis"] == "mass %":
        return value / 100
    if row["basis"] == "volume % before mixing":
        return fluids.frac_mass_from_frac_vol(row["fluid"], value / 100)
    if row["basis"] == "volume % of the mix at 15.6 C":
        w = np.linspace(0, 1, 10001)
        volume = w * fluids.density_kg_m3(row["fluid"], w, 288.75)
        return float(np.interp(value / 100, volume / volume[-1], w))
    assert row["basis"] == "mole fraction"
    glycol = value * MOLAR_MASS[row["fluid"]]
    return glycol / (glycol + (1 - value) * 18.01528)
