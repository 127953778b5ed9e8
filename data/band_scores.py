"""How the bands do on rows that the fit has not seen, and a verdict on each in words.

Printed by ``left_out.py``, which makes the rows.
"""

from typing import NamedTuple

import numpy as np

from coolcalc import evidence
from coolcalc.errors import CoolcalcError

#: Properties whose band, and whose error, is a share of the value.
SHARES = ("heat_capacity", "conductivity", "viscosity", "vapor_pressure")
#: By what share a vapour pressure rises a kelvin, near boiling. [1/K]
SHARE_A_KELVIN = 0.035
#: Not counted: a formula with two coefficients, 1 to 2 K from every table of freezing points, and
#: a table of 1962 that its own handbook has replaced (by trc-vapour), 18 % off at 53 °C.
NOT_COUNTED = (("conde-2011", "freezing_point"), ("crc-44", "vapor_pressure"))

#: A band holds when this many rows are scored, this share of them lies inside, and a constant band
#: of equal coverage would be wider.
ROWS_AT_LEAST, INSIDE_AT_LEAST = 12, 0.95

#: Bands that too few rows can show to hold, and why.
JUDGED = {
    ("freezing", "ethylene glycol"): "two authors, 0.1 K apart",
    ("refraction", "ethylene glycol"): "one source of mixes",
    ("vapour", "glycerol"): "no row of a mix scored",
    ("heat_capacity", "glycerol"): "one source of mixes",
    ("conductivity", "glycerol"): "one source of mixes",
}


class Score(NamedTuple):
    """How a band does on the rows that score it.

    ``narrower`` is the mean half-width over the half-width of a constant band of equal coverage,
    both as shares of the value where the property's band is one. ``coverage`` and ``narrower`` are
    None where no row scores. ``judged`` counts the rows that cannot score.
    """

    rows: int
    coverage: float | None
    narrower: float | None
    judged: int


def score(rows):
    """Return the `Score` of the bands on the rows of one group and fluid."""
    off, half, judged = [], [], 0
    for each in rows:
        row = each.row
        if (row["source"], row["property"]) in NOT_COUNTED or each.frac_mass == 0:
            continue  # a source's own water tells of the source
        try:
            low, high = evidence.band_of(row)
        except CoolcalcError:  # hotter or colder than the property is asked for
            judged += 1
            continue
        if not each.scores:
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
        return Score(0, None, None, judged)
    covered = float(np.mean(off <= half))
    constant = np.quantile(off, covered, method="higher")
    return Score(off.size, covered, float(np.mean(half) / constant), judged)


def verdict(key, found):
    """Return in words what a score says of the band of (group's property, fluid)."""
    enough = found.rows >= ROWS_AT_LEAST
    if enough and found.coverage >= INSIDE_AT_LEAST and found.narrower < 1:
        return "holds"
    return f"judged: {JUDGED[key]}" if key in JUDGED else "does not hold"


def score_lines(every):
    """Return the lines of the table: `every` holds rows by (group's property, fluid)."""
    lines = [
        "bands on rows of lineages that the fit has not seen. Width: over that of a constant band",
        "that holds as many. Not scored: outside the range, or nothing else published near.",
        f"{'':32s}{'scored':>6s}{'inside':>8s}{'width':>7s}{'not scored':>12s}   verdict",
    ]
    for key, rows in every.items():
        found = score(rows)
        inside = "-" if found.coverage is None else f"{100 * found.coverage:.0f} %"
        width = "-" if found.narrower is None else f"{found.narrower:.2f}"
        lines.append(
            f"{key[0]:15s}{key[1]:17s}{found.rows:6d}{inside:>8s}{width:>7s}{found.judged:12d}"
            f"   {verdict(key, found)}"
        )
    return [
        *lines,
        "The widths were drawn by hand on these same rows: that a band holds is no forecast for",
        "rows yet to come, and the judged ones are not proved.",
    ]
