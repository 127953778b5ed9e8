"""The file that a workshop's vehicles are kept in: SQLite, to which entries are added for good.

A commit is on the disk before `VehicleRecord.add` returns, and an interrupted one leaves nothing.
Two programs may write at once: each waits for the other.
"""

import contextlib
import datetime as dt
import difflib
import itertools
import os
import pathlib
import sqlite3

from .._unit_display import quoted
from ..errors import InputError
from .history import Entry, History, Kept, Pour
from .inputs import FIRST_DAY, LONGEST_NAME, check_held, read_day, read_entry, read_text

#: Marks the file as a record ("Cool"), and its layout.
APPLICATION_ID, SCHEMA_VERSION = 0x436F6F6C, 1

#: How long a writer waits for another one. [s]
WAIT_S = 30.0

_SCHEMA = (
    """CREATE TABLE entries (
        entry_id INTEGER PRIMARY KEY AUTOINCREMENT,
        written_utc TEXT NOT NULL,
        vehicle TEXT NOT NULL,
        on_date TEXT NOT NULL,
        by_whom TEXT NOT NULL,
        what TEXT NOT NULL CHECK (what IN ('reading', 'work', 'top-up')),
        engine_h REAL CHECK (engine_h >= 0),
        fluid TEXT,
        found_frac_mass_kg_kg REAL CHECK (found_frac_mass_kg_kg BETWEEN 0 AND 1),
        found_half_width_kg_kg REAL,
        found_told TEXT,
        after_frac_mass_kg_kg REAL CHECK (after_frac_mass_kg_kg BETWEEN 0 AND 1),
        after_half_width_kg_kg REAL,
        after_told TEXT,
        capacity_m3 REAL CHECK (capacity_m3 > 0),
        taken_out_m3 REAL CHECK (taken_out_m3 >= 0),
        water_m3 REAL NOT NULL CHECK (water_m3 >= 0),
        product TEXT NOT NULL,
        batch TEXT NOT NULL,
        note TEXT NOT NULL,
        replaces INTEGER UNIQUE REFERENCES entries (entry_id)
    )""",
    """CREATE TABLE pours (
        pour_id INTEGER PRIMARY KEY AUTOINCREMENT,
        entry_id INTEGER NOT NULL REFERENCES entries (entry_id),
        product TEXT NOT NULL,
        volume_m3 REAL NOT NULL CHECK (volume_m3 >= 0),
        UNIQUE (entry_id, product)
    )""",
    "CREATE INDEX entries_by_vehicle ON entries (vehicle, on_date, entry_id)",
    *(
        f"CREATE TRIGGER no_{verb}_of_{table} BEFORE {verb} ON {table} "
        "BEGIN SELECT RAISE (ABORT, 'entries are only added'); END"
        for verb in ("UPDATE", "DELETE")
        for table in ("entries", "pours")
    ),
    f"PRAGMA application_id = {APPLICATION_ID}",
    f"PRAGMA user_version = {SCHEMA_VERSION}",
)

# One statement, so that entries and pours are of one moment.
_HISTORY = """
    SELECT entries.*, later.entry_id AS replaced_by, pours.product AS pour, pours.volume_m3
    FROM entries
    LEFT JOIN entries AS later ON later.replaces = entries.entry_id
    LEFT JOIN pours ON pours.entry_id = entries.entry_id
    WHERE entries.vehicle = ?
    ORDER BY entries.on_date, entries.entry_id, pours.pour_id
"""

_READ_ONLY = (
    "it cannot be opened to write: the file or its folder is read-only, or belongs to another. "
    "Choose another folder, or ask whoever keeps it."
)
_NO_RECORD = "it is not a vehicle record, and was left as it is; choose another name."
#: What SQLite refuses, by its primary code.
_REFUSALS = {
    sqlite3.SQLITE_BUSY: f"another program has kept it for {WAIT_S:.0f} s; nothing was written. "
    "Close it there, or try again.",
    sqlite3.SQLITE_READONLY: _READ_ONLY,
    sqlite3.SQLITE_CANTOPEN: _READ_ONLY,
    sqlite3.SQLITE_PERM: _READ_ONLY,
    sqlite3.SQLITE_FULL: "the disk is full; nothing was written. Make room, and enter it again.",
    sqlite3.SQLITE_IOERR: "the disk or the network gave an error; nothing was written. Look after "
    "it, and enter it again.",
    sqlite3.SQLITE_NOTADB: _NO_RECORD,
    sqlite3.SQLITE_CORRUPT: "the file is damaged; go on with the last copy of it, and keep this "
    "one.",
}


