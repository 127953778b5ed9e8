"""The demo depots and winters: made by their script, with the faults that it says they have.

What the lows must be is the scenario's: at one depot the floor of a standard decides, at another
the frost, at a third the ceiling.
"""

import csv
import datetime as dt
import io
import itertools
import statistics

import numpy as np
import pytest
from scipy import stats

from . import published

DEPOTS, WINTERS = published.DATA / "demo_depots.csv", published.DATA / "demo_winters.csv"
FIRST_YEAR, LAST_YEAR = 1996, 2026
LARGEST_FILE = 700_000
COAST, INLAND, HOLLOW, SLOPE, MOUNTAIN, BASIN = (
    *("Selquay Mole [°C]", "Tamberlode Field [°C]", "Nethimple Rise [°C]"),
    *("Orlasker Mill [°F]", "Grelstane Hut [°C]", "Vorrahult [°C]"),
)
#: Days without a value that stand alone, a station.
SINGLE_DAYS = 9
#: Thirty years hold seven leap days, the first on 29 February 2000 and the last in 2024.
DAYS = 30 * 365 + 7
#: L-skewness of a Gumbel law, which follows from its quantiles (Hosking 1990, J. R. Stat. Soc.
#: B 52, from memory), and what thirty winters scatter by (judged).
GUMBEL_SKEWNESS, SCATTER = np.log(9 / 8) / np.log(2), 0.15


@pytest.fixture(scope="module")
def script():
    return published.script("demo_winters")


@pytest.fixture(scope="module")
def table():
    """Values by station head and date; nothing where the cell is empty."""
    with WINTERS.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return {
        head: {
            dt.date.fromisoformat(row["date"]): float(row[head]) if row[head] else None
            for row in rows
        }
        for head in rows[0]
        if head != "date"
    }


def winter_of(day):
    """Return the year in which the winter of a day begins."""
    return day.year if day.month >= 7 else day.year - 1


def cleaned(table, head):
    """Return the values [°C] by date, the planted faults taken out by hand."""
    values = {day: value for day, value in table[head].items() if value not in (None, -99.9)}
    if head == INLAND:
        values[dt.date(2025, 2, 18)] = -24.1
    if head == HOLLOW:  # six weeks of that January are missing
        values = {day: value for day, value in values.items() if winter_of(day) != 2008}
    return {
        day: (value - 32) / 1.8 if head.endswith("[°F]") else value for day, value in values.items()
    }


def lows(values):
    """Return the lowest value of each winter and its day."""
    found = {}
    for day, value in values.items():
        winter = winter_of(day)
        if winter not in found or value < found[winter][0]:
            found[winter] = value, day
    return list(found.values())


def twenty_winter_low(minima):
    """Return the low that one winter in twenty falls below, Gumbel by L-moments."""
    mean, second = stats.lmoment(-np.asarray(minima), order=[1, 2])
    scale = second / np.log(2)
    return -stats.gumbel_r.ppf(1 - 1 / 20, loc=mean - np.euler_gamma * scale, scale=scale)


# --- what the script makes ------------------------------------------------------------------------


def test_the_script_makes_the_files(script):
    assert script.differences(WINTERS.read_text(encoding="utf-8"), script.winters_text()) == []
    assert DEPOTS.read_text(encoding="utf-8") == script.depots_text()


def test_a_difference_is_told(script):
    text = "date,here [°C]\n1996-07-01,1.0\n1996-07-02,2.0\n1996-07-03,\n"
    other = "date,here [°C]\n1996-07-01,1.1\n1996-07-02,2.2\n1996-07-03,3.0\n"
    assert script.differences(text, other) == [
        "1996-07-02, here [°C]: 2.0 stands there, 2.2 is made",
        "1996-07-03, here [°C]: nothing stands there, 3.0 is made",
    ]
    assert script.differences(text, "date,here [°C]\n") == ["the heads or the dates differ"]


def test_the_command_says_whether_they_agree(script, capsys, monkeypatch, tmp_path):
    assert script.main([]) == 0
    assert "agree" in capsys.readouterr().out
    monkeypatch.setattr(script, "DEPOTS_FILE", tmp_path / "demo_depots.csv")
    monkeypatch.setattr(script, "WINTERS_FILE", tmp_path / "demo_winters.csv")
    assert script.main(["--write"]) == 0
    assert script.WINTERS_FILE.stat().st_size < LARGEST_FILE
    script.DEPOTS_FILE.write_text("depot\n", encoding="utf-8")
    assert script.main([]) == 1


# --- the tables -----------------------------------------------------------------------------------


def test_thirty_winters_a_row_a_day(table):
    assert list(table) == [COAST, INLAND, HOLLOW, SLOPE, MOUNTAIN, BASIN]
    for values in table.values():
        days = list(values)
        assert days[0] == dt.date(FIRST_YEAR, 7, 1) and days[-1] == dt.date(LAST_YEAR, 6, 30)
        assert len(days) == DAYS
        assert all((b - a).days == 1 for a, b in itertools.pairwise(days))
        assert len({winter_of(day) for day in days}) == 30
    assert WINTERS.stat().st_size < LARGEST_FILE


