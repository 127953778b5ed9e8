"""The table of a system's parts: read from rows, a table or a CSV file, and kept as one."""

import csv
import dataclasses
import functools
import io
from typing import Any, NamedTuple

from .. import units
from ..balance import capacity as kernel
from ..errors import CoolcalcError, InputError, Reader, one_of
from ..files import save
from ..tables import rows_from

#: Columns: the kind of what stands in each, and the unit under which a file keeps it.
COLUMNS = {
    "part": (None, None),
    "kind": (None, None),
    "bore": ("bore", "mm"),
    "width": ("bore", "mm"),
    "height": ("bore", "mm"),
    "length": ("length", "m"),
    "count": ("count", None),
    "volume": ("volume", "L"),
    "give or take": ("share", "%"),
}

#: Give or take of a part where none is told, at 95 %, by its kind. By judgement, no source. [-]
KINDS = {
    "hose": 0.06,
    "flat tubes": 0.15,
    "tank": 0.05,
    "core": 0.10,
    "passage": 0.15,
    "side circuit": 0.10,
}
#: What a part of a kind is worked out from; its volume of the others, or instead.
NEEDS = {"hose": ("bore", "length"), "flat tubes": ("width", "height", "length")}

#: Rows to begin from: a small harbour pusher of an invented yard.
EXAMPLE_PARTS = (
    {"part": "block and head", "kind": "passage", "volume": "4.6 L"},
    {"part": "radiator core", "kind": "flat tubes", "width": "22 mm", "height": "2 mm",
     "length": "0.52 m", "count": "96"},
    {"part": "radiator tanks", "kind": "tank", "volume": "0.9 L", "count": "2"},
    {"part": "top and bottom hose", "kind": "hose", "bore": "38 mm", "length": "0.9 m",
     "count": "2"},
    {"part": "heater hoses", "kind": "hose", "bore": "16 mm", "length": "2.4 m", "count": "2"},
    {"part": "heater core", "kind": "core", "volume": "0.7 L"},
    {"part": "cabin heater of the deckhouse", "kind": "side circuit", "volume": "1.2 L"},
)  # fmt: skip

#: Most rows that are read, and most characters of a name.
ROWS_MAX, NAME_MAX = 500, 80


@dataclasses.dataclass(frozen=True)
class Part:
    """A part: its name, kind, litres in all, and their give or take. [m3]."""

    name: str
    kind: str
    volume_m3: float
    half_width_m3: float
    told: dict


class BadRow(NamedTuple):
    """A row that cannot be counted: its number, its name, and why, field by field."""

    number: int
    name: str
    why: tuple


def read_parts(parts):
    """Return the good parts, and the rows that are bad.

    Parameters
    ----------
    parts : sequence of dict, pandas.DataFrame, path, str or bytes
        Rows by column name, each name with its unit in brackets ("bore [mm]") or each value with
        its own; or the path of a CSV file, or its bytes. Rows with nothing in them are passed over.

    Returns
    -------
    parts : tuple of Part
    bad : tuple of BadRow

    Raises
    ------
    InputError
        If it is no table, or a column is unknown.
    """
    good, bad = [], []
    for number, row in enumerate(_cells(rows_of(parts)), 1):
        cells = {name: value for name, value in row.items() if not _is_empty(value[0])}
        if not cells:
            continue
        try:
            good.append(_part(cells))
        except CoolcalcError as error:
            each = getattr(error, "errors", (error,))
            bad.append(BadRow(number, _name(cells), tuple(str(one) for one in each)))
    return tuple(good), tuple(bad)


def _is_empty(value):
    if value is None or (isinstance(value, str) and not value.strip()):
        return True
    return isinstance(value, float) and value != value


def _name(cells):
    return str(cells.get("part", ("",))[0]).strip()[:NAME_MAX]


def rows_of(parts):
    """Return a table as rows of its own: a tuple of dicts, as it is now.

    Parameters
    ----------
    parts
        As for `read_parts`.

    Raises
    ------
    InputError
        If it is no table.
    """
    listed = rows_from("parts", parts, "parts")
    if listed is None:
        raise InputError(
            "parts",
            type(parts).__name__,
            "that is no table of parts; give a list of rows such as {'part': 'top hose', 'kind': "
            "'hose', 'bore': '38 mm', 'length': '0.9 m'}, a DataFrame, or the path of a CSV file.",
        )
    if len(listed) > ROWS_MAX:
        raise InputError(
            "parts", len(listed), f"{len(listed)} rows are more than {ROWS_MAX}; add some up."
        )
    return tuple(listed)