class VehicleRecord:
    """Readings, top-ups and work by vehicle, kept in one file.

    Use it with ``with``, or close it. Nothing is ever changed or deleted: a mistake is corrected
    by a later entry that names the one it replaces. A copy of the file, made while no program
    has it open, is a full copy.

    Parameters
    ----------
    path : str or path
        The file; made where there is none, in a folder that there is.

    Raises
    ------
    InputError
        If it cannot be opened, is no such record, or is one of a newer coolcalc.

    Examples
    --------
    >>> import tempfile
    >>> from coolcalc.product import WATER, Product
    >>> can = Product.generic("ethylene glycol concentrate")
    >>> with tempfile.TemporaryDirectory() as folder, VehicleRecord(f"{folder}/vans") as record:
    ...     record.add(vehicle="van 3", what="reading", found="45 % product", product=can)
    ...     record.add(vehicle="van 3", what="top-up", poured={WATER: "0.5 L"}, hours=1200)
    ...     record.vehicles(), record.history("van 3").drift.topped_up_m3
    1
    2
    (('van 3',), 0.0005)
    """

    def __init__(self, path):
        self.path = _checked_path(path)
        self._connection = None
        with self._in_words():
            self._look()
            self._connection = sqlite3.connect(self.path, timeout=WAIT_S, isolation_level=None)
            try:
                self._prepare()
            except BaseException:
                self.close()
                raise

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.close()

    def close(self):
        """Close the file; what was added is on the disk already."""
        if self._connection is not None:
            self._connection.close()
        self._connection = None

    def add(
        self,
        *,
        vehicle,
        what,
        on=None,
        by="",
        hours=None,
        found=None,
        after=None,
        product=None,
        fluid=None,
        capacity=None,
        taken_out=None,
        poured=None,
        batch="",
        note="",
        replaces=None,
    ):
        """Add one entry; it is on the disk when its number is returned.

        Parameters
        ----------
        vehicle : str
            As the workshop calls it, at most 80 letters.
        what : str
            "reading" (nothing was poured), "top-up" (nothing was taken out), or "work".
        on : datetime.date, optional
            The day it was done; today unless given, never later.
        by, batch : str
            Who did it, and the number on the container; at most 80 letters each.
        hours : text or number, optional
            Of the engine. [h]
        found, after : Reading, Mixture, Strength or text, optional
            What was read before, and after. A strength ("45 % product") needs the product.
        product : Product or str, optional
            What was used, and what "% of product" is of; a text that is not the name of a
            generic one is kept as the name alone.
        fluid : str, optional
            One of `coolcalc.fluids.FLUIDS`, where neither reading nor product tells it.
        capacity, taken_out : text or Quantity, optional
            [m3]
        poured : dict of Product or str to text or Quantity, optional
            In the order of pouring, `WATER` among it. [m3]
        note : str
            At most 500 letters. White space of all kinds becomes single spaces.
        replaces : int, optional
            The entry that this one corrects. A "reading" that only has a note then takes its
            place: it was entered by mistake.

        Returns
        -------
        int
            The number of the entry.

        Raises
        ------
        InputError
            The field, the value found, the limit and what to do.
        FormError
            If several inputs cannot be used: all of them.
        """
        columns, pours = read_entry(
            vehicle=vehicle,
            what=what,
            on=on,
            by=by,
            hours=hours,
            found=found,
            after=after,
            product=product,
            fluid=fluid,
            capacity=capacity,
            taken_out=taken_out,
            poured=poured,
            batch=batch,
            note=note,
            replaces=replaces,
        )
        columns["written_utc"] = dt.datetime.now(dt.UTC).isoformat(timespec="seconds")
        names = ", ".join(columns)
        marks = ", ".join(f":{name}" for name in columns)
        with self._writing() as connection:
            if replaces is not None:
                _check_replaces(connection, replaces, columns["vehicle"])
            if columns["capacity_m3"] is None:
                check_held(columns, pours, _known_capacity_m3(connection, columns))
            entry_id = connection.execute(
                f"INSERT INTO entries ({names}) VALUES ({marks})", columns
            ).lastrowid
            connection.executemany(
                "INSERT INTO pours (entry_id, product, volume_m3) VALUES (?, ?, ?)",
                [(entry_id, *pour) for pour in pours],
            )
        return entry_id

    def history(self, vehicle, since=None, *, with_replaced=True):
        """Return what was kept of a vehicle, as `coolcalc.history.History`.

        Parameters
        ----------
        vehicle : str
        since : datetime.date, optional
            The first day.
        with_replaced : bool
            Whether entries that a later one replaces are shown, as such.

        Raises
        ------
        InputError
            If nothing was kept of such a vehicle.
        """
        vehicle = read_text("vehicle", vehicle, LONGEST_NAME, True)
        since = FIRST_DAY if since is None else read_day("since", since)
        with self._in_words():
            cursor = self._open().execute(_HISTORY, (vehicle,))
            names = [column[0] for column in cursor.description]
            rows = [dict(zip(names, row, strict=True)) for row in cursor]
        if not rows:
            known = self.vehicles()
            near = difflib.get_close_matches(vehicle, known, n=3)
            listed = ", ".join(f'"{each}"' for each in near)
            raise InputError(
                "vehicle",
                vehicle,
                f'nothing was kept of "{vehicle}"'
                + (f"; nearest to it: {listed}." if near else f"; {len(known)} others are known.")
                + " Write it as it was entered; vehicles() lists them.",
            )
        entries = (
            _entry(list(group)) for _, group in itertools.groupby(rows, lambda r: r["entry_id"])
        )
        return History(
            vehicle,
            tuple(
                entry
                for entry in entries
                if entry.on >= since and (with_replaced or entry.replaced_by is None)
            ),
        )

    def vehicles(self):
        """Return the vehicles with an entry that stands, in alphabetical order."""
        with self._in_words():
            rows = self._open().execute(
                "SELECT DISTINCT vehicle FROM entries WHERE entry_id NOT IN "
                "(SELECT replaces FROM entries WHERE replaces IS NOT NULL) ORDER BY vehicle"
            )
            return tuple(vehicle for (vehicle,) in rows)

    # -- the file --------------------------------------------------------------------------

    def _look(self):
        """Refuse a file that is no record, before anything is opened that could write to it."""
        if not os.path.exists(self.path) or os.path.getsize(self.path) == 0:
            return
        # Never by plain `open`: closing it would drop the locks that another connection of this
        # process holds on the file.
        uri = f"{self.path.as_uri()}?mode=ro"
        with contextlib.closing(sqlite3.connect(uri, uri=True, timeout=WAIT_S)) as connection:
            try:
                self._refuse_other(connection)
            except sqlite3.OperationalError as error:
                # An interrupted write is to be taken back first, which takes a writer.
                if error.sqlite_errorcode != sqlite3.SQLITE_READONLY_ROLLBACK:
                    raise

    def _prepare(self):
        self._connection.execute("PRAGMA foreign_keys = ON")
        # As FULL, and the folder too: an entry that was reported outlives a power cut.
        self._connection.execute("PRAGMA synchronous = EXTRA")
        if _pragma(self._connection, "page_count") == 0:
            with self._writing() as connection:
                # Another writer may have made it while this one waited.
                if _pragma(connection, "application_id") == 0:
                    for statement in _SCHEMA:
                        connection.execute(statement)
        self._refuse_other(self._connection)

    def _refuse_other(self, connection):
        """Refuse what is no record, or is one of a newer layout."""
        if _pragma(connection, "application_id") != APPLICATION_ID:
            raise InputError("record", self.path, f"{self.path.name}: {_NO_RECORD}")
        version = _pragma(connection, "user_version")
        if version != SCHEMA_VERSION:
            raise InputError(
                "record",
                self.path,
                f"{self.path.name}: it was written by a newer coolcalc (layout {version}; this "
                f"one knows {SCHEMA_VERSION}), and was left as it is. Open it with that one.",
            )

    def _open(self):
        if self._connection is None:
            raise InputError(
                "record", self.path, f"{self.path.name} was closed; open it with VehicleRecord(…)."
            )
        return self._connection

    @contextlib.contextmanager
    def _writing(self):
        """All or nothing: what is done inside is on the disk afterwards, or never was."""
        with self._in_words():
            connection = self._open()
            connection.execute("BEGIN IMMEDIATE")
            try:
                yield connection
                connection.execute("COMMIT")
            except BaseException:
                if connection.in_transaction:
                    connection.execute("ROLLBACK")
                raise

    @contextlib.contextmanager
    def _in_words(self):
        """Turn what SQLite refuses into a sentence."""
        try:
            yield
        except sqlite3.Error as error:
            code = getattr(error, "sqlite_errorcode", None)
            if code is None or code & 0xFF not in _REFUSALS:
                raise
            raise InputError(
                "record", self.path, f"{self.path.name}: {_REFUSALS[code & 0xFF]}"
            ) from error


