"""Figures of a frost standard: what is drawn is what was worked out, in units of the page."""

import functools
import math
import pathlib

import numpy as np
import pytest

import coolcalc as cc
from coolcalc import charts
from coolcalc.charts.of_window import axis_end, frost_share, window_rows
from coolcalc.jobs.frost_plan import CHANCE, SWITCHES
from coolcalc.jobs.frost_stack import stack_of, tenths

CAN = cc.Product.generic("ethylene glycol concentrate")
READY = cc.Product.from_shares(
    name="Yard mix", fluid="ethylene glycol", glycol="50 %", density="1.07 kg/L"
)
WINTERS = pathlib.Path(__file__).parents[1] / "data" / "demo_winters.csv"
STOP = {"Hask Saddle": "-33 °C"}

MAKERS = {
    "floor": {"depot": "Selquay Mole"},
    "frost": {"depot": "Tamberlode Field"},
    "few": {"depot": "Grelstane Hut"},
    "ceiling": {"depot": "Vorrahult"},
    "night stop": {"depot": "Orlasker Mill", "night_stops": STOP},
    "US": {"depot": "Orlasker Mill", "night_stops": STOP, "show_in": "US"},
    "off": {"depot": "Orlasker Mill", "night_stops": STOP, "without": SWITCHES},
    "no chance": {"depot": "Tamberlode Field", "without": [CHANCE]},
    "given": {"depot": "Yard", "low": "-21 °C"},
    "ready-mixed": {"depot": "Yard", "low": "-12 °C", "pour": [READY, cc.WATER]},
    "lossy": {"depot": "Yard", "low": "-21 °C", "lost_between_tests": "10 %", "margin": "4.95 K"},
}
MAKERS["ready-mixed"] |= {"floor": "60 % product", "ceiling": "100 % product"}
EVERY_CASE = pytest.mark.parametrize("case", MAKERS)
FITTED = ["floor", "frost", "few", "ceiling", "US"]


@functools.cache
def job_of(case):
    given = {"pour": [CAN, cc.WATER], "site": "open"} | MAKERS[case]
    if "low" not in given:
        given |= {"minima": WINTERS, "column": given["depot"]}
    return cc.frost_standard(**given)


def layers_of(spec):
    """Every layer that holds data, of every sheet."""
    for sheet in spec.get("vconcat", [spec]):
        yield from sheet["layer"]


def values_with(spec, *keys):
    return [
        row
        for layer in layers_of(spec)
        for row in layer["data"]["values"]
        if all(key in row for key in keys)
    ]


def shown_texts(spec):
    for row in values_with(spec, "text"):
        text = row["text"]
        yield " ".join(text) if isinstance(text, list) else text


# --- all of them ----------------------------------------------------------------------------------


@EVERY_CASE
@pytest.mark.parametrize(
    "draw",
    [
        charts.winters_chart,
        charts.winters_in_time_chart,
        charts.margins_chart,
        charts.window_chart,
    ],
)
def test_every_figure_is_drawn_and_says_what_it_shows(case, draw):
    job = job_of(case)
    spec = draw(job)
    if job.winter_low.fitted is None and draw in (
        charts.winters_chart,
        charts.winters_in_time_chart,
    ):
        assert spec is None
        return
    svg = charts.to_svg(spec)
    assert svg.startswith("<svg") and "NaN" not in svg
    assert spec["description"].endswith(".") and len(spec["description"]) > 40
    wrong = "°C" if job.unit_system.temperature == "°F" else "°F"
    assert wrong not in svg and wrong not in spec["description"]


# --- winters --------------------------------------------------------------------------------------


@pytest.mark.parametrize("case", FITTED)
def test_winters_stand_where_gringorten_puts_them(case):
    """(n + 0.12) / (i - 0.44) of the i-th coldest of n (gringorten-1963), -ln(-ln(1 - 1/T))."""
    job = job_of(case)
    points = values_with(charts.winters_chart(job), "winter")
    lowest = sorted(row["temp"] for row in points)
    count = len(points)
    assert count == job.winter_low.fitted.lowest_k.size
    for row in points:
        ranks = [at for at, temp in enumerate(lowest, 1) if temp == row["temp"]]
        variates = [-math.log(-math.log(1 - (i - 0.44) / (count + 0.12))) for i in ranks]
        assert any(row["variate"] == pytest.approx(each, abs=1e-9) for each in variates)


