"""Make the demo depots and their thirty winters of daily minima. Nothing in them is real.

    python data/demo_winters.py            says whether the files agree with what is made here
    python data/demo_winters.py --write    writes demo_depots.csv and demo_winters.csv

Pindrel & Osk Carriers run buses and drays in the Ammerlode, from its coast to its mountains:
operator, land, places and weather are invented. The table of winters runs from 1 July 1996 to
30 June 2026, a row a day, a column a station; one station keeps °F.

A day's minimum is the season's, anomalies that last some days (most of them shared by all
stations), a slow warming, and cold spells, in winter only. The depth of a spell is exponential, so
the coldest nights of the winters are skewed to the cold, as measured ones are.

Faults are planted, as real tables have them:

- Nethimple Rise: no values on the 42 days from 1 January to 11 February 2009.
- Grelstane Hut: begins on 1 July 2014, so 12 winters.
- Tamberlode Field: 24.1 on 18 February 2025, its minus forgotten: it was the winter's lowest.
- Selquay Mole: -99.9 on 20 November 2003, which stands for no value.
- Every station: `SCATTERED_DAYS` single days without a value, among them the lowest of Nethimple
  Rise's winter of 1997/98, 7 February 1998.
"""

import csv
import datetime as dt
import io
import pathlib
import sys
from typing import NamedTuple

import numpy as np

HERE = pathlib.Path(__file__).resolve().parent
DEPOTS_FILE = HERE / "demo_depots.csv"
WINTERS_FILE = HERE / "demo_winters.csv"

FIRST_DAY = dt.date(1996, 7, 1)
LAST_DAY = dt.date(2026, 6, 30)
#: Seed and climates were tried until the lows of twenty winters lay where another rule decides at
#: each depot: the floor, the frost, the ceiling.
SEED = 19960757
#: Values are kept to this, in the station's unit, and compared with this allowance.
STEP = 0.1

DAYS_A_YEAR = 365.25
#: From 1 July to the middle of January. [d]
COLDEST_DAY = 200
#: The last winter is warmer than the first by 29 times this. [K/a]
WARMING = 0.03
#: How much of an anomaly is left a day later.
SHARED_MEMORY, OWN_MEMORY = 0.75, 0.6
#: Summers vary less than winters.
SUMMER_SPREAD = 0.55
SPELLS_A_WINTER = 4
#: Spells begin on these days, counted from 1 July: 20 November to 20 February. [d]
SPELL_STARTS = (142, 234)
#: Shortest and longest spell. [d]
SPELL_DAYS = (4, 16)
#: A spell reaches each station with one share of its depth, drawn between these.
SPELL_REACH = (0.7, 1.3)


class Station(NamedTuple):
    """Climate of an invented station: daily minima. [°C, K].

    ``mean`` over the year, ``swing`` from it to the middle of January, ``spread`` (standard
    deviation) of a winter day's anomaly and the ``shared`` part of it (correlation), mean depth of
    a cold ``spell``, and the ``unit`` that is written.
    """

    name: str
    mean: float
    swing: float
    spread: float
    shared: float
    spell: float
    unit: str = "°C"


STATIONS = (
    Station("Selquay Mole", 7.1, 6.2, 2.0, 0.6, 1.6),
    Station("Tamberlode Field", 3.1, 11.7, 3.6, 0.85, 4.6),
    Station("Nethimple Rise", 0.5, 12.0, 4.2, 0.85, 5.0),
    Station("Orlasker Mill", 4.2, 9.2, 3.0, 0.8, 2.6, "°F"),
    Station("Grelstane Hut", -1.5, 10.0, 4.0, 0.7, 4.0),
    Station("Vorrahult", -8.2, 18.9, 5.0, 0.75, 5.0),
)

