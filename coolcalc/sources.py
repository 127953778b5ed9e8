"""Who published what: a row of sources.csv a source; docstrings, rows and answers cite its key."""

import csv
import importlib.resources
from typing import NamedTuple


class Source(NamedTuple):
    """One source.

    Attributes
    ----------
    key : str
        What docstrings and tables cite.
    title : str
        Author, title, edition.
    year : str
    kind : str
        "published", "computed" (a published formula evaluated), "memory", or "common practice".
    """

    key: str
    title: str
    year: str
    kind: str


def _read():
    table = importlib.resources.files(__package__) / "sources.csv"
    with table.open(encoding="utf-8", newline="") as file:
        return {row["key"]: Source(**row) for row in csv.DictReader(file)}


#: Every source by key.
SOURCES = _read()
