"""The odds by brute force: printed litres held fixed, the true system drawn many times.

As in `simulation`, properties come from the published rows alone and nothing of the package is
imported. Half-widths are at 95 %, errors are normal. Printed litres are carried out whatever is
inside: no more comes out than there is, and what is poured stays in.
"""

import csv
import functools
from typing import NamedTuple

import numpy as np

from .simulation import TABLE, Engine, parabola

FREEZING_TABLE = TABLE.with_name("freezing.csv")

#: One source for each fluid, rows in mass % of glycol; water is added to them.
#: Ethylene glycol: 2 to 60 mass %. Propylene glycol: 15 to 55 mass %, a row every 5.
FREEZING_SOURCES = {"ethylene glycol": "crc-concentrative", "propylene glycol": "melinder-iir"}

BEYOND = 0.05  # The last parabola goes on for as much, so that the tail of a draw is not cut.
FINE = 1e-5  # Share between the points of the curve that is read backwards.
HALF_WIDTH_IN_SD = 1.959964
DRAWS = 20_000
STEPS = 200
STEP_ERROR_MAX = 1e-5


def _freezing_points(fluid):
    """Mass share and freezing point of the published rows, from water. [-, °C]."""
    wanted = ("freezing_point", fluid, "mass %", FREEZING_SOURCES[fluid])
    points = {0.0: 0.0}
    with FREEZING_TABLE.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            if (row["property"], row["fluid"], row["basis"], row["source"]) == wanted:
                points[float(row["concentration"]) / 100] = float(row["value"])
    assert len(points) > 6
    return np.array(sorted(points.items())).T


class Freezing:
    """Freezing point [°C] of a mass share, and back, on a smooth curve through published rows.

    Between two rows, the parabola about the one goes over into the parabola about the other.
    """

    def __init__(self, fluid):
        self.shares, self.temps = _freezing_points(fluid)
        self.strongest = self.shares[-1] + BEYOND
        self.fine = np.linspace(0.0, self.strongest, round(self.strongest / FINE) + 1)
        self.fine_temps = self(self.fine)
        assert np.all(np.diff(self.fine_temps) < 0)

    def __call__(self, share):
        share = np.where(share <= self.strongest, share, np.nan)  # no row says
        last = len(self.shares) - 1
        below = np.clip(np.searchsorted(self.shares, share) - 1, 0, last - 1)
        low, high = (
            parabola(self.shares, self.temps, np.clip(middle, 1, last - 1), share)
            for middle in (below, below + 1)
        )
        way = (share - self.shares[below]) / (self.shares[below + 1] - self.shares[below])
        return low + way * (high - low)

    def inverse(self, temp_c):
        """Share that freezes at ``temp_c``; water where that is above 0 °C."""
        assert np.all(temp_c >= self.fine_temps[-1])
        return np.interp(temp_c, self.fine_temps[::-1], self.fine[::-1])


@functools.cache
def published_freezing(fluid):
    return Freezing(fluid)


class Outcomes(NamedTuple):
    """What is true after the work, and what the same instrument then shows; a value a draw."""

    share: np.ndarray
    freeze_temp_c: np.ndarray
    second_reading_c: np.ndarray


def _carried_out(engine, passes):
    """Glycol share after ``passes``: (litres out, [(can, litres), ...]) each, in that order."""
    for litres_out, pours in passes:
        engine.take_out(litres_out)
        for can, litres in pours:
            engine.pour(can, litres)
    return engine.share


def draw_outcomes(
    *,
    liquid,
    can,
    reading,
    offset,
    repeatability,
    capacity,
    capacity_error,
    low,
    passes,
    draws=DRAWS,
    seed=0,
    steps=STEPS,
):
    """Draw what was inside behind ``reading`` [°C] and carry out ``passes`` on each.

    The instrument shows the freezing point, its offset, which it keeps, and an error that is new
    with each reading; ``offset`` and ``repeatability`` are their half-widths [K]. The capacity is
    ``capacity`` give or take ``capacity_error``, and ``low`` of it is empty [L]. What is inside
    carries the additives of ``can``.
    """
    freezing = published_freezing(liquid.fluid)
    normal = np.random.default_rng(seed).standard_normal((4, draws)) / HALF_WIDTH_IN_SD
    offsets, first_error = offset * normal[0], repeatability * normal[1]
    inside = capacity + capacity_error * normal[2] - low
    found = freezing.inverse(reading - offsets - first_error)
    after = _carried_out(Engine(liquid, can, inside, found, steps), passes)
    freezes = freezing(after)
    return Outcomes(after, freezes, freezes + offsets + repeatability * normal[3])


def chance(outcomes, share):
    """Part of the draws that end at ``share`` or stronger."""
    return float(np.mean(outcomes.share >= share))


def chance_of_freezing_point(outcomes, temp_c):
    """Part of the draws that end with a freezing point of ``temp_c`` or colder."""
    return float(np.mean(outcomes.freeze_temp_c <= temp_c))


def assert_steps_are_small(*, steps=STEPS, **case):
    """Steps half as long, of a case of `draw_outcomes`, end at the same share."""
    once, again = (draw_outcomes(steps=each, **case).share for each in (steps, 2 * steps))
    assert np.max(np.abs(once - again)) < STEP_ERROR_MAX