def _pragma(connection, name):
    return connection.execute(f"PRAGMA {name}").fetchone()[0]


def _checked_path(path):
    """Return the absolute path of a file in a folder that there is."""
    try:
        path = pathlib.Path(os.path.abspath(os.fsdecode(path)))
        if b"\0" in os.fsencode(path):
            raise ValueError
    except (TypeError, ValueError):
        raise InputError("record", quoted(path), "it is no path; give a file's name.") from None
    if not os.path.isdir(path.parent):
        raise InputError(
            "record", path, f"there is no folder {path.parent}; make it first, or choose another."
        )
    if os.path.exists(path) and not os.path.isfile(path):
        raise InputError("record", path, f"{path} is not a file; choose another name.")
    return path


def _known_capacity_m3(connection, columns):
    """Return the capacity that was last told of a vehicle by an entry that stands, or None."""
    found = connection.execute(
        "SELECT capacity_m3 FROM entries WHERE vehicle = ? AND capacity_m3 IS NOT NULL "
        "AND entry_id IS NOT ? AND entry_id NOT IN "
        "(SELECT replaces FROM entries WHERE replaces IS NOT NULL) "
        "ORDER BY on_date DESC, entry_id DESC LIMIT 1",
        (columns["vehicle"], columns["replaces"]),
    ).fetchone()
    return None if found is None else found[0]


