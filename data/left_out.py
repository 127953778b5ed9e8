"""Every published row against a fit that has not seen its lineage, for all properties.

    python data/left_out.py    scores the bands: how many unseen rows they hold, and how wide

For each group of properties, fluid and lineage the group is fitted anew without that lineage's
rows, put in the place of the fluid's coefficients, and asked for the lineage's rows, fit and
check. Where the rest of the rows cannot carry a fit ("one source"), the consensus answers, and
the row says so. Used to score the bands; `leave_one_out.py` prints freezing and density at
length, with other forms and with CoolProp.
"""

import contextlib
from typing import NamedTuple

import numpy as np
from fit_coefficients import GROUPS
from fits.freezing import FREEZE_MAX
from fits.rows import FLUIDS, load, read

from coolcalc import evidence
from coolcalc.fluids.fluid import FLUIDS as MODELS

#: Properties of a row that stand and fall with a group's fit.
OF_GROUP = {
    "density": ("density", "specific_gravity"),
    "freezing": ("freezing_point",),
    "refraction": ("refractive_index",),
    "vapour": ("boiling_point", "vapor_pressure"),
    "heat_capacity": ("heat_capacity",),
    "conductivity": ("conductivity",),
    "viscosity": ("viscosity",),
}


class LeftOut(NamedTuple):
    """One row beside the model, with its mass fraction and its temperature. [C].

    ``off`` is model less row, in the row's unit. ``unseen``: the model has seen nothing of the
    row's lineage, and other lineages that it has seen stand within `NEAR` of the row; where that
    cannot be, the row's region has one source, and its band is judged.
    """

    row: dict
    frac_mass: float
    temp_c: float
    off: float
    unseen: bool


#: Fewer rows of mixes than these carry no fit.
MIXES_AT_LEAST = 4

#: A row is supported by a fit row of another lineage this near. [kg/kg, K]
NEAR = (0.15, 25.0)
#: Vapour of a mix: the activity coefficients carry from one temperature to another.
NEAR_ACTIVITY = (0.15, 150.0)


def where(row):
    """Return mass fraction and temperature of a row; a boiling or freezing point is its own."""
    temp = row["temp_c"] if row["temp_c"] else row["value"]
    return evidence.frac_mass(row), float(temp)


def supported(row, others):
    """Say whether one of the other rows stands near."""
    frac, temp = where(row)
    activity = row["property"] in ("boiling_point", "vapor_pressure") and frac < 1
    far, apart = NEAR_ACTIVITY if activity else NEAR
    freezing = row["property"] == "freezing_point"
    return any(
        abs(near - frac) <= far
        and abs(warm - temp) <= apart
        and not (freezing and (near > FREEZE_MAX) != (frac > FREEZE_MAX))  # other crystals
        for near, warm in others
    )


@contextlib.contextmanager
def instead(fluid, coefficients):
    """Put other coefficients in a fluid's place."""
    before = MODELS[fluid]
    MODELS[fluid] = before._replace(**coefficients)
    try:
        yield
    finally:
        MODELS[fluid] = before


def refitted(group, rows, fluid):
    """Return the group's coefficients of a fluid from these rows; None where they carry no fit."""
    found = {name: MODELS[name]._asdict() for name in FLUIDS}
    try:
        parts = group.fit(rows, found)[0][fluid]
    except (ValueError, IndexError, np.linalg.LinAlgError):
        return None
    return {name: value for name, value in parts.items() if name in MODELS[fluid]._fields}


def left_out(group, fluid):
    """Yield a `LeftOut` for every row of a group and fluid that a model value can be held to."""
    properties = OF_GROUP[group.PROPERTY]

    def here(row):
        return row["property"] in properties and row["fluid"] == fluid

    stated = [
        row
        for row in read()
        if here(row) and evidence.is_held(row) and not evidence.is_product(row)
    ]
    for lineage in dict.fromkeys(row["lineage"] for row in stated):
        mine = [row for row in stated if row["lineage"] == lineage]
        rest = [row for row in load() if not (here(row) and row["lineage"] == lineage)]
        others = [where(row) for row in rest if here(row)]
        other = None
        if any(row["role"] == "fit" for row in mine) and enough(others, map(where, stated), mine):
            other = refitted(group, rest, fluid)
        unseen = other is not None or all(row["role"] == "check" for row in mine)
        with instead(fluid, other or {}):
            for row in mine:
                off = evidence.model_value(row) - float(row["value"])
                yield LeftOut(row, *where(row), off, unseen and supported(row, others))


def enough(others, stated, mine):
    """Say whether the other rows can carry a fit: mixes for mixes, the pure glycol for itself."""
    mixes = sum(frac < 1 for frac, _ in others) >= MIXES_AT_LEAST
    pure = any(frac == 1 for frac, _ in others) or not any(frac == 1 for frac, _ in stated)
    if mine[0]["property"] == "freezing_point":
        return mixes  # a melting point is published, not fitted
    return pure and (mixes or all(where(row)[0] == 1 for row in mine))


class Score(NamedTuple):
    """How a band does on rows that the fit has not seen.

    ``narrower`` is the mean half-width over the half-width of a constant band of equal coverage,
    both as shares of the value where the property's band is one.
    """

    rows: int
    coverage: float
    narrower: float
    judged: int


#: Properties whose band is a share of the value.
SHARES = ("heat_capacity", "conductivity", "viscosity", "vapor_pressure")
#: By what share a vapour pressure rises a kelvin, near boiling. [1/K]
SHARE_A_KELVIN = 0.035
#: Not counted: a formula with two coefficients, 1 to 2 K from every table of freezing points, and
#: a table of 1962 that its own handbook has replaced (by trc-vapour), 18 % off at 53 °C.
NOT_COUNTED = (("conde-2011", "freezing_point"), ("crc-44", "vapor_pressure"))


def score(rows):
    """Return the `Score` of the bands on the unseen rows of one group and fluid."""
    off, half, judged = [], [], 0
    for each in rows:
        row = each.row
        if (row["source"], row["property"]) in NOT_COUNTED or each.frac_mass == 0:
            continue  # a source's own water tells of the source
        try:
            low, high = evidence.band_of(row)
        except evidence.CoolcalcError:  # hotter or colder than the property is asked for
            judged += 1
            continue
        if not each.unseen:
            judged += 1
            continue
        model = evidence.model_value(row)
        size = float(row["value"]) if row["property"] in SHARES else 1.0
        if row["property"] == "boiling_point":  # with the vapour pressures: in shares of these
            size = 1.0 / SHARE_A_KELVIN
        # model less row above zero: the row lies below, so the lower side counts
        half.append((model - low if each.off > 0 else high - model) / size)
        off.append(abs(each.off) / size)
    off, half = np.array(off), np.array(half)
    if not off.size:
        return Score(0, np.nan, np.nan, judged)
    covered = float(np.mean(off <= half))
    constant = np.quantile(off, covered, method="higher")
    return Score(off.size, covered, float(np.mean(half) / constant), judged)


def every_row():
    """Return the `LeftOut` rows of every group, by (group's property, fluid)."""
    return {
        (group.PROPERTY, fluid): list(left_out(group, fluid))
        for group in GROUPS
        for fluid in FLUIDS
    }


def main():
    """Print the score of every band."""
    print(
        "property and fluid               unseen rows   inside   width over constant   one source"
    )
    for (prop, fluid), rows in every_row().items():
        found = score(rows)
        print(
            f"{prop:15s}{fluid:18s}{found.rows:8d}{100 * found.coverage:12.0f} %"
            f"{found.narrower:18.2f}{found.judged:16d}"
        )


if __name__ == "__main__":
    main()