def _cells(rows):
    """Yield each row: column name to (value, unit of the header or None)."""
    headers = {}
    for row in rows:
        cells = {}
        for header, value in row.items():
            if header not in headers:
                headers[header] = _column(header)
            name, unit = headers[header]
            if name in cells:
                raise InputError(
                    "parts", header, f'the column "{name}" stands twice; keep one of them.'
                )
            cells[name] = (value, unit)
        yield cells


def _column(header):
    name, unit = units.read_header(header)
    name = name.casefold()
    if name not in COLUMNS:
        known = ", ".join(COLUMNS)
        raise InputError(
            "parts", header, f'there is no column "{header}"; the columns are {known}.'
        )
    return name, unit


def _part(cells):
    reader = Reader()
    kind = reader(_kind, cells)
    found = {}
    for name, (what, _) in COLUMNS.items():
        if what is not None and name in cells:
            value, unit = cells[name]
            found[name] = reader(functools.partial(units.read, unit=unit), name, value, what)
    if kind is not None:
        reader(_check_needed, kind, cells)
    reader.raise_if_any()
    count = found.get("count", 1.0)
    if count < 1.0 or count != int(count):
        raise InputError("count", count, f"{count:g} is no number of pieces; write 1, 2 and so on.")
    if "volume" in found:
        volume = found["volume"] * count
    elif kind == "hose":
        volume = kernel.round_bore_m3(found["bore"], found["length"], count)
    else:
        _check_flat(found)
        volume = kernel.flat_bore_m3(found["width"], found["height"], found["length"], count)
    share = found.get("give or take", KINDS[kind])
    return Part(_name(cells) or kind, kind, volume, share * volume, found)


def _kind(cells):
    value = cells.get("kind", ("",))[0]
    return one_of("kind", value.strip().casefold() if isinstance(value, str) else value, KINDS)


def _check_needed(kind, cells):
    if "volume" in cells:
        twice = [name for name in ("bore", "width", "height", "length") if name in cells]
        if twice:
            raise InputError(
                "volume",
                cells["volume"][0],
                f"the volume is given, and {twice[0]} too; give one or the other, so that it is "
                "clear which counts.",
            )
        return
    needed = NEEDS.get(kind, ("volume",))
    stray = [name for name in ("bore", "width", "height", "length") if name in cells]
    stray = [name for name in stray if name not in needed]
    if stray:
        raise InputError(
            stray[0],
            cells[stray[0]][0],
            f"it is filled in, and a row of {kind} takes none; empty it, or name another kind.",
        )
    missing = [name for name in needed if name not in cells]
    if missing:
        what = " and ".join(needed) + ("" if "volume" in needed else ", or the volume")
        raise InputError(
            missing[0], "", f"nothing was entered; of {kind} it takes {what}. Measure it."
        )


def _check_flat(found):
    if found["height"] > found["width"]:
        raise InputError(
            "height",
            units.show(found["height"], "bore", "mm", 1),
            f"{units.show(found['height'], 'bore', 'mm', 1)} is more than the width "
            f"({units.show(found['width'], 'bore', 'mm', 1)}); a flat tube is wider than high: "
            "exchange them.",
        )


def save_parts(path, parts):
    """Keep a table of parts as a CSV file, whole or not at all.

    Parameters
    ----------
    path : str or path
        Ends in .csv.
    parts
        As for `read_parts`; every row must be good, since a file is to be opened again.

    Returns
    -------
    pathlib.Path

    Raises
    ------
    InputError
        If a row is bad, or the file cannot be written.
    """
    return save(path, {".csv": lambda: parts_csv(parts)})


def parts_csv(parts):
    """Return a table of parts as the bytes of a CSV file; ``parts`` as for `save_parts`."""
    good, bad = read_parts(parts)
    if bad:
        raise InputError(
            "parts",
            bad[0].number,
            f"row {bad[0].number} cannot be counted ({bad[0].why[0]}); mend it, then save.",
        )
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\n")
    table.writerow(
        name if unit is None else f"{name} [{unit}]" for name, (_, unit) in COLUMNS.items()
    )
    for part in good:
        table.writerow(_cell(part, name) for name in COLUMNS)
    return text.getvalue().encode("utf-8")


def _cell(part: Part, name) -> Any:
    if name in ("part", "kind"):
        return part.name if name == "part" else part.kind
    if name not in part.told:
        return ""
    what, unit = COLUMNS[name]
    return f"{units.to_display(part.told[name], what, unit or ''):.10g}"
