"""The published rows, and what every fit does with them."""

import csv
import hashlib
import pathlib

import numpy as np

FOLDER = pathlib.Path(__file__).resolve().parent.parent / "published"

FLUIDS = ("ethylene glycol", "propylene glycol", "glycerol")
MOLAR_MASS = {"ethylene glycol": 62.068, "propylene glycol": 76.095, "glycerol": 92.094}
WATER_MOLAR_MASS = 18.01528
GAS_CONSTANT = 8.314462618  # J/(mol K), CODATA 2018
CRYOSCOPIC = 1.86  # K kg/mol, water
LIGHT = 1 / 3  # weight of the rows that `weights` names
EQUATIONS_OF_STATE = ("eisenbach",)  # lineages


def read(folder=FOLDER):
    """Return every row, as dicts of text: for comparisons, never for a fit."""
    found = []
    for path in sorted(folder.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            found += csv.DictReader(file)
    return found


def load(folder=FOLDER):
    """Return the rows that may be fitted, as dicts of text."""
    return [row for row in read(folder) if row["role"] == "fit"]


def fingerprint(folder=FOLDER):
    """Return the sha256 of the rows that may be fitted (a new check row changes nothing)."""
    text = "\n".join("|".join(row.values()) for row in load(folder))
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def pick(rows, prop, fluid):
    """Return the rows of one property of one fluid."""
    return [row for row in rows if row["property"] == prop and row["fluid"] == fluid]


def numbers(rows, column):
    """Return a column as an array of floats."""
    return np.array([float(row[column]) for row in rows])


def weights(rows):
    """Return one over the tolerance; a third of it where a row is less than a measurement.

    That is: densities that are formulas evaluated, which stand in where no table does, but not an
    equation of state, which is made of all measurements.
    """
    light = np.array(
        [
            (row["kind"], row["unit"]) == ("computed", "kg/m3")
            and row["lineage"] not in EQUATIONS_OF_STATE
            for row in rows
        ]
    )
    return np.where(light, LIGHT, 1.0) / numbers(rows, "tolerance")


def mole_frac(fluid, frac_mass):
    """Return the mole fraction of glycol from its mass fraction."""
    glycol = frac_mass / MOLAR_MASS[fluid]
    return glycol / (glycol + (1 - frac_mass) / WATER_MOLAR_MASS)


def mass_frac(fluid, mole_frac):
    """Return the mass fraction of glycol from its mole fraction."""
    glycol = mole_frac * MOLAR_MASS[fluid]
    return glycol / (glycol + (1 - mole_frac) * WATER_MOLAR_MASS)


def frac_mass(row, glycol_at_20, water_at_20):
    """Return the row's mass fraction of glycol, from its own basis."""
    value = float(row["concentration"])
    if row["basis"] == "mass %":
        return value / 100
    if row["basis"] == "mole fraction":
        return mass_frac(row["fluid"], value)
    if row["basis"] == "volume % before mixing":
        glycol = value / 100 * glycol_at_20
        return glycol / (glycol + (1 - value / 100) * water_at_20)
    raise ValueError(f"no mass fraction from basis {row['basis']!r}")


def solve(columns, values, weight):
    """Return weighted least-squares coefficients."""
    return np.linalg.lstsq(columns * weight[:, None], values * weight, rcond=None)[0]


def powers(x, terms):
    """Return columns 1, x, x2, ..."""
    return np.stack([x**i for i in range(terms)], axis=1)