def _check_replaces(connection, replaces, vehicle):
    """Refuse to correct what is not there, is of another vehicle, or was corrected already."""
    found = connection.execute(
        "SELECT (SELECT later.entry_id FROM entries AS later WHERE later.replaces = ?1), vehicle "
        "FROM entries WHERE entry_id = ?1",
        (replaces,),
    ).fetchone()
    if found is None:
        raise InputError("replaces", replaces, f"there is no entry {replaces}; give one's number.")
    if found[0] is not None:
        raise InputError(
            "replaces",
            replaces,
            f"entry {replaces} was replaced by entry {found[0]}; correct that one.",
        )
    if found[1] != vehicle:
        raise InputError(
            "replaces",
            replaces,
            f'entry {replaces} is of "{found[1]}", not of "{vehicle}". Check the number. If it was '
            f'entered under the wrong vehicle, replace it by a "reading" of "{found[1]}" that only '
            f'has a note, and enter it anew under "{vehicle}".',
        )


def _entry(rows):
    """Return an `Entry` of its rows, one for each pour."""
    row = rows[0]

    def kept(when):
        if row[f"{when}_frac_mass_kg_kg"] is None:
            return None
        return Kept(
            row["fluid"],
            row[f"{when}_frac_mass_kg_kg"],
            row[f"{when}_half_width_kg_kg"],
            row[f"{when}_told"],
        )

    same = ("entry_id", "vehicle", "what", "fluid", "capacity_m3", "taken_out_m3", "water_m3")
    same += ("product", "batch", "note", "replaces", "replaced_by")
    return Entry(
        on=dt.date.fromisoformat(row["on_date"]),
        by=row["by_whom"],
        hours=row["engine_h"],
        found=kept("found"),
        after=kept("after"),
        poured=tuple(Pour(r["pour"], r["volume_m3"]) for r in rows if r["pour"] is not None),
        written=dt.datetime.fromisoformat(row["written_utc"]),
        **{name: row[name] for name in same},
    )
