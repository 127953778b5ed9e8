"""A table as the text of one field: CSV, with the unit of a column in its header. No widgets."""

import csv
import io

from coolcalc import units
from coolcalc.errors import InputError


def rows_of(text):
    """Return the rows of a table: dicts of header to text."""
    rows = csv.DictReader(io.StringIO(text), restval="")
    return [{header: cell for header, cell in row.items() if header is not None} for row in rows]


def headers_of(text):
    """Return the headers of a table, in their order."""
    return next(csv.reader(io.StringIO(text)), [])


def text_of(headers, rows):
    """Return a table as text: its headers, and rows of header to text."""
    text = io.StringIO()
    table = csv.DictWriter(text, headers, restval="", extrasaction="ignore", lineterminator="\n")
    table.writeheader()
    table.writerows(rows)
    return text.getvalue()


def laid_out(rows, columns):
    """Return rows of any table as the text of a field: its columns, each with the unit it came in.

    Parameters
    ----------
    rows : sequence of dict
        By header; columns that the field does not have are passed over.
    columns : Mapping of str to str or None
        The unit of each column where the rows do not have it.
    """
    found = {units.read_header(header)[0].casefold(): header for header in (rows or [{}])[0]}
    headers = {}
    for name, unit in columns.items():
        old = found.get(name)
        unit = unit if old is None else units.read_header(old)[1] or unit
        headers[name if unit is None else f"{name} [{unit}]"] = old
    return text_of(
        list(headers), [{new: row.get(old, "") for new, old in headers.items()} for row in rows]
    )


def in_units(text, kinds, units_by_kind):
    """Return a table in another unit system.

    Parameters
    ----------
    text : str
    kinds : Mapping of str to str
        Kind of each column whose bare numbers have a unit.
    units_by_kind : Mapping of str to str
        Unit of each kind in the system to show.

    Returns
    -------
    str
        Headers with the new units, bare numbers converted; a cell that names its own unit, or
        cannot be read, stays as it was typed.
    """
    renamed = {}
    for header in headers_of(text):
        name, old = units.read_header(header)
        kind = kinds.get(name)
        new = units_by_kind.get(kind)
        renamed[header] = (header, None, None, None)
        if kind is not None and new is not None and old is not None and new != old:
            renamed[header] = (f"{name} [{new}]", kind, old, new)
    rows = [
        {renamed[header][0]: _converted(cell, *renamed[header][1:]) for header, cell in row.items()}
        for row in rows_of(text)
    ]
    return text_of([new for new, *_ in renamed.values()], rows)


def _converted(cell, kind, old, new):
    if kind is None or not cell.strip():
        return cell
    try:
        value = units.read("cell", cell, kind, unit=old)
    except InputError:
        return cell
    try:
        names_its_unit = units.read("cell", cell, kind, unit=new) == value
    except InputError:
        names_its_unit = False
    return cell if names_its_unit else units.write(value, kind, new)
