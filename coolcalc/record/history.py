"""What was kept of one vehicle: its entries in order, as a table, as a file, and their drift."""

import csv
import dataclasses
import datetime as dt
import functools
import io
import math
import operator
from typing import NamedTuple

from .. import fluids, units
from ..files import save

READING, WORK, TOP_UP = "reading", "work", "top-up"
#: What an entry can be of.
WHATS = (READING, WORK, TOP_UP)

FOUND, AFTER = "found", "after"

#: A year, for the drift. [days]
YEAR_DAYS = 365.25

#: What a spreadsheet takes for the beginning of a formula, also in full width; common practice,
#: no source.
FORMULA_BEGINS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")

_LITRE = units.KINDS["volume"].units["L"].factor


class Kept(NamedTuple):
    """A strength as it was kept: glycol over glycol + water, give or take at 95 %. [kg/kg]."""

    fluid: str
    frac_mass: float
    half_width: float
    told: str

    @property
    def freeze_temp_k(self):
        """Freezing point, additives not counted; None above 60 mass % of glycol. [K]."""
        if self.frac_mass > fluids.FRAC_MASS_SETTLED_MAX:
            return None
        return float(fluids.freeze_temp_k(self.fluid, self.frac_mass))

    @property
    def freeze_words(self):
        """Freezing point as printed; above 60 mass % of glycol a span."""
        known = self.freeze_temp_k
        bounds = fluids.freeze_bound_k(self.fluid, self.frac_mass) if known is None else (known,)
        return " to ".join(units.show(float(each), "temperature", "°C", 0) for each in bounds)


class Pour(NamedTuple):
    """What was poured of a product. [m3]."""

    product: str
    volume_m3: float


class Point(NamedTuple):
    """A reading in time: `FOUND` or `AFTER`; each work begins a new stretch."""

    on: dt.date
    when: str
    kept: Kept
    stretch: int


@dataclasses.dataclass(frozen=True, kw_only=True)
class Entry:
    """One entry of a vehicle's record; what was not told is None, or an empty text.

    Attributes
    ----------
    entry_id : int
    vehicle, by, note : str
    on : datetime.date
    what : str
        One of `WHATS`.
    hours : float or None
        Of the engine. [h]
    fluid : str or None
        The glycol inside: one of `coolcalc.fluids.FLUIDS`.
    found, after : Kept or None
        The reading before the work, and after it.
    capacity_m3, taken_out_m3 : float or None
        [m3]
    poured : tuple of Pour
        Products in the order of pouring, without water.
    water_m3 : float
        Water poured. [m3]
    product, batch : str
        The product that was used, and the number on its container.
    replaces, replaced_by : int or None
        The entry that this one corrects, and the one that corrects this.
    written : datetime.datetime
        When it was entered, in UTC.
    """

    entry_id: int
    vehicle: str
    on: dt.date
    by: str
    what: str
    hours: float | None
    fluid: str | None
    found: Kept | None
    after: Kept | None
    capacity_m3: float | None
    taken_out_m3: float | None
    poured: tuple
    water_m3: float
    product: str
    batch: str
    note: str
    replaces: int | None
    replaced_by: int | None
    written: dt.datetime

    @property
    def poured_m3(self):
        """All that was poured, with water. [m3]."""
        return self.water_m3 + sum(pour.volume_m3 for pour in self.poured)

    @property
    def topped_up_m3(self):
        """What was poured to top up; 0 for what is no top-up. [m3]."""
        return self.poured_m3 if self.what == TOP_UP else 0.0


@dataclasses.dataclass(frozen=True, kw_only=True)
class Drift:
    """What changes without work; None where it cannot be told.

    Attributes
    ----------
    frac_mass_per_year : float or None
        Change of strength since the last work, or since the glycol changed, by least squares.
        [kg/kg per year of 365.25 days]
    half_width_per_year : float or None
        Its give or take at 95 %, the readings' taken as independent: an instrument's offset,
        which they share, moves it less. None where a reading was told without one.
    topped_up_m3 : float
        In all. [m3]
    topped_up_m3_per_1000_h : float or None
        Since the last work: after the first engine hours known, up to the last. [m3]
    sentences : tuple of str
        One for the strength, the litres in all, and the litres by the hour.
    """

    frac_mass_per_year: float | None
    half_width_per_year: float | None
    topped_up_m3: float
    topped_up_m3_per_1000_h: float | None
    sentences: tuple

    def __str__(self):
        return "\n".join(self.sentences)


