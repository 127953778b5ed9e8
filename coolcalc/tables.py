"""A table that somebody typed, as rows of text: from a CSV file, its bytes, or a DataFrame."""

import csv
import io
import pathlib

from .errors import InputError


def rows_from(field, source, what):
    """Return a table's rows, each a dict of its own by column header.

    Parameters
    ----------
    field : str
        Named in refusals.
    source : path, str, bytes, pandas.DataFrame or sequence of dict
        A path, or the bytes, of a CSV file; commas or semicolons part the cells.
    what : str
        What it is a table of, for the sentences: "parts".

    Returns
    -------
    list of dict, or None
        None where the source is no table.

    Raises
    ------
    InputError
        If the file cannot be read, or is no table.
    """
    if isinstance(source, (str, pathlib.Path)):
        source = _from_file(field, pathlib.Path(source), what)
    elif isinstance(source, bytes):
        source = _from_bytes(field, "the file", source, what)
    if hasattr(source, "to_dict") and hasattr(source, "columns"):
        source = source.to_dict("records")
    try:
        listed = None if hasattr(source, "items") else list(source)
    except TypeError:
        listed = None
    if listed is None or not all(hasattr(row, "items") for row in listed):
        return None
    return [dict(row) for row in listed]


def _from_file(field, path, what):
    try:
        content = path.read_bytes()
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        raise InputError(
            field, path, f"{path} cannot be read ({why}); check the name and the folder."
        ) from error
    return _from_bytes(field, path.name, content, what)


def _from_bytes(field, name, content, what):
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError(
            field, name, f"{name} is no text in UTF-8; save the table as CSV in UTF-8."
        ) from None
    first = text.partition("\n")[0]
    marks = ";" if first.count(";") > first.count(",") else ","
    try:
        table = csv.DictReader(io.StringIO(text), delimiter=marks)
        rows, headers = list(table), table.fieldnames or []
    except csv.Error as error:
        raise InputError(
            field, name, f"{name} is no table of {what} ({error}); save it as CSV."
        ) from error
    twice = sorted({header for header in headers if headers.count(header) > 1})
    if twice:
        raise InputError(
            field, twice[0], f'the column "{twice[0]}" stands twice in {name}; keep one.'
        )
    if any(None in row for row in rows):
        cells = "Commas part the cells." if marks == "," else "Semicolons part the cells."
        raise InputError(
            field, name, f"{name} has a row with more cells than columns; mend it. {cells}"
        )
    return rows
