"""Heat capacity, conductivity and viscosity: w yg(T) + (1 - w) yw(T) + w (1 - w) P(w, T).

y is the heat capacity, the conductivity or the logarithm of the viscosity. Few terms and a
ridge: beyond 60 mass % and above 100 °C hardly a row holds the excess, and a stiff one is sane
there. Water's own line is fitted to IAPWS values, and tied down below 0 °C, where water is ice and
its line is only the frame on which the excess stands.
"""

import numpy as np

from .rows import FLUIDS, LIGHT, frac_mass, numbers, pick, powers, solve

#: Temperature at which the viscosity variable has its pole. [K]
VOGEL_POLE_K = 120.0

BASES = ("mass %", "mole fraction")


def scaled(temp_c):
    """Return (t - 40 °C)/60 K."""
    return (np.asarray(temp_c, dtype=float) - 40.0) / 60.0


def vogel(temp_c):
    """Return the variable in which ln(viscosity) is nearly a straight line, 0 at 40 °C."""
    above_pole = np.asarray(temp_c, dtype=float) + 273.15 - VOGEL_POLE_K
    return (313.15 - VOGEL_POLE_K) / above_pole - 1.0


class Transport:
    """The fit of one property; the attributes are what ``fit_coefficients.py`` asks a group for."""

    SCALE, UNIT = 100.0, "%"

    def __init__(self, prop, variable, water_terms, ties, ridge, terms, hot_tie=None):
        self.PROPERTY = prop
        self.variable = variable
        self.water_terms = water_terms
        self.ties = ties  # below 0 °C: (°C, y, its weight)
        self.ridge = ridge  # the size of a coefficient of the excess that costs as one row missed
        self.terms = terms  # by fluid: of the pure line, and of the excess
        self.hot_tie = hot_tie or {}  # by fluid: °C above which the excess stays, and how nearly

    def ordinate(self, value):
        """Return y of a value in the unit of the rows."""
        return np.log(value / 1000) if self.PROPERTY == "viscosity" else value

    def value(self, ordinate):
        """Return the value of y, in the unit of the rows."""
        return 1000 * np.exp(ordinate) if self.PROPERTY == "viscosity" else ordinate

    def relative(self, ordinate, value):
        """Return y less that of a row's value, as a share of the value."""
        return self.value(ordinate) / value - 1

    def weights(self, rows):
        """Return one over the tolerance in y; a third of it for a formula evaluated."""
        value = numbers(rows, "value")
        tolerance = numbers(rows, "tolerance")
        if self.PROPERTY == "viscosity":
            tolerance = tolerance / value
        computed = np.array([row["kind"] == "computed" for row in rows])
        return np.where(computed, LIGHT, 1.0) / tolerance

    def fit_water(self, rows):
        """Return the coefficients of water's line."""
        here = pick(rows, self.PROPERTY, "water")
        cold, ordinate, weight = (np.array(column) for column in zip(*self.ties, strict=True))
        temp = np.concatenate([numbers(here, "temp_c"), cold])
        y = np.concatenate([self.ordinate(numbers(here, "value")), ordinate])
        weight = np.concatenate([self.weights(here) / LIGHT, weight])
        return solve(powers(self.variable(temp), self.water_terms), y, weight)

    def fit_fluid(self, rows, fluid, water):
        """Return the coefficients of the glycol's line and of the excess, and residuals."""
        here = [row for row in pick(rows, self.PROPERTY, fluid) if row["basis"] in BASES]
        pure_terms, terms = self.terms[fluid]
        w = np.array([frac_mass(row, 1.0, 1.0) for row in here])
        temp, value = numbers(here, "temp_c"), numbers(here, "value")
        y, weight = self.ordinate(value), self.weights(here)
        pure = w > 0.9999
        glycol = solve(powers(self.variable(temp), pure_terms)[pure], y[pure], weight[pure])
        ideal = self.ideal(glycol, water, w, temp)
        columns = self.excess_columns(w, temp, terms)
        extra = np.eye(columns.shape[1]) / self.ridge
        if fluid in self.hot_tie:
            from_c, nearly = self.hot_tie[fluid]
            extra = np.concatenate([extra, self.hot_columns(terms, from_c) / nearly])
        excess = solve(
            np.concatenate([columns[~pure] * weight[~pure, None], extra]),
            np.concatenate([((y - ideal) * weight)[~pure], np.zeros(len(extra))]),
            np.ones(np.count_nonzero(~pure) + len(extra)),
        )
        off = self.relative(ideal + columns @ excess, value)
        coefficients = {
            f"{self.PROPERTY}_glycol": tuple(glycol.tolist()),
            f"{self.PROPERTY}_excess": tuple(
                tuple(part.tolist()) for part in np.split(excess, np.cumsum(terms)[:-1])
            ),
        }
        return coefficients, [(row, float(share)) for row, share in zip(here, off, strict=True)]

    def ideal(self, glycol, water, w, temp):
        """Return y without its excess."""
        x = self.variable(temp)
        return w * (powers(x, len(glycol)) @ glycol) + (1 - w) * (powers(x, len(water)) @ water)

    def excess_columns(self, w, temp, terms):
        """Return w (1 - w) w^i x^j, i slowest, `terms[i]` powers of x for each."""
        x = self.variable(temp)
        return np.stack(
            [w * (1 - w) * w**i * x**j for i, count in enumerate(terms) for j in range(count)],
            axis=1,
        )

    def hot_columns(self, terms, from_c):
        """Return rows that hold the excess at higher temperatures to what it is at `from_c`."""
        hot = [temp for temp in (70.0, 100.0, 115.0, 130.0) if temp > from_c]
        w, temp = (part.ravel() for part in np.meshgrid([0.2, 0.5, 0.8], hot))
        cool = self.excess_columns(w, np.full(w.size, from_c), terms)
        return self.excess_columns(w, temp, terms) - cool

    def fit(self, rows, found):
        """Return coefficients by fluid, the constant of water, and residuals by fluid."""
        water = self.fit_water(rows)
        parts = {fluid: self.fit_fluid(rows, fluid, water) for fluid in FLUIDS}
        here = pick(rows, self.PROPERTY, "water")
        line = powers(self.variable(numbers(here, "temp_c")), self.water_terms) @ water
        off = self.relative(line, numbers(here, "value"))
        residuals = {fluid: part[1] for fluid, part in parts.items()}
        residuals["water"] = [(row, float(share)) for row, share in zip(here, off, strict=True)]
        return (
            {fluid: part[0] for fluid, part in parts.items()},
            {f"WATER_{self.PROPERTY.upper()}": tuple(water.tolist())},
            residuals,
        )


