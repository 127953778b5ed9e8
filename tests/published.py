"""What the tests read of data/: the published rows, the known disagreements, and the scripts."""

import csv
import functools
import importlib
import pathlib

import pytest

from coolcalc import evidence

DATA = pathlib.Path(__file__).resolve().parent.parent / "data"
ZERO_C = 273.15

ROWS = evidence.read_rows(DATA / "published")

#: Row name -> (model less row in the row's unit, why).
with (DATA / "disagreements.csv").open(encoding="utf-8", newline="") as file:
    DISAGREEMENTS = {
        each["row"]: (float(each["distance"]), each["why"]) for each in csv.DictReader(file)
    }


def script(name):
    """Return a script of data/ as a module; the modules beside it are found as when it is run."""
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(str(DATA))
        return importlib.import_module(name)


@functools.cache
def left_out_rows():
    """Return every row beside a fit that has not seen its lineage: ten seconds, so once."""
    return script("refits").every_row()
