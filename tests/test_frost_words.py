"""What a frost standard says: to a depot, to the reader, to whoever adds it up."""

import re

import pytest

import coolcalc as cc
from coolcalc.jobs.frost_rows import ratio_words

from .published import DATA

CAN = cc.Product.generic("ethylene glycol concentrate")


def standard(**more):
    asked = {"depot": "Upper yard", "low": "-27 °C", "low_error": "3 K", "site": "open"}
    return cc.frost_standard(**{**asked, "pour": [CAN, cc.WATER], **more})


def number(text):
    return float(re.search(r"[−-]?\d+(?:\.\d+)?", text)[0].replace("−", "-"))


@pytest.mark.parametrize("system", ["metric", "US"])
@pytest.mark.parametrize(
    "more",
    [
        {},
        {"low": "-46 °C"},
        {"low": "-8 °C"},
        {"colder_than_station": "3 K", "colder_error": "1 K", "lost_between_tests": "5 %"},
        {"night_stops": {"pass house": "-34 °C"}},
    ],
)
def test_the_working_adds_up_as_printed(more, system):
    """Line by line, as somebody with a pencil would: to the last printed digit."""
    lines = [(line.label, line.text) for line in standard(**more, show_in=system).working_lines]
    assert lines[0][0] == "Low of the station"
    at = number(lines[0][1])
    doubts = 0.0
    for label, text in lines[1:]:
        if label.startswith("= "):
            assert number(text) == pytest.approx(at, abs=1e-6), label
        elif label == "The doubts together":
            assert number(text.partition(" = ")[2]) == pytest.approx(doubts, abs=1e-6)
        elif label.startswith(("Floor, ", "Cooling", "How a")):
            continue
        elif "alone" in text:
            takes = number(text.partition("; ")[2])
            doubts, at = doubts + takes, at - takes
        else:
            at -= number(text)


def test_the_reader_is_told_both_limits_on_the_instrument():
    job = standard()
    text = " ".join(job.steps)
    assert f"Correct if warmer than {job.correct_below}: too weak" in text
    assert f"Correct if colder than {job.correct_above}: too strong" in text
    assert "refractometer, freeze point" in text
    gravity = standard(instrument=cc.Hydrometer(reference_temp="20 °C"), low="-15 °C")
    assert f"Correct below {gravity.correct_below}: too weak" in " ".join(gravity.steps)
    # On a float a limit without its temperature is none.
    assert "sample at 20 °C or corrected to it" in " ".join(gravity.steps)


def test_freeze_slush_and_burst_are_three_things():
    job = standard()
    text = " ".join(job.assumptions)
    for word in ("first ice crystals", "slush", "burst"):
        assert word in text
    rows = {row.label: row.text for row in job.rows}
    printed = next(text for label, text in rows.items() if label.startswith("Printed for pipes"))
    # At −30 °F, the row for −30 °C: 50 and 31 per cent; source key burst-hvacr.
    assert "50 % glycol against freezing, 31 % against bursting" in printed
    assert any("ice" in text for text in rows.values())


def test_wind_is_explained_away():
    assert any("Wind chill does not count" in text for text in standard().assumptions)
    assert "nws-wind-chill" in standard().source_keys


def test_once_in_twenty_is_not_never():
    """1 − 0.95^10 = 0.401, by hand."""
    job = standard(return_period="20")
    assert any("5 %, and at least once in ten with 40 %" in text for text in job.assumptions)
    assert any("comes in 5 of 100 winters" in row.text for row in job.rows)
    # A given low whose return period nobody told promises none.
    assert not any("of 100 winters" in row.text for row in standard().rows)
    assert "once in" not in standard().rows[0].text


def test_cooling_is_set_beside_water_and_today_s_mix():
    labels = [row.label for row in standard(today="30 % product").rows]
    assert sum("plain water" in label for label in labels) == 3
    assert sum("today's mix" in label for label in labels) == 3
    assert not any("today" in row.label for row in standard().rows)


def test_summer_is_told_where_the_hottest_coolant_was():
    job = standard(hottest="105 °C", cap="100 kPa", depot_height="900 m", station_height="900 m")
    assert job.boil.altitude_m == pytest.approx(900.0)
    assert any(row.label == "Boils in summer" for row in job.rows)
    weak = standard(hottest="130 °C", cap="50 kPa")
    assert any("It boils" in row.text for row in weak.rows)


def test_what_is_not_known_is_asked():
    open_questions = standard(low_error=None, site="not told").questions
    assert len(open_questions) == 3
    assert any("thermometer" in text for text in open_questions)
    assert standard(colder_than_station="0 K", colder_error="1 K").questions == ()
    assert any("give or take" in text for text in standard(colder_than_station="0 K").questions)
    given = cc.frost_standard(depot="x", mean_extreme="-9 °C", sd_extreme="3 K", pour=[CAN])
    assert any("of how many winters" in text for text in given.questions)


def test_ratios_in_words():
    assert ratio_words((0.8, 0.9, 0.97)) == "10 % less (3 to 20 %)"
    assert ratio_words((1.02, 1.1, 1.2)) == "10 % more (2 to 20 %)"
    assert ratio_words((0.97, 1.01, 1.04)) == "1 % more (3 % less to 4 % more)"
    assert ratio_words((1.0, 1.0, 1.0)) == "the same"
    assert "turbulent" in ratio_words((float("nan"),) * 3)


def test_a_night_of_the_record_that_the_fill_would_not_meet_is_named():
    asked = {"minima": DATA / "demo_winters.csv", "pour": [CAN, cc.WATER]}
    coast = cc.frost_standard(depot="Selquay", column="Selquay Mole", **asked)
    assert not any("The record holds" in note for note in coast.notes)
    basin = cc.frost_standard(depot="Vorrahult", column="Vorrahult", **asked)
    assert any("The record holds" in note for note in basin.notes)


def test_missing_days_are_said_plainly():
    """Planted: 42 days of 2008/09 at Nethimple Rise, left out, and 9 single days."""
    job = cc.frost_standard(
        depot="Nethimple",
        minima=DATA / "demo_winters.csv",
        column="Nethimple Rise",
        pour=[CAN, cc.WATER],
    )
    record = next(row.text for row in job.rows if row.label == "Record")
    assert record.startswith("29 winters counted, ")
    assert "left out: 2008/09" in record


def test_cooling_against_a_stronger_mix_of_today_is_a_gain():
    labels = [row.label for row in standard(low="-10 °C", today="60 % product").rows]
    assert any("runs cooler" in label for label in labels)
    assert not any("runs hotter" in label and "today" in label for label in labels)


def test_where_no_frost_is_no_freezing_point_is_asked_for():
    job = cc.frost_standard(
        depot="x",
        mean_extreme="4 °C",
        sd_extreme="0.2 K",
        pour=[CAN],
        margin="0 K",
        mixing_error="0 %",
        without=["low", "curve", "instrument"],
    )
    assert "no frost is counted on" in job.notes[0]


def test_lines_that_are_typed_stand_as_they_are():
    job = standard(depot="<b>Yard</b>", low_basis="=1+1", test_every="twice a winter")
    assert job.title == "Frost standard of <b>Yard</b>"
    assert "<b>Yard</b>" not in job._repr_html_()
    assert any("twice a winter" in step for step in job.steps)


def test_another_unit_system_is_the_same_standard():
    metric = standard()
    us = metric.shown_in("US")
    assert us.standard == metric.standard
    assert "°F" in us.correct_below
    assert metric.to_frame().equals(
        us.to_frame().assign(
            **{name: metric.to_frame()[name] for name in us.to_frame() if "as read" in name}
        )
    )
