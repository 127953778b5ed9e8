"""Published limits of the water that coolant concentrate is mixed with, in one table."""

import math
from typing import NamedTuple

#: Keys of the sources of the limits.
LIMIT_SOURCES = ("astm-mixing-water", "sae-j814")

#: What another set of limits is called: it has no source that can be named.
LOOSER = "common practice, no source"

#: A figure nearer to its limit than this share of it is exactly at it. [-]
SAME = 1e-9


class Limit(NamedTuple):
    """One limit of water to mix with.

    Attributes
    ----------
    words : str
        What is limited.
    kind : str
        One of `coolcalc.units.KINDS`.
    low, high : float
        Inclusive; ``low`` is −inf where there is none. [mg/L; pH as it is]
    looser : float or None
        What is accepted in looser common practice. [mg/L]
    mixes : bool
        Whether it falls in proportion when distilled water is added.
    sources : tuple of str
        Keys of `coolcalc.sources.SOURCES`.
    """

    words: str
    kind: str
    low: float
    high: float
    looser: float | None
    mixes: bool
    sources: tuple[str, ...]

    def verdict(self, value):
        """Return how a figure stands to the limit: limits are "at most", so at it is within."""
        ends = [end for end in (self.low, self.high) if math.isfinite(end)]
        if any(math.isclose(value, end, rel_tol=SAME) for end in ends):
            return AT
        if value > self.high:
            return OVER
        return BELOW if value < self.low else WITHIN

    def show(self, value):
        """Return a figure as printed, with so many decimals that it stands on its side of a limit.

        Four significant digits, and more where they would make it the limit.
        """
        text = f"{float(f'{value:.4g}'):.7g}"
        if self.verdict(value) != AT and float(text) in (self.low, self.high):
            text = f"{value:.12g}"
        return f"{text} {self.unit}".rstrip()

    @property
    def unit(self):
        """Unit that a figure is printed in."""
        return "mg/L" if self.mixes else ""

    @property
    def rule(self):
        """The limit as printed."""
        if math.isfinite(self.low):
            return f"{self.low:.1f} to {self.high:.1f}"
        return f"at most {self.high:g} {self.unit}"


WITHIN, AT, OVER, BELOW = (
    "within",
    "exactly at the limit, which counts as within",
    "over the limit",
    "below the limit",
)

_IN_WATER = "concentration in water"

#: Limits by the name of the argument, in the order of printing.
LIMITS = {
    "hardness": Limit("hardness", "hardness", -math.inf, 170.0, 300.0, True, LIMIT_SOURCES),
    "chloride": Limit("chloride", _IN_WATER, -math.inf, 40.0, 100.0, True, LIMIT_SOURCES),
    "sulphate": Limit("sulphate", _IN_WATER, -math.inf, 100.0, 100.0, True, LIMIT_SOURCES),
    "solids": Limit("total solids", _IN_WATER, -math.inf, 340.0, None, True, LIMIT_SOURCES),
    "ph": Limit("pH", "pH", 5.5, 9.0, None, False, LIMIT_SOURCES),
}
