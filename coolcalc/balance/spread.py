"""Spread of an answer: how litres, and what they give, vary with what was measured.

Two spreads, never mixed. The plan's: how the litres move with the inputs. The outcome's: the
printed litres held fixed, the true state drawn. Both are taken to first order where nothing
bends, else from one fixed set of draws, the same for every row.
"""

import functools
import statistics
from typing import NamedTuple

import numpy as np

#: Draws of one row where first order does not do.
DRAWS = 512

#: A half-width at 95 % over the standard deviation.
HALF_WIDTH_SD = statistics.NormalDist().inv_cdf(0.975)

#: What may bend within the half-widths, as a share of the spread, for first order to do.
BEND_MAX = 0.05

_LOW, _HIGH = 2.5, 97.5  # per cent
_PIECE = 64  # rows drawn at once
_BASES = (2, 3, 5)  # of Hammersley's points


class Inputs(NamedTuple):
    """What was measured, and its give or take at 95 %, (n,).

    Attributes
    ----------
    frac_mass : ndarray
        Strength as found. [kg/kg]
    rise, bend : ndarray
        True strength when the reading is out by u of its give or take: ``frac_mass + rise u +
        bend u²``. [kg/kg]
    capacity_m3, capacity_error_m3 : ndarray
        [m3]
    """

    frac_mass: np.ndarray
    rise: np.ndarray
    bend: np.ndarray
    capacity_m3: np.ndarray
    capacity_error_m3: np.ndarray

    def found(self, u):
        """Return the true strength when the reading is out by u of its give or take. [kg/kg]."""
        return np.clip(self.frac_mass + u * (self.rise + u * self.bend), 0.0, 1.0)

    def capacity(self, u):
        """Return the true capacity when it is out by u of its give or take. [m3]."""
        return self.capacity_m3 + u * self.capacity_error_m3


class Spread(NamedTuple):
    """Where a figure lies at 95 %, (n,), and what each input gives of it.

    Attributes
    ----------
    low, value, high : ndarray
        [unit of the figure]
    parts : dict of str to ndarray
        Signed: what the figure moves by when ``found`` or ``capacity`` rises by its give or take.
        [unit of the figure]
    drawn : ndarray of bool
        Whether first order would not do.
    """

    low: np.ndarray
    value: np.ndarray
    high: np.ndarray
    parts: dict
    drawn: np.ndarray

    @property
    def half_width(self):
        """Half of the span at 95 %. [unit of the figure]."""
        return (self.high - self.low) / 2


def normal_draws():
    """Return the fixed set of draws, (3, `DRAWS`): reading, capacity, curve. [half-widths]."""
    return normal_points(3, DRAWS)


@functools.cache
def normal_points(dimensions, draws):
    """Return draws of up to four things that are out by chance, (dimensions, draws).

    Hammersley's points, which fill the cube evenly; each stands with its opposite, so that the
    means are exact, and variances and covariances are made so. [half-widths]
    """
    count = draws // 2
    at = np.arange(count)
    rest = (_mirrored(at, base) + 0.5 / count for base in _BASES[: dimensions - 1])
    cube = [(at + 0.5) / count, *rest]
    normal = statistics.NormalDist()
    quantiles = np.array([[normal.inv_cdf(float(p)) for p in row] for row in cube])
    skew = np.linalg.cholesky(quantiles @ quantiles.T / count)
    quantiles = np.linalg.solve(skew, quantiles)
    points = np.concatenate([quantiles, -quantiles], axis=1) / HALF_WIDTH_SD
    points.flags.writeable = False
    return points


def _mirrored(numbers, base):
    """Return whole numbers with their digits in a base mirrored at the point. [-]."""
    mirrored, unit = np.zeros(len(numbers)), 1.0
    while np.any(numbers):
        unit /= base
        mirrored += unit * (numbers % base)
        numbers = numbers // base
    return mirrored


@functools.cache
def _normal_table():
    z = np.linspace(-8.0, 8.0, 4001)
    normal = statistics.NormalDist()
    return z, np.array([normal.cdf(float(each)) for each in z])


def normal_cdf(z):
    """Return the share of a normal spread below z standard deviations. [-]."""
    return np.interp(z, *_normal_table())