#: A row a depot. The vehicles are two thousand in all. How much colder a yard is than its station
#: was compared at one depot only, in the hollow, where a standard cannot be set without.
DEPOTS_HEAD = (
    *("depot", "station", "station height [m]", "depot height [m]", "site"),
    *("colder than station [K]", "colder, give or take [K]"),
    *("night stop", "night stop low [°C]", "vehicles", "coolant in all [L]"),
    "summer hottest air [°C]",
)
DEPOTS = (
    ("Selquay", "Selquay Mole", 4, 6, "open", "", "", "", "", 520, 17700, 31),
    ("Tamberlode", "Tamberlode Field", 118, 112, "town", "", "", "", "", 640, 23000, 38),
    ("Nethimple", "Nethimple Rise", 335, 262, "hollow", 3, 1.5, "", "", 210, 7100, 36),
    (
        "Orlasker",
        "Orlasker Mill",
        190,
        305,
        "slope",
        "",
        "",
        "Hask Saddle",
        "-33.0",
        330,
        12500,
        34,
    ),
    ("Grelstane", "Grelstane Hut", 1048, 1200, "open", "", "", "", "", 90, 3600, 27),
    ("Vorrahult", "Vorrahult", 905, 905, "open", "", "", "", "", 210, 8800, 33),
)

# The planted faults: station, first day, and what stands there.
GAP = ("Nethimple Rise", dt.date(2009, 1, 1), 42)
BEGINS = ("Grelstane Hut", dt.date(2014, 7, 1))
NO_MINUS = ("Tamberlode Field", dt.date(2025, 2, 18))
NO_VALUE = ("Selquay Mole", dt.date(2003, 11, 20), -99.9)
#: Single days without a value, a station.
SCATTERED_DAYS = 9


def days():
    """Return the dates of the table."""
    count = (LAST_DAY - FIRST_DAY).days + 1
    return [FIRST_DAY + dt.timedelta(each) for each in range(count)]


def place(day):
    """Return the row of a date."""
    return (day - FIRST_DAY).days


def normal(draw, count):
    """Return near-normal numbers: twelve uniform ones summed.

    Uniform draws are all that is asked of NumPy, whose other draws may change between versions.
    """
    return draw.random((count, 12)).sum(axis=1) - 6.0


def lasting(draw, count, memory):
    """Return anomalies of standard deviation 1 that keep a share of themselves from day to day."""
    news = normal(draw, count) * np.sqrt(1.0 - memory**2)
    anomaly = np.empty(count)
    last = news[0] / np.sqrt(1.0 - memory**2)
    for day, new in enumerate(news):
        last = memory * last + new if day else last
        anomaly[day] = last
    return anomaly


def spells(draw, count):
    """Return the cold spells of every station, in mean depths: (station, day)."""
    depth = np.zeros((len(STATIONS), count))
    for year in range(FIRST_DAY.year, LAST_DAY.year):
        july = place(dt.date(year, 7, 1))
        for start, length, deep in draw.random((SPELLS_A_WINTER, 3)):
            reach = draw.random(len(STATIONS))
            begin = july + between(SPELL_STARTS, start)
            since = np.arange(count) - begin
            width = between(SPELL_DAYS, length)
            inside = (since > 0) & (since < width)
            shape = np.where(inside, np.sin(np.pi * since / width) ** 2, 0.0)
            spell = between(SPELL_REACH, reach)[:, None] * -np.log1p(-deep) * shape
            depth = np.maximum(depth, spell)  # two at a time are not twice as cold
    return depth


def between(ends, share):
    """Return what lies a share of the way between two ends."""
    return ends[0] + (ends[1] - ends[0]) * share


def true_minima():
    """Return the daily minima of every station before any fault: (station, day). [°C]."""
    draw = np.random.Generator(np.random.PCG64(SEED))
    count = len(days())
    day = np.arange(count)
    season = np.cos(2 * np.pi * (day - COLDEST_DAY) / DAYS_A_YEAR)
    warming = WARMING * (day - count / 2) / DAYS_A_YEAR
    spread = between((SUMMER_SPREAD, 1.0), (1.0 + season) / 2)
    shared = lasting(draw, count, SHARED_MEMORY)
    cold = spells(draw, count)
    temp = np.empty((len(STATIONS), count))
    for row, station in enumerate(STATIONS):
        own = lasting(draw, count, OWN_MEMORY)
        anomaly = station.shared * shared + np.sqrt(1.0 - station.shared**2) * own
        temp[row] = (
            station.mean
            - station.swing * season
            + warming
            + station.spread * spread * anomaly
            - station.spell * cold[row]
        )
    return temp