@pytest.mark.parametrize("case", FITTED)
def test_line_and_band_hold_the_low_and_its_bounds(case):
    job = job_of(case)
    line = values_with(charts.winters_chart(job), "low", "high", "variate")
    years = job.winter_low.years
    variate = -math.log(-math.log(1 - 1 / years))
    at = [row["variate"] for row in line]

    def shown(temp_k):
        celsius = temp_k - 273.15
        return celsius * 1.8 + 32 if job.unit_system.temperature == "°F" else celsius

    for key, temp_k in zip(
        ("low", "temp", "high"), (job.doubt.low, job.doubt.value, job.doubt.high), strict=True
    ):
        found = np.interp(variate, at, [row[key] for row in line])
        assert found == pytest.approx(shown(temp_k), abs=0.05)
    for row in line:
        assert row["low"] < row["temp"] < row["high"]


def test_scale_is_marked_in_winters_and_reaches_the_return_period():
    far = cc.frost_standard(
        depot="Yard",
        minima=WINTERS,
        column="Selquay Mole",
        pour=[CAN, cc.WATER],
        return_period="300 winters",
    )
    for job, last in ((job_of("frost"), 100), (far, 200)):
        spec = charts.winters_chart(job)
        axis = spec["layer"][0]["encoding"]["x"]["axis"]
        marked = [1 / (1 - math.exp(-math.exp(-each))) for each in axis["values"]]
        assert [round(each) for each in marked] == [
            n for n in (2, 5, 10, 20, 50, 100, 200) if n <= last
        ]
        svg = charts.to_svg(spec)
        assert f">{last}<" in svg
        domain = spec["layer"][0]["encoding"]["x"]["scale"]["domain"]
        for row in values_with(spec, "variate"):
            assert domain[0] <= row["variate"] <= domain[1] + 1e-12


def test_a_colder_winter_that_is_left_out_is_shown_apart():
    """Of made-up winters one has only its coldest day: it is no point of the fit."""
    rows = []
    for winter in range(12):
        for day in range(0, 365):
            date = np.datetime64("2001-07-01") + 365 * winter + day
            cold = 10.0 * math.cos(2 * math.pi * (day - 199) / 365)
            rows.append((str(date), f"{2.0 - cold - (winter % 5):.1f}"))
    gap = [at for at, (date, _) in enumerate(rows) if "2006-11-15" <= date <= "2007-03-15"]
    for at in gap:
        rows[at] = (rows[at][0], "")
    rows[gap[60]] = (rows[gap[60]][0], "-33.0")
    table = "date,Yard [°C]\n" + "".join(f"{date},{low}\n" for date, low in rows)
    job = cc.frost_standard(
        depot="Yard", minima=table.encode(), column="Yard", pour=[CAN, cc.WATER], site="open"
    )
    spec = charts.winters_chart(job)
    assert any("2006/07, days missing: not counted" in text for text in shown_texts(spec))
    assert not any(row["temp"] == pytest.approx(-33.0) for row in values_with(spec, "winter"))
    in_time = values_with(charts.winters_in_time_chart(job), "winter")
    left_out = [row for row in in_time if row["what"] != "counted"]
    assert [(row["year"], round(row["temp"], 1)) for row in left_out] == [(2006, -33.0)]


@pytest.mark.parametrize("case", FITTED)
def test_trend_runs_through_the_middle_of_the_winters(case):
    spec = charts.winters_in_time_chart(job_of(case))
    line = spec["layer"][0]["data"]["values"]
    points = [row for row in values_with(spec, "winter") if row["what"] == "counted"]
    slope = (line[1]["temp"] - line[0]["temp"]) / (line[1]["year"] - line[0]["year"])
    off = [
        row["temp"] - line[0]["temp"] - slope * (row["year"] - line[0]["year"]) for row in points
    ]
    assert np.median(off) == pytest.approx(0.0, abs=1e-9)
    degree = 1.8 if case == "US" else 1.0
    trend = job_of(case).winter_low.fitted.goodness.trend_k_decade
    assert 10.0 * slope == pytest.approx(trend * degree, abs=1e-9)


# --- the stack ------------------------------------------------------------------------------------