@dataclasses.dataclass(frozen=True)
class History:
    """The entries of one vehicle, in order of date and then of entering.

    Attributes
    ----------
    vehicle : str
    entries : tuple of Entry
        Those that a later one replaces say so in ``replaced_by``; no sum counts them.
    """

    vehicle: str
    entries: tuple

    @property
    def standing(self):
        """The entries that no later one replaces."""
        return tuple(entry for entry in self.entries if entry.replaced_by is None)

    @property
    def works(self):
        """Dates of the works that stand, in order."""
        return tuple(entry.on for entry in self.standing if entry.what == WORK)

    @property
    def points(self):
        """The readings that stand, as tuple of `Point`.

        A work, or another glycol, begins a new stretch: the reading found belongs to the old one.
        """
        return self._stretches()[0]

    def _stretches(self):
        """Return the points, the number of the last stretch, which may have none, and its begin.

        The begin is a text to end a sentence with; nothing where it is the first.
        """
        points, stretch, since = [], 0, ""
        for entry in self.standing:
            for when, kept in ((FOUND, entry.found), (AFTER, entry.after)):
                changed = kept and points and points[-1].kept.fluid != kept.fluid
                worked = when == AFTER and entry.what == WORK
                if changed or worked:
                    stretch += 1
                    since = f" since the work on {entry.on}"
                if changed and not worked:
                    since = f" since another glycol was found on {entry.on}"
                if kept:
                    points.append(Point(entry.on, when, kept, stretch))
        return tuple(points), stretch, since

    @property
    def drift(self):
        """How strength and level drift, as `Drift`."""
        points, last, began = self._stretches()
        slope, half_width, strength = _strength(
            [point for point in points if point.stretch == last], began
        )
        total = sum(entry.topped_up_m3 for entry in self.standing)
        count = sum(entry.topped_up_m3 > 0.0 for entry in self.standing)
        times = "1 top-up" if count == 1 else f"{count} top-ups"
        litres = f"{_litres(total)} were topped up in all, in {times}."
        since = f" since the work on {self.works[-1]}" if self.works else ""
        works = [at for at, entry in enumerate(self.standing) if entry.what == WORK]
        rate, by_hour = _by_hour(self.standing[works[-1] if works else 0 :], since)
        return Drift(
            frac_mass_per_year=slope,
            half_width_per_year=half_width,
            topped_up_m3=total,
            topped_up_m3_per_1000_h=rate,
            sentences=(strength, litres if count else "Nothing was topped up.", by_hour),
        )

    # -- tables ----------------------------------------------------------------------------

    def columns(self):
        """Return the figures of `to_frame`: column name with unit, a list of values.

        Litres are given of each product that was poured at all.
        """
        names = dict.fromkeys(pour.product for entry in self.entries for pour in entry.poured)
        return {
            name: [cell(entry) for entry in self.entries] for name, cell in _cells(names).items()
        }

    def to_frame(self):
        """Return a row for each entry as a pandas DataFrame; units stand in the columns' names."""
        import pandas as pd

        return pd.DataFrame(self.columns())

    def to_csv(self, path):
        """Write a row for each entry; a header is ``name [unit]``, the text is UTF-8.

        A text that a spreadsheet would take for a formula gets an apostrophe in front. A file of
        that name is replaced at once: no half file is ever found in its place.

        Parameters
        ----------
        path : str or path
            Ends in .csv.

        Returns
        -------
        pathlib.Path

        Raises
        ------
        InputError
            If it cannot be written; a file that was there stays as it was.
        """
        return save(path, {".csv": self._csv})

    def _csv(self):
        columns = self.columns()
        text = io.StringIO(newline="")
        table = csv.writer(text)
        table.writerow(columns)
        for row in zip(*columns.values(), strict=True):
            table.writerow([inert(cell) if isinstance(cell, str) else cell for cell in row])
        # With its mark, so that spreadsheets take it for UTF-8.
        return text.getvalue().encode("utf-8-sig")


def inert(text):
    """Return text that no spreadsheet takes for a formula: with an apostrophe in front of one."""
    return f"'{text}" if text.startswith(FORMULA_BEGINS) else text


def _litres_of(volume_m3):
    return None if volume_m3 is None else round(volume_m3 / _LITRE, 9)


