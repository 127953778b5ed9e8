"""The published rows of data/published/ and the known disagreements, as the tests read them."""

import csv
import pathlib

from coolcalc import evidence

DATA = pathlib.Path(__file__).resolve().parent.parent / "data"
ZERO_C = 273.15

ROWS = evidence.read_rows(DATA / "published")

#: Row name -> (model less row in the row's unit, why).
with (DATA / "disagreements.csv").open(encoding="utf-8", newline="") as file:
    DISAGREEMENTS = {
        each["row"]: (float(each["distance"]), each["why"]) for each in csv.DictReader(file)
    }
