"""Leave one lineage out: refit without it, and compare with all of its rows.

    python data/leave_one_out.py            prints the table, with CoolProp on the same rows
    python data/leave_one_out.py --forms    and the other forms of the freezing curve

Rows of one lineage were copied from each other, or come from one hand, and leave together. The
refit sees fit rows only; where no fit row of the property is left, the check rows of the other
lineages stand in, for this comparison alone. A lineage without fit rows is left out as it is.

A group takes part when its module offers ``compared(row)``, ``refit(rows)`` and
``second_opinion(rows)``; the last two return, for each fluid, a function of a row.
"""

import sys
from typing import NamedTuple

import numpy as np
from fit_coefficients import GROUPS
from fits import freezing
from fits.rows import FLUIDS, load, read

#: A generic concentrate by mass: glycol, water, additives; common practice, no source.
CONCENTRATE = (0.94, 0.03, 0.03)
#: Bases of tables whose per cent can be read in two ways; nothing of them is fitted.
TWO_READINGS = ("mass % inhibited",)


class Line(NamedTuple):
    """Distances of one source: rows, and (rms, largest) of each model. [unit of the group].

    ``left_out_there`` and ``coolprop`` are over the rows that CoolProp answers; None where none.
    """

    fluid: str
    lineage: str
    source: str
    kind: str
    rows: int
    consensus: tuple
    left_out: tuple
    left_out_there: tuple | None
    coolprop: tuple | None


def distance(rows, model):
    """Return root mean square and largest of model minus row."""
    off = np.array([model(row) - float(row["value"]) for row in rows])
    return float(np.sqrt(np.mean(off**2))), float(np.max(np.abs(off)))


def answered(rows, model):
    """Return the rows that a model answers: CoolProp refuses above 60 mass % and when hot."""
    found = []
    for row in rows:
        try:
            model(row)
        except ValueError:
            continue
        found.append(row)
    return found


def without(group, every, fluid, lineage):
    """Return the fit rows less one lineage of one fluid, as far as the group compares it."""

    def here(row):
        return group.compared(row) and row["fluid"] == fluid

    rows = [row for row in load() if not (here(row) and row["lineage"] == lineage)]
    if any(here(row) for row in rows):
        return rows
    return rows + [row for row in every if here(row) and row["lineage"] != lineage]


def table(group, **options):
    """Return a `Line` for each source of each fluid; `options` go to the refits."""
    every = read()
    consensus = group.refit(load(), **options)
    theirs = group.second_opinion(load())
    lines = []
    for fluid in FLUIDS:
        rows = [row for row in every if group.compared(row) and row["fluid"] == fluid]
        for lineage in dict.fromkeys(row["lineage"] for row in rows):
            refitted = group.refit(without(group, every, fluid, lineage), **options)
            mine = [row for row in rows if row["lineage"] == lineage]
            for source in dict.fromkeys(row["source"] for row in mine):
                here = [row for row in mine if row["source"] == source]
                both = answered(here, theirs[fluid])
                far = (
                    distance(here, consensus[fluid]),
                    distance(here, refitted[fluid]),
                    (distance(both, refitted[fluid]) if both else None),
                    (distance(both, theirs[fluid]) if both else None),
                )
                lines.append(Line(fluid, lineage, source, here[0]["kind"], len(here), *far))
    return lines


def of_product(row):
    """Return the row as glycol over glycol and water, its per cent being of a generic product."""
    share = float(row["concentration"]) / 100
    glycol, water, _ = CONCENTRATE
    frac = share * glycol / (share * (glycol + water) + 1 - share)
    return {**row, "basis": "mass %", "concentration": str(100 * frac)}


def of_glycol(row):
    """Return the row as glycol over glycol and water, its per cent being that."""
    return {**row, "basis": "mass %"}


def readings(fluid, source):
    """Return rows, and distances of the consensus and of CoolProp, by what the per cent is of."""
    rows = [
        row
        for row in read()
        if (row["property"], row["fluid"]) == ("freezing_point", fluid)
        and row["source"] == source
        and row["basis"] in TWO_READINGS
        and float(row["concentration"]) <= 60
    ]
    models = freezing.refit(load())[fluid], freezing.second_opinion(load())[fluid]
    return len(rows), {
        reading.__name__: tuple(
            distance(rows, lambda row, reading=reading, model=model: model(reading(row)))
            for model in models
        )
        for reading in (of_product, of_glycol)
    }


#: Not counted where errors are summed up: what CoolProp was made from, and a formula of two
#: coefficients that is 1 to 2 K from every table.
NOT_COUNTED = ("melinder-2010", "conde-2011")

#: Forms of the freezing curve that were tried.
TRIED = [
    freezing.Form(kind, terms)
    for kind in ("polynomial", "by number", "by volume")
    for terms in (1, 2, 3)
]


def tried():
    """Return for each form and fluid the error left out: root mean square over lineages. [K]."""
    found = {}
    for form in TRIED:
        lines = table(freezing, forms=dict.fromkeys(FLUIDS, form))
        for fluid in FLUIDS:
            off = [
                line.left_out[0]
                for line in lines
                if line.fluid == fluid and line.source not in NOT_COUNTED
            ]
            found[form, fluid] = float(np.sqrt(np.mean(np.square(off))))
    return found


def words(pair):
    """Return rms and largest as printed."""
    return " " * 13 if pair is None else f"{pair[0]:6.2f} {pair[1]:6.2f}"


def main(arguments):
    """Print the tables."""
    heads = ("consensus", "left out", "same, where", "CoolProp answers")
    for group in GROUPS:
        if not hasattr(group, "refit"):
            continue
        print(f"{group.PROPERTY}, {group.UNIT}: root mean square and largest of model minus row")
        print(" " * 59 + "".join(f"{head:>17s}" for head in heads))
        for line in table(group):
            pairs = (line.consensus, line.left_out, line.left_out_there, line.coolprop)
            three = "    ".join(map(words, pairs))
            print(
                f"{line.fluid:17s}{line.lineage:10s}{line.source:19s}{line.kind:10s}"
                f"{line.rows:3d}     {three}"
            )
    print("\ntables read as per cent of glycol or of a product, K: consensus and CoolProp")
    for fluid in ("ethylene glycol", "propylene glycol"):
        rows = [r for r in read() if r["fluid"] == fluid and r["basis"] in TWO_READINGS]
        sources = [r["source"] for r in rows if r["kind"] == "published"]
        for source in dict.fromkeys(sources):
            count, found = readings(fluid, source)
            for name, pair in found.items():
                two = "    ".join(map(words, pair))
                print(f"{fluid:17s}{source:17s}{name:11s}{count:3d}     {two}")
    if "--forms" in arguments:
        print("\nforms of the freezing curve, error left out, K")
        for (form, fluid), off in tried().items():
            print(f"{fluid:17s}{form.kind:11s}{form.terms:2d}  {off:7.3f}")


if __name__ == "__main__":
    main(sys.argv[1:])