def kept_minima():
    """Return what the stations keep, each in its unit: (station, day), NaN where no value is."""
    kept = true_minima()
    for row, station in enumerate(STATIONS):
        if station.unit == "°F":
            kept[row] = 32.0 + 1.8 * kept[row]
    kept = np.round(kept, 1)
    rows = {station.name: row for row, station in enumerate(STATIONS)}
    draw = np.random.Generator(np.random.PCG64(SEED + 1))
    planted = {(name, place(day)) for name, day, *_ in (NO_MINUS, NO_VALUE)}
    for station in STATIONS:
        first = place(BEGINS[1]) if station.name == BEGINS[0] else 0
        # one day in each of as many stretches: no winter loses more than two of them
        stretch = (kept.shape[1] - first) / SCATTERED_DAYS
        for part, share in enumerate(draw.random(SCATTERED_DAYS)):
            day = first + int(stretch * (part + share))
            if (station.name, day) in planted:
                raise ValueError(f"{station.name}: two faults on one day; change the seed")
            kept[rows[station.name], day] = np.nan
        kept[rows[station.name], :first] = np.nan
    name, day, count = GAP
    kept[rows[name], place(day) : place(day) + count] = np.nan
    name, day = NO_MINUS
    kept[rows[name], place(day)] *= -1.0
    name, day, value = NO_VALUE
    kept[rows[name], place(day)] = value
    return kept


def written(value):
    """Return a value as it stands in the table: one decimal, nothing where there is none."""
    return "" if np.isnan(value) else f"{value + 0.0:.1f}"  # no minus before 0.0


def table_text(head, rows):
    """Return a table as text."""
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows([head, *rows])
    return text.getvalue()


def depots_text():
    """Return the text of the table of depots."""
    return table_text(DEPOTS_HEAD, DEPOTS)


def winters_text():
    """Return the text of the table of winters."""
    head = ("date", *(f"{station.name} [{station.unit}]" for station in STATIONS))
    values = kept_minima().T
    rows = ((day.isoformat(), *map(written, row)) for day, row in zip(days(), values, strict=True))
    return table_text(head, rows)


def differences(text, made):
    """Return in words where a table of winters differs from the one made, beyond one step."""
    there, here = (list(csv.reader(io.StringIO(each))) for each in (text, made))
    if there[0] != here[0] or [row[0] for row in there] != [row[0] for row in here]:
        return ["the heads or the dates differ"]
    return [
        f"{old[0]}, {head}: {stands or 'nothing'} stands there, {value or 'nothing'} is made"
        for old, new in zip(there[1:], here[1:], strict=True)
        for head, stands, value in zip(here[0][1:], old[1:], new[1:], strict=True)
        if stands != value and not near(stands, value)
    ]


def near(stands, value):
    """Say whether two written values are one step apart at most."""
    return bool(stands and value) and abs(float(stands) - float(value)) < 1.5 * STEP


def main(arguments):
    """Write the files when asked, or say whether they agree."""
    if "--write" in arguments:
        DEPOTS_FILE.write_text(depots_text(), encoding="utf-8", newline="\n")
        WINTERS_FILE.write_text(winters_text(), encoding="utf-8", newline="\n")
        return 0
    found = differences(WINTERS_FILE.read_text(encoding="utf-8"), winters_text())
    if DEPOTS_FILE.read_text(encoding="utf-8") != depots_text():
        found.append(f"{DEPOTS_FILE.name} differs")
    print("\n".join(found) or "the files agree with what is made")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