def test_a_depot_a_row(table):
    rows = list(csv.DictReader(io.StringIO(DEPOTS.read_text(encoding="utf-8"))))
    assert [row["station"] for row in rows] == [head.rpartition(" [")[0] for head in table]
    assert {row["site"] for row in rows} == {"open", "hollow", "slope", "town"}
    assert sum(int(row["vehicles"]) for row in rows) == 2000
    assert max(int(row["depot height [m]"]) for row in rows) == 1200
    assert [row["depot"] for row in rows if row["night stop"]] == ["Orlasker"]
    for row in rows:
        assert bool(row["night stop"]) == bool(row["night stop low [°C]"])
        assert 20 < float(row["coolant in all [L]"]) / int(row["vehicles"]) < 50


# --- the planted faults ---------------------------------------------------------------------------


def test_six_weeks_of_one_january_are_missing(table):
    first = dt.date(2009, 1, 1)
    gap = [first + dt.timedelta(each) for each in range(42)]
    assert all(table[HOLLOW][day] is None for day in gap)
    for beside in (gap[0] - dt.timedelta(1), gap[-1] + dt.timedelta(1)):
        assert table[HOLLOW][beside] is not None


def test_one_station_begins_late(table):
    values = table[MOUNTAIN]
    first = next(day for day, value in values.items() if value is not None)
    assert first == dt.date(2014, 7, 1)
    assert len({winter_of(day) for day, value in values.items() if value is not None}) == 12


def test_one_minus_is_missing(table, script):
    day = dt.date(2025, 2, 18)
    values = table[INLAND]
    assert values[day] == 24.1
    for near in (-1, 1):
        assert values[day + dt.timedelta(near)] < -20
    true = script.true_minima()[list(table).index(INLAND)]
    winter = [each for each, there in zip(script.days(), true, strict=True) if there < -24]
    assert [each for each in winter if winter_of(each) == 2024] == [day]
    # nothing else between November and March comes near it
    others = [v for each, v in values.items() if each.month in (11, 12, 1, 2, 3) and each != day]
    assert max(v for v in others if v is not None) < 15


def test_one_value_stands_for_none(table):
    found = [
        (head, day)
        for head, values in table.items()
        for day, value in values.items()
        if value is not None and value < -60
    ]
    assert found == [(COAST, dt.date(2003, 11, 20))]
    assert table[COAST][dt.date(2003, 11, 20)] == -99.9


def test_scattered_days_are_missing(table):
    for head, values in table.items():
        gone = [day for day, value in values.items() if value is None]
        if head == HOLLOW:
            gap = dt.date(2009, 1, 1), dt.date(2009, 2, 11)
            gone = [day for day in gone if not gap[0] <= day <= gap[1]]
        if head == MOUNTAIN:
            gone = [day for day in gone if day >= dt.date(2014, 7, 1)]
        assert len(gone) == SINGLE_DAYS
        winters = [winter_of(day) for day in gone]
        assert max(map(winters.count, winters)) <= 2
    assert table[HOLLOW][dt.date(1998, 2, 7)] is None


# --- the weather ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("head", "low", "high"),
    [
        (COAST, -10, -6),
        (INLAND, -32, -27),
        (HOLLOW, -40, -30),
        (SLOPE, -21.5, -15),  # of its own the floor would do; the night stop on the pass decides
        (MOUNTAIN, -40, -25),
        (BASIN, -50, -47),
    ],
)
def test_the_winters_lows_are_extremes(table, head, low, high):
    found = lows(cleaned(table, head))
    minima = [value for value, _ in found]
    assert len(minima) == {HOLLOW: 29, MOUNTAIN: 12}.get(head, 30)
    assert {day.month for _, day in found} <= {11, 12, 1, 2}
    skewness = stats.lmoment(-np.array(minima), order=3)
    assert skewness == pytest.approx(GUMBEL_SKEWNESS, abs=SCATTER)
    assert low < twenty_winter_low(minima) < high
    assert min(minima) < statistics.fmean(minima) - 1.5 * statistics.stdev(minima)


def test_stations_share_their_weather(table):
    winter = [day for day in table[COAST] if day.month in (12, 1, 2)]
    for head in table:
        here, basin = cleaned(table, head), cleaned(table, BASIN)
        both = [(here[day], basin[day]) for day in winter if day in here and day in basin]
        assert statistics.correlation(*zip(*both, strict=True)) > 0.5


def test_it_warms_slowly(table):
    for head in (COAST, INLAND, SLOPE, BASIN):
        years = {}
        for day, value in cleaned(table, head).items():
            years.setdefault(winter_of(day), []).append(value)
        means = [statistics.fmean(each) for each in years.values()]
        slope, _ = statistics.linear_regression(range(len(means)), means)
        assert 0 < slope < 0.08  # K a year
