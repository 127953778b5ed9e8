"""Every published row beside a fit that has not seen its lineage.

For each group of properties, fluid and lineage the group is fitted anew without that lineage's
rows, put in the place of the fluid's coefficients, and asked for the lineage's rows, fit and
check. ``left_out.py`` prints what comes of it.
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

#: Fewer rows of mixes than these carry no fit.
MIXES_AT_LEAST = 4
#: A row is supported by a fit row of another lineage this near. [kg/kg, K]
NEAR = (0.15, 25.0)
#: Vapour of a mix: the activity coefficients carry from one temperature to another.
NEAR_ACTIVITY = (0.15, 150.0)


class LeftOut(NamedTuple):
    """One row beside the model, with its mass fraction and its temperature. [C].

    ``off`` is model less row, in the row's unit. ``unseen``: the model has seen nothing of the
    row's lineage. ``scores``: that, and other lineages that are fitted stand within `NEAR` of the
    row; elsewhere the row's region has one source, and its band is judged.
    """

    row: dict
    frac_mass: float
    temp_c: float
    off: float
    unseen: bool
    scores: bool


def where(row):
    """Return mass fraction and temperature of a row; a boiling or freezing point is its own."""
    temp = row["temp_c"] if row["temp_c"] else row["value"]
    return evidence.frac_mass(row), float(temp)


def supported(row, others):
    """Say whether one of the other rows stands near."""
    frac, temp = where(row)
    activity = row["property"] in ("boiling_point", "vapor_pressure") and frac < 1
    far, apart = NEAR_ACTIVITY if activity else NEAR
    return any(
        abs(near - frac) <= far
        and abs(warm - temp) <= apart
        and not (row["property"] == "freezing_point" and other_crystals(near, frac))
        for near, warm in others
    )


def other_crystals(frac, other):
    """Say whether ice freezes from one of two mixes and glycol from the other."""
    return (frac > FREEZE_MAX) != (other > FREEZE_MAX)


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


def is_of(row, group, fluid):
    """Say whether a row stands and falls with the group's fit of a fluid."""
    return row["property"] in OF_GROUP[group.PROPERTY] and row["fluid"] == fluid


def stated(group, fluid):
    """Return the rows of a group and fluid that a model value can be held to."""
    return [
        row
        for row in read()
        if is_of(row, group, fluid) and evidence.is_held(row) and not evidence.is_product(row)
    ]


def without(group, fluid, lineage):
    """Return the rows to fit without a lineage, and whether check rows stand in.

    That is where no fit row is left: the check rows of the other lineages then stand in, for the
    comparison with CoolProp alone. No band is scored by them.
    """
    rows = [row for row in load() if not (is_of(row, group, fluid) and row["lineage"] == lineage)]
    if any(is_of(row, group, fluid) for row in rows):
        return rows, False
    return rows + [row for row in stated(group, fluid) if row["lineage"] != lineage], True


def left_out(group, fluid):
    """Yield a `LeftOut` for every row of a group and fluid that a model value can be held to."""
    rows = stated(group, fluid)
    for lineage in dict.fromkeys(row["lineage"] for row in rows):
        mine = [row for row in rows if row["lineage"] == lineage]
        rest, stand_in = without(group, fluid, lineage)
        others = [where(row) for row in rest if is_of(row, group, fluid)]
        other = None
        if any(row["role"] == "fit" for row in mine) and enough(others, map(where, rows), mine):
            other = refitted(group, rest, fluid)
        unseen = other is not None or all(row["role"] == "check" for row in mine)
        with instead(fluid, other or {}):
            for row in mine:
                off = evidence.model_value(row) - float(row["value"])
                scores = unseen and not stand_in and supported(row, others)
                yield LeftOut(row, *where(row), off, unseen, scores)


def enough(others, every, mine):
    """Say whether the other rows can carry a fit: mixes for mixes, the pure glycol for itself."""
    mixes = sum(frac < 1 for frac, _ in others) >= MIXES_AT_LEAST
    pure = any(frac == 1 for frac, _ in others) or not any(frac == 1 for frac, _ in every)
    if mine[0]["property"] == "freezing_point":
        return mixes  # a melting point is published, not fitted
    return pure and (mixes or all(where(row)[0] == 1 for row in mine))


def every_row():
    """Return the `LeftOut` rows of every group, by (group's property, fluid)."""
    return {
        (group.PROPERTY, fluid): list(left_out(group, fluid))
        for group in GROUPS
        for fluid in FLUIDS
    }