HEAT_CAPACITY = Transport(
    "heat_capacity",
    scaled,
    6,
    ((-60.0, 4400.0, 0.02), (-30.0, 4310.0, 0.02)),
    5000.0,
    {
        "ethylene glycol": (3, (3, 2, 1)),
        "propylene glycol": (3, (3, 2, 1)),
        "glycerol": (2, (3, 2, 1)),
    },
)
#: Above these temperatures the excess of the conductivity is tied to what it is there: glycerol's
#: mixes stop at 40 °C, and the other two's polynomials (to 100 °C) and the tables of inhibited
#: fluids (to 120 °C) part there, the one rising, the other flat.
CONDUCTIVITY = Transport(
    "conductivity",
    scaled,
    6,
    ((-60.0, 0.46, 20.0), (-30.0, 0.508, 20.0)),
    5.0,
    {
        "ethylene glycol": (3, (3, 2)),
        "propylene glycol": (2, (3, 2)),
        "glycerol": (2, (3, 2)),
    },
    hot_tie={
        "ethylene glycol": (100.0, 0.02),
        "propylene glycol": (100.0, 0.02),
        "glycerol": (40.0, 0.02),
    },
)
VISCOSITY = Transport(
    "viscosity",
    vogel,
    6,
    ((-60.0, -2.2, 1.0), (-40.0, -4.1, 1.0)),
    30.0,
    {
        "ethylene glycol": (3, (4, 3, 2)),
        "propylene glycol": (5, (3, 3, 2)),
        "glycerol": (4, (3, 2, 2, 2)),
    },
)

GROUPS = (HEAT_CAPACITY, CONDUCTIVITY, VISCOSITY)
