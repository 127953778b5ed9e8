"""Tables on the page of the frost standard, of depots and of nights: opened, put into fields."""

import csv
import functools

from coolcalc import units
from coolcalc.errors import CoolcalcError, InputError
from coolcalc.jobs.frost_inputs import NOT_TOLD, SITES
from coolcalc.jobs.winter_low import MINIMA
from coolcalc.panels import fields, table
from coolcalc.panels.form import NO, UNITS
from coolcalc.tables import rows_from

#: What is chosen where no row of the table of depots is taken.
OWN = "own figures"

#: Columns of the table of depots: kind of their figures, None for text.
DEPOT_COLUMNS = {
    "depot": None,
    "station": None,
    "station height": "altitude",
    "depot height": "altitude",
    "site": None,
    "colder than station": "temperature difference",
    "colder, give or take": "temperature difference",
    "night stop": None,
    "night stop low": "temperature",
    "coolant in all": "volume",
}
_DEPOT_NEEDS = ("depot", "station", "coolant in all")
_UNITS = {"altitude": "m", "temperature difference": "K", "temperature": "°C", "volume": "L"}
_UNIT_OF = {name: kind and _UNITS[kind] for name, kind in DEPOT_COLUMNS.items()}
#: The table without a row.
NO_DEPOTS = table.laid_out([], _UNIT_OF)

#: Columns of the table of nights: lowest at the station, and in the yard.
NIGHT_COLUMNS = {"station": "temperature", "yard": "temperature"}
NO_NIGHTS = table.laid_out([], dict.fromkeys(NIGHT_COLUMNS, "°C"))

#: Fields of a depot by the column of the table that fills them.
FILLED = {
    "depot": "depot",
    "site": "site",
    "station_height": "station height",
    "depot_height": "depot height",
    "colder_than_station": "colder than station",
    "colder_error": "colder, give or take",
    "stop": "night stop",
    "stop_low": "night stop low",
}


def open_depots(content):
    """Return a CSV file of depots as the table's text, bad cells and all; no table is refused."""
    rows = rows_from("depots", content, "depots")
    if not rows:
        raise InputError("depots", "", "there is no row in that file; nothing was changed.")
    found = {units.read_header(header)[0].casefold(): header for header in rows[0]}
    missing = [name for name in _DEPOT_NEEDS if name not in found]
    if missing:
        raise InputError(
            "depots",
            ", ".join(map(str, rows[0]))[:80],
            f"there is no column {' and no column '.join(missing)}; the table takes the columns "
            f"{', '.join(table.headers_of(NO_DEPOTS))}. Nothing was changed.",
        )
    for row in rows:
        if "site" in found:
            row[found["site"]] = _site(row[found["site"]])
    return table.laid_out(rows, _UNIT_OF)


def _site(text):
    """Return how a depot lies in the words of the page, where it is told in some of them."""
    told = str(text).strip().casefold()
    return next((site for site in SITES if told and site.startswith(told)), text or NOT_TOLD)


def open_nights(content):
    """Return a CSV file of nights as the table's text, bad cells and all; no table is refused."""
    rows = rows_from("nights", content, "nights")
    found = {units.read_header(header)[0].casefold() for header in (rows or [{}])[0]}
    if not {*NIGHT_COLUMNS} <= found:
        raise InputError(
            "nights",
            ", ".join(sorted(found))[:80],
            "the table takes the columns station [°C] and yard [°C], a row a night. Nothing was "
            "changed.",
        )
    return table.laid_out(rows, dict.fromkeys(NIGHT_COLUMNS, "°C"))


@functools.lru_cache(maxsize=16)
def stations_of(record):
    """Return the stations that a table of daily minima holds, by its header."""
    first = record.partition("\n")[0]
    marks = ";" if first.count(";") > first.count(",") else ","
    try:
        headers = next(csv.reader([first], delimiter=marks), [])
        names = [units.read_header(header)[0] for header in headers if header.strip()]
    except (csv.Error, CoolcalcError):
        return ()
    return tuple(dict.fromkeys(name for name in names if name and name.casefold() != "date"))


def columns_of(rows):
    """Return rows of the table of depots as dicts of column to (text, unit or None)."""
    return [
        {
            units.read_header(header)[0]: (cell.strip(), units.read_header(header)[1])
            for header, cell in row.items()
        }
        for row in rows
    ]


def station_choices(values):
    """Return the stations of the daily minima on the page, to be chosen from."""
    return fields.same(*stations_of(values["record"]))


def depot_choices(values):
    """Return the depots of the table on the page, to be chosen from."""
    names = (
        row["depot"][0] for row in columns_of(table.rows_of(values["depots"])) if "depot" in row
    )
    return ((OWN, "none: as entered below"), *fields.same(*dict.fromkeys(filter(None, names))))


def fill_depot(values):
    """Return the texts that a row of the table of depots puts into the fields of a depot."""
    rows = columns_of(table.rows_of(values["depots"]))
    row = next((row for row in rows if row["depot"][0] == values["from_table"]), None)
    if row is None:
        return {}
    system = fields.unit_systems()[values[UNITS]]
    texts = {"stop_2": "", "stop_2_low": ""}
    for name, column in FILLED.items():
        text, unit = row.get(column, ("", None))
        shown = system.get(DEPOT_COLUMNS[column])
        # A bare number takes the unit shown; another unit is written behind it.
        texts[name] = f"{text} {unit}" if text[-1:].isdigit() and unit != shown else text
    texts["site"] = texts["site"] if texts["site"] in SITES else NOT_TOLD
    texts["compared"] = NO
    station = row.get("station", ("", None))[0]
    if station in stations_of(values["record"]):
        texts |= {"low_from": MINIMA, "station": station}
    return texts