@EVERY_CASE
def test_the_stack_adds_up_as_printed_and_its_sums_are_those_of_the_answer(case):
    job = job_of(case)
    steps = stack_of(job)
    at = steps[0].end
    for step in steps:
        assert step.begin == pytest.approx(at, abs=1e-9)
        assert step.begin - step.end == pytest.approx(step.takes, abs=1e-9)
        if not step.counted:
            assert step.takes == 0.0
        at = step.end
    standard, unit = job.standard, job.unit_system.temperature
    sums_k = (job.winter_low.low_k, standard.air_k, standard.hold_k, standard.limit_k)
    sums = [f"{tenths(step.end)} {unit}" for step in steps if step.is_sum]
    assert sums == [job.temp_words(each, 1) for each in (*sums_k, standard.fill_need_k)]


@EVERY_CASE
def test_a_printed_step_is_within_a_tenth_of_what_is_counted(case):
    job = job_of(case)
    degree = 1.8 if job.unit_system.temperature == "°F" else 1.0
    parts = {part.name: part for part in job.margins}
    for step in stack_of(job):
        if not step.is_sum:
            assert step.takes == pytest.approx(degree * parts[step.name].takes_k, abs=0.1001)
    named = {step.name for step in stack_of(job)}
    assert all(part.name in named for part in job.margins if part.takes_k)


def test_stack_by_hand():
    """No doubt, 4 K of margin, a depot 2.5 K colder: -21 - 2.5 - 4 = -27.5."""
    job = cc.frost_standard(
        depot="Yard",
        low="-21 °C",
        pour=[CAN, cc.WATER],
        colder_than_station="2.5 K",
        margin="4 K",
        without=["confidence"],
    )
    counted = [(step.words, step.takes, step.end) for step in stack_of(job) if step.counted]
    assert counted == [
        ("Low of the station", 0.0, -21.0),
        ("From the station to the depot", 2.5, -23.5),
        ("Air counted on", 0.0, -23.5),
        ("Margin", 4.0, -27.5),
        ("Air less the margin", 0.0, -27.5),
        ("What a reading must show", 0.0, -27.5),
        ("Freezing point to fill to", 0.0, -27.5),
    ]


def test_what_is_switched_off_is_hollow_and_says_what_it_would_be():
    job = job_of("off")
    bars = values_with(charts.margins_chart(job), "kind")
    assert {row["kind"] for row in bars} == {"off"}
    assert all(row["text"].startswith("off (would be ") for row in bars)
    margin = next(row for row in bars if row["row"].endswith("Margin"))
    assert margin["text"] == "off (would be 3.0 K)"
    assert margin["begin"] - margin["end"] == pytest.approx(3.0)
    others = values_with(charts.margins_chart(job_of("night stop")), "kind")
    assert "off" not in {row["kind"] for row in others}
    assert any("Hask Saddle, a night stop" in row["row"] for row in others)


# --- floor, frost, ceiling ------------------------------------------------------------------------


@EVERY_CASE
def test_window_shows_limits_fill_and_what_decides(case):
    job = job_of(case)
    spec = charts.window_chart(job)
    svg = charts.to_svg(spec)
    for each in (job.correct_below, job.correct_above, f"the {job.decides} decides"):
        assert each in svg
    assert f"{100 * job.strength.share:.0f} %" in svg
    assert job.temp_words(job.standard.air_k, 1) in svg
    assert job.temp_words(job.standard.fill_need_k, 1) in svg


@EVERY_CASE
def test_rows_lie_on_the_axis_in_their_order(case):
    job = job_of(case)
    end = 100 * axis_end(job)
    bounds, frost, leave, fill = window_rows(job, end)
    assert end == (100.0 if case == "ready-mixed" else 70.0)
    assert 0 < bounds["share"] < bounds["to"] <= end
    assert 0 < leave["share"] <= fill["share"] <= end and leave["share"] < leave["to"] <= end
    if job.decides == "floor":
        assert frost["share"] < fill["share"]
    if job.decides == "frost":
        assert bounds["share"] < fill["share"] < frost["share"] + 1.0
    if job.decides == "ceiling":
        assert frost["share"] is None or frost["share"] > fill["share"]


def test_no_strength_is_told_where_none_is_enough():
    assert frost_share(job_of("ceiling")) is None
    assert "no strength is enough" in charts.to_svg(charts.window_chart(job_of("ceiling")))
    assert "no strength" not in charts.to_svg(charts.window_chart(job_of("frost")))
