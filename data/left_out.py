"""Every published row against a fit that has not seen its lineage, for all properties.

    python data/left_out.py            prints the errors, beside CoolProp's, and scores the bands
    python data/left_out.py --forms    and compares the other forms of the freezing curve

Rows of one lineage were copied from each other, or come from one hand, and leave together:
``refits.py`` does it. A lineage without fit rows was never fitted, so the curve in use answers.
"""

import sys
from typing import NamedTuple

import numpy as np
from band_scores import SHARES, score_lines
from fits import freezing
from fits.rows import FLUIDS, read
from refits import MODELS, every_row, other_crystals, stated, without

from coolcalc import evidence
from coolcalc.errors import CoolcalcError

#: The two sides of freezing are printed as two properties.
GLYCOL_SIDE = "freezing_point, glycol side"
#: Unit in which the errors of a property are printed, and how many of them make a row's unit.
UNITS = {
    "density": ("kg/m3", 1.0),
    "specific_gravity": ("0.001", 1e3),
    "freezing_point": ("K", 1.0),
    GLYCOL_SIDE: ("K", 1.0),
    "refractive_index": ("0.0001", 1e4),
    "boiling_point": ("K", 1.0),
    **dict.fromkeys(SHARES, ("% of the value", 100.0)),
}


class Line(NamedTuple):
    """Distances of one source: rows, and (rms, largest) of each model, in `UNITS`.

    ``left_out`` is None where no model has not seen the lineage. ``left_out_there`` and
    ``coolprop`` are over the rows that CoolProp answers; None where there are none.
    """

    property: str
    fluid: str
    lineage: str
    source: str
    kind: str
    rows: int
    consensus: tuple
    left_out: tuple | None
    left_out_there: tuple | None
    coolprop: tuple | None


def coolprop_value(row):
    """Return what CoolProp gives for a row; None where it refuses, or is not asked."""
    if row["property"] not in evidence.SECOND_OPINION:
        return None
    try:
        return evidence.model_value(row, model="coolprop")
    except CoolcalcError:
        return None


def printed_property(each):
    """Return the property under which a row is printed: the two sides of freezing are two."""
    glycol_side = other_crystals(each.frac_mass, 0.0)
    freezes = each.row["property"] == "freezing_point" and glycol_side
    return GLYCOL_SIDE if freezes else each.row["property"]


def distance(off):
    """Return root mean square and largest; None of nothing."""
    off = np.array(off)
    return (float(np.sqrt(np.mean(off**2))), float(np.max(np.abs(off)))) if off.size else None


def error_lines(rows):
    """Return a `Line` for each property and source of the `LeftOut` rows of one fluid."""
    sources = {}
    for each in rows:
        key = (printed_property(each), *(each.row[name] for name in ("fluid", "lineage", "source")))
        sources.setdefault(key, []).append(each)
    return [Line(*key, *compared(key[0], here)) for key, here in sources.items()]


def compared(prop, rows):
    """Return kind, number of rows, and the four distances of a source's rows."""
    values = np.array([float(each.row["value"]) for each in rows])
    size = UNITS[prop][1] / (values if prop in SHARES else np.ones(values.size))
    ours = size * [evidence.model_value(each.row) for each in rows] - size * values
    unseen = size * [each.off for each in rows]
    others = [coolprop_value(each.row) for each in rows]
    there = np.array([other is not None for other in others])
    theirs = size[there] * [other for other in others if other is not None]
    kinds = {each.row["kind"] for each in rows}
    return (
        kinds.pop() if len(kinds) == 1 else "both",
        len(rows),
        distance(ours),
        distance(unseen) if rows[0].unseen else None,
        distance(unseen[there]) if rows[0].unseen else None,
        distance(theirs - size[there] * values[there]),
    )


def words(pair):
    """Return rms and largest as printed, 13 wide."""
    two = ("-", "-") if pair is None else (f"{x:.2f}" if x < 100 else f"{x:.0f}" for x in pair)
    return " {:>6s}{:>6s}".format(*two)