def spread_of(function, inputs):
    """Spread of a figure over what was measured.

    Parameters
    ----------
    function : callable
        Takes strengths and capacities, (m,), and which row each belongs to, (m,) of int; returns
        the figure, (m,). NaN where there is none.
    inputs : Inputs, (n,)

    Returns
    -------
    Spread
    """
    # All in one call: as it is, and each input moved either way.
    moves = ((0.0, 0.0), (1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0))
    count = np.size(inputs.frac_mass)
    figures = function(
        np.concatenate([inputs.found(found) for found, _ in moves]),
        np.concatenate([inputs.capacity(capacity) for _, capacity in moves]),
        np.tile(np.arange(count), len(moves)),
    )
    value, *ends = np.reshape(figures, (len(moves), count))
    square = np.zeros_like(value)
    parts, bent = {}, np.zeros(np.shape(value), bool)
    for name, up, down in (("found", *ends[:2]), ("capacity", *ends[2:])):
        parts[name] = (up - down) / 2
        bend = np.abs(up + down - 2.0 * value)
        # Comparisons with NaN are false: a figure that is missing at an end is bent.
        bent |= ~(bend <= BEND_MAX * np.maximum(np.abs(up - down), 1e-12))
        square = square + parts[name] ** 2
    half = np.sqrt(square)
    low, high = value - half, value + half
    bent &= np.isfinite(value)
    if np.any(bent):
        drawn = draw(function, inputs, bent)
        with np.errstate(invalid="ignore"):
            low[bent], high[bent] = np.nanpercentile(drawn, [_LOW, _HIGH], axis=1)
    return Spread(low, value, high, parts, bent)


def draw(function, inputs, rows):
    """Return the figure of each draw for some rows, (m, `DRAWS`); ``function`` as `spread_of`."""
    reading, capacity, _ = normal_draws()
    places = np.flatnonzero(rows)
    figures = np.empty((places.size, DRAWS))
    for start in range(0, places.size, _PIECE):  # pieces keep the memory flat
        here = places[start : start + _PIECE]
        chosen = Inputs(*(np.broadcast_to(each, np.shape(rows))[here][:, None] for each in inputs))
        found, true_capacity = chosen.found(reading), chosen.capacity(capacity)
        drawn = function(found.ravel(), true_capacity.ravel(), np.repeat(here, DRAWS))
        figures[start : start + here.size] = np.reshape(drawn, found.shape)
    return figures


class Hold(NamedTuple):
    """What counts as holding, (n,): strengths from ``weakest`` to ``strongest``. [kg/kg].

    ``curve`` is the give or take of ``weakest`` at 95 %, where it was read off a curve.
    """

    weakest: np.ndarray
    strongest: np.ndarray
    curve: np.ndarray


def chance_to_hold(function, inputs, spread, hold):
    """Chance that the true strength afterwards holds, (n,). [-].

    Parameters
    ----------
    function, inputs
        As for `spread_of`.
    spread : Spread
        What `spread_of` gave for them.
    hold : Hold
    """
    sd = np.sqrt(sum(part**2 for part in spread.parts.values()) + hold.curve**2) / HALF_WIDTH_SD
    # A hair's breadth counts as held: the rounding of a sum must not halve a chance.
    margin = spread.value - hold.weakest + 1e-9
    with np.errstate(divide="ignore", invalid="ignore"):
        z = np.where(sd > 0.0, margin / np.where(sd > 0.0, sd, 1.0), np.copysign(np.inf, margin))
    chance = normal_cdf(np.clip(np.nan_to_num(z), -8.0, 8.0))
    near_end = spread.value + 3.0 * sd > hold.strongest
    rows = (spread.drawn | near_end) & np.isfinite(spread.value)
    if np.any(rows):
        after = draw(function, inputs, rows)
        weakest, strongest, curve = (
            np.broadcast_to(each, np.shape(rows))[rows][:, None] for each in hold
        )
        holds = after >= weakest - 1e-9 + curve * normal_draws()[2]
        chance[rows] = np.mean(holds & (after <= strongest), axis=1)
    return chance
