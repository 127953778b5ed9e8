"""Daily minima as somebody kept them: what is read, what is listed, what is asked about."""

import datetime as dt
import io

import numpy as np
import pandas as pd
import pytest

from coolcalc.errors import InputError
from coolcalc.jobs.daily_minima import read_minima


def table(*rows, header="date,Fernside [°C]"):
    return "\n".join((header, *rows)).encode("utf-8")


PLAIN = table("2004-01-30,-4.5", "2004-01-31,-12.0", "2004-02-01,-3")


def test_days_and_kelvin():
    minima = read_minima(PLAIN)
    assert minima.station == "Fernside"
    assert list(minima.days.astype(str)) == ["2004-01-30", "2004-01-31", "2004-02-01"]
    assert minima.lowest_k == pytest.approx([268.65, 261.15, 270.15])
    assert (minima.bad, minima.odd, minima.empty) == ((), (), 0)


@pytest.mark.parametrize(
    "source",
    [
        table("30.1", header="x"),
        table("2004-01-30,-4.5;", header="date;Fernside [°C]"),
        b"\xff\xfe\x00",
        [],
        "no such file.csv",
        {"date": "2004-01-30"},
        7,
    ],
)
def test_what_is_no_table_is_refused(source):
    with pytest.raises(InputError) as refused:
        read_minima(source)
    assert refused.value.field in ("minima", "column")


def test_every_way_in_gives_the_same(tmp_path):
    path = tmp_path / "minima.csv"
    path.write_bytes(PLAIN)
    frame = pd.read_csv(io.BytesIO(PLAIN), parse_dates=["date"])
    texts = pd.read_csv(io.BytesIO(PLAIN), dtype=str)
    semicolons = PLAIN.replace(b",", b";").replace(b"-4.5", b"-4,5")
    fahrenheit = table(
        "20040130,23.9", "20040131,10.4", "20040201,26.6", header="Date,Fernside [degF]"
    )
    minus = PLAIN.replace(b",-", ",\N{MINUS SIGN}".encode())
    rows = frame.to_dict("records")
    for source in (path, str(path), frame, texts, semicolons, fahrenheit, minus, rows):
        minima = read_minima(source)
        assert minima.lowest_k == pytest.approx(read_minima(PLAIN).lowest_k)
        assert (minima.days == read_minima(PLAIN).days).all()


def test_bad_rows_are_listed_with_their_reason_and_the_good_ones_kept():
    minima = read_minima(
        table(
            "2004-01-01,-4.5",
            "2004-01-02,-99.9",
            "2004-01-03,minus four",
            "04/01/2004,-5",
            "2004-02-30,-5",
            "2004-01-06,",
            ",-7",
            ",",
            "2004-01-07,-120",
            "2004-01-08,-5 °F",
            "2004-01-09,1e3",
            "2004-01-10,nan",
            "2004-01-11,-6",
        )
    )
    assert [each.number for each in minima.bad] == [2, 3, 4, 5, 7, 9, 11, 12]
    assert "not measured" in minima.bad[0].why
    assert "2004-01-31" in minima.bad[2].why
    assert "-89.2 °C".replace("-", "\N{MINUS SIGN}") in minima.bad[5].why
    assert minima.empty == 1
    kept = dict(zip(minima.days.astype(str), minima.lowest_k - 273.15, strict=True))
    wanted = {"2004-01-01": -4.5, "2004-01-08": -20.5556, "2004-01-11": -6.0}
    assert kept == pytest.approx(wanted, abs=1e-4)


def test_a_day_that_stands_twice_is_named_and_the_coldest_counts():
    minima = read_minima(table("2004-01-02,-3", "2004-01-01,-4.5", "2004-01-02,-8"))
    assert minima.lowest_k == pytest.approx([268.65, 265.15])
    (odd,) = minima.odd
    assert odd.day == dt.date(2004, 1, 2)
    assert "2 times" in odd.why


def test_a_missing_minus_in_a_cold_spell_is_named_and_kept():
    minima = read_minima(table("2004-01-01,-21.7", "2004-01-02,24.1", "2004-01-03,-22.5"))
    assert minima.lowest_k[1] == pytest.approx(297.25)
    (odd,) = minima.odd
    assert "is a minus missing" in odd.why


def test_a_cold_front_is_not_odd():
    minima = read_minima(table("2004-01-01,2", "2004-01-02,-19", "2004-01-03,-24"))
    assert minima.odd == ()


def test_the_station_must_be_named_where_there_are_several():
    two = table("2004-01-01,-4.5,30", header="date,Fernside [°C],Overlea [°F]")
    with pytest.raises(InputError, match="Fernside, Overlea"):
        read_minima(two)
    assert read_minima(two, "overlea").lowest_k == pytest.approx([272.039], abs=0.001)
    with pytest.raises(InputError, match="Elsewhere"):
        read_minima(two, "Elsewhere")


@pytest.mark.parametrize(
    ("header", "word"),
    [
        ("date,Fernside", "does not say in what"),
        ("date,Fernside [kPa]", "kPa"),
        ("day,Fernside [°C]", "no column date"),
    ],
)
def test_headers_must_say_what_they_hold(header, word):
    with pytest.raises(InputError, match=word):
        read_minima(table("2004-01-01,-4.5", header=header))


def test_a_column_in_another_unit_than_it_says_is_refused():
    # 30 days at 50 °F and more, headed °C.
    days = [f"2004-07-{at:02d},{50 + at % 9}" for at in range(1, 31)]
    with pytest.raises(InputError, match="likely to be in another unit"):
        read_minima(table(*days, "2004-01-01,20"))


def test_thirty_years_are_read_whole():
    days = np.arange("1996-07-01", "2026-07-01", dtype="datetime64[D]")
    rows = [f"{day},{-at % 30}.5" for at, day in enumerate(days)]
    assert read_minima(table(*rows)).days.size == days.size == 10_957