def error_text(lines):
    """Return the table of errors, a block for each property."""
    text = []
    for prop in UNITS:
        unit = f"{prop} [{UNITS[prop][0]}]"
        text += [
            "",
            f"{unit:48s}{'consensus':>13s}{'left out':>13s}   where CoolProp answers",
            f"{'':36s}{'kind':8s}rows" + 2 * "    rms   max" + "     left out     CoolProp",
        ]
        for fluid in FLUIDS:
            here = [line for line in lines if (line.property, line.fluid) == (prop, fluid)]
            text += [fluid] if here else []
            text += [
                f"{line.lineage:17s} {line.source:17s} {line.kind:9s}{line.rows:3d}"
                + "".join(map(words, line[-4:]))
                for line in here
            ]
    return text


# The inhibited table of freezing points, its per cent read in two ways


#: Nothing of it is fitted.
TWO_READINGS = "mass % inhibited"


def of_product(row):
    """Return the row as of glycol and water, its per cent being of a generic product."""
    return {**row, "basis": "mass %", "concentration": str(100 * evidence.frac_mass(row))}


def of_glycol(row):
    """Return the row as of glycol and water, its per cent being of glycol in these."""
    return {**row, "basis": "mass %"}


def readings(fluid):
    """Return the rows, and the distances of the consensus and of CoolProp by each reading."""
    rows = [
        row
        for row in read()
        if (row["property"], row["fluid"]) == ("freezing_point", fluid)
        and (row["basis"], row["kind"]) == (TWO_READINGS, "published")
        and float(row["concentration"]) <= 100 * freezing.FREEZE_MAX
    ]
    return rows, {
        reading.__name__: tuple(
            distance(
                [evidence.model_value(reading(row), **m) - float(row["value"]) for row in rows]
            )
            for m in ({}, {"model": "coolprop"})
        )
        for reading in (of_product, of_glycol)
    }


# Other forms of the freezing curve


TRIED = [
    freezing.Form(kind, terms)
    for kind in ("polynomial", "by number", "by volume")
    for terms in (1, 2, 3)
]
#: Not counted where the errors are summed up: what CoolProp was made from, and a formula of two
#: coefficients that is 1 to 2 K from every table.
NOT_CHOSEN_BY = ("melinder-2010", "conde-2011")


def tried(fluid):
    """Return the error left out of each form: root mean square over the sources. [K]."""
    sources = {}
    for row in stated(freezing, fluid):
        if row["source"] not in NOT_CHOSEN_BY and not other_crystals(evidence.frac_mass(row), 0.0):
            sources.setdefault((row["lineage"], row["source"]), []).append(row)
    rests = {key: without(freezing, fluid, key[0])[0] for key in sources}

    def error(form, key):
        curve = freezing.water_curve(rests[key], fluid, MODELS[fluid]._asdict(), form)
        off = [curve(evidence.frac_mass(row)) + float(row["value"]) for row in sources[key]]
        return distance(off)[0]

    return {form: distance([error(form, key) for key in sources])[0] for form in TRIED}


def main(arguments):
    """Print the tables."""
    every = every_row()
    print("Model minus row, root mean square and largest, by lineage and source. Consensus: the")
    print('curve in use. Left out: a fit without the lineage; "-" where the rest carries none.')
    print("\n".join(error_text([line for rows in every.values() for line in error_lines(rows)])))
    print("\nfreezing point [K] of the inhibited table, its mass per cent read in two ways")
    print(f"{'':48s}{'consensus':>13s}{'CoolProp':>13s}")
    for fluid in FLUIDS[:2]:
        rows, found = readings(fluid)
        for name, pair in found.items():
            print(f"{fluid:18s}{rows[0]['source']:16s}{name:11s}{len(rows):3d}", end="")
            print("".join(map(words, pair)))
    print()
    print("\n".join(score_lines(every)))
    if "--forms" in arguments:
        print("\nforms of the freezing curve, error left out [K]")
        for fluid in FLUIDS:
            for form, off in tried(fluid).items():
                print(f"{fluid:17s}{form.kind:11s}{form.terms:2d}{off:9.3f}")


if __name__ == "__main__":
    main(sys.argv[1:])