def _cells(names):
    """Return what fills each column, by its name; ``names`` of the products with a column."""
    cells = {"entry": lambda entry: entry.entry_id}
    cells |= {name: operator.attrgetter(name) for name in ("vehicle", "on", "by", "what")}
    cells |= {"engine hours [h]": lambda entry: entry.hours, "glycol": lambda entry: entry.fluid}
    for when in (FOUND, AFTER):
        cells |= {name: functools.partial(_of_kept, when, own) for name, own in _kept_cells(when)}
    cells |= {
        "capacity [L]": lambda entry: _litres_of(entry.capacity_m3),
        "taken out [L]": lambda entry: _litres_of(entry.taken_out_m3),
        "poured water [L]": lambda entry: _litres_of(entry.water_m3),
    }
    for name in names:
        cells[f"poured {name} [L]"] = functools.partial(_poured_of, name)
    cells |= {name: operator.attrgetter(name) for name in ("product", "batch", "note")}
    return cells | {
        "replaces entry": lambda entry: entry.replaces,
        "replaced by entry": lambda entry: entry.replaced_by,
        "entered at [UTC]": lambda entry: entry.written,
    }


def _kept_cells(when):
    return (
        (f"{when} [mass share of glycol]", lambda kept: kept.frac_mass),
        (f"{when} give or take [mass share of glycol]", lambda kept: kept.half_width),
        (f"{when} freezing point [°C]", _freeze_temp_c),
        (f"{when} told as", lambda kept: kept.told),
    )


def _of_kept(when, own, entry):
    kept = getattr(entry, when)
    return None if kept is None else own(kept)


def _freeze_temp_c(kept):
    temp_k = kept.freeze_temp_k
    return None if temp_k is None else units.to_display(temp_k, "temperature", "°C")


def _poured_of(name, entry):
    return _litres_of(dict(entry.poured).get(name))


# --- drift ----------------------------------------------------------------------------------------


def _litres(volume_m3):
    return units.show(volume_m3, "volume", "L", 2)


def _strength(points, since):
    """Return slope and its give or take [kg/kg per year], and a sentence."""
    days = [point.on.toordinal() for point in points]
    if len(set(days)) < 2:
        told = {0: "there is none", 1: "there is one"}.get(len(points), "they are of one day")
        return (
            None,
            None,
            f"The change of strength cannot be told: it takes two readings on different days"
            f"{since}, and {told}.",
        )
    middle = sum(days) / len(days)
    off = [(day - middle) / YEAR_DAYS for day in days]
    squares = sum(each**2 for each in off)
    pairs = list(zip(off, (point.kept for point in points), strict=True))
    slope = sum(each * kept.frac_mass for each, kept in pairs) / squares
    half_width = None
    if all(kept.half_width > 0.0 for _, kept in pairs):
        half_width = math.hypot(*(each * kept.half_width for each, kept in pairs)) / squares
    shown = f"{100 * abs(slope):.1f}"
    moved = "fell" if slope < 0.0 else "rose"
    text = (
        f"The strength {moved} by {shown} mass % of glycol a year"
        if float(shown)
        else "The strength did not change"
    )
    text += f", by {len(points)} readings from {points[0].on} to {points[-1].on}{since}"
    if half_width is not None:
        text += f", give or take {100 * half_width:.1f}"
        if abs(slope) <= half_width:
            text += ": no more than the readings' own give or take"
    return slope, half_width, f"{text}."


def _by_hour(entries, since):
    """Return what was topped up in 1,000 h [m3], and a sentence."""
    known = [at for at, entry in enumerate(entries) if entry.hours is not None]
    hours = [entries[at].hours for at in known]
    cannot = "Litres per 1,000 h cannot be told: "
    for at, earlier, later in zip(known[1:], hours, hours[1:], strict=False):
        if later < earlier:
            return None, (
                f"{cannot}the engine hours go down on {entries[at].on}, from {earlier:g} to "
                f"{later:g} h. Correct that entry, or begin with a later day."
            )
    if not hours or hours[-1] == hours[0]:
        return None, f"{cannot}it takes engine hours of two times{since}."
    # What was poured at the first of them had been lost before it.
    total = sum(entry.topped_up_m3 for entry in entries[known[0] + 1 : known[-1] + 1])
    span = hours[-1] - hours[0]
    rate = 1e3 * total / span
    if total <= 0.0:
        return rate, f"Nothing was topped up over {span:,g} h{since}."
    return rate, f"{_litres(rate)} per 1,000 h were topped up, over {span:,g} h{since}."
