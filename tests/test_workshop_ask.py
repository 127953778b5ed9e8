"""What the workshop's page asks and answers, without a screen."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coolcalc import charts
from coolcalc.errors import FormError
from coolcalc.jobs import Batch, MixCorrection, WhatNow
from coolcalc.panels.workshop import ask, cards_of
from coolcalc.panels.workshop_form import FORM, READINGS, SHELVES, TASKS, TOOLS


def answer(**texts):
    return ask(FORM.defaults() | texts)


def refused(**texts):
    with pytest.raises(FormError) as caught:
        answer(**texts)
    return [str(error) for error in caught.value.errors]


def test_the_page_answers_as_it_opens():
    job = answer()
    assert isinstance(job, MixCorrection)
    assert job.drain.m_as("L") == pytest.approx(2.8, abs=0.051)


@pytest.mark.parametrize("task", [task for task, _ in TASKS])
@pytest.mark.parametrize("system", ["metric", "US", "imperial"])
def test_each_task_answers_draws_and_prints(task, system):
    defaults = FORM.defaults()
    texts = {
        name: FORM.converted(field, defaults[name], "metric", system)
        for name, field in FORM.fields.items()
        if field.kind not in ("choice", "tick", "text")
    }
    job = answer(task=task, units=system, **texts)
    assert type(job) is {"correct": MixCorrection, "now": WhatNow, "batch": Batch}[task]
    assert job.steps and job.cautions
    assert "<svg" in charts.to_svg(charts.mixes(job))
    cards = cards_of(job, FORM.defaults() | {"vehicle": "Van 3"})
    assert cards["job-card.pdf"][2]().startswith(b"%PDF")
    assert b"Van 3" in cards["job-card.html"][2]()


@pytest.mark.parametrize("tool", [*TOOLS, "strip", "strength"])
def test_each_instrument_finds_about_thirty_per_cent(tool):
    """The figures that the page starts with are those of one mix, as near as they are round."""
    share = answer(tool=tool).before.strength().share
    assert share == pytest.approx(0.31, abs=0.03)


@pytest.mark.parametrize("shelf", SHELVES)
def test_each_shelf_answers(shelf):
    job = answer(shelf=shelf)
    assert job.steps


@pytest.mark.parametrize(
    ("texts", "says"),
    [
        ({"glycol": "mixed or not known"}, "Glycol inside: mixed or not known in the system"),
        ({"capacity": "ten"}, 'Capacity: "ten" does not begin with a plain number'),
        ({"drainable": "12"}, "Comes out at the drain: 12.00 L is more than the system holds"),
        ({"reading": "-80"}, "Reading: −80.0 °C is colder than"),
        ({"reading": "16"}, "Reading: 16 °C: coolant freezes below zero; did you mean −16 °C?"),
        ({"tool": "Brix", "reading_brix": "99"}, "Reading: 99"),
        ({"tool": "gravity", "reading_gravity": "0.9"}, "Reading: no mix of"),
        ({"tool": "index", "reading_index": "1.31"}, "Reading: "),
        ({"tool": "strip", "strip_step": "35 %"}, "Nearest colour: 35 % is not a step"),
        ({"tool": "strip", "strip_steps": "50 %"}, "Steps of the strip: a strip has at least two"),
        ({"target_freezing": "-90"}, "Target freezing point: −90.0 °C is colder than"),
        ({"temp": "60"}, "Temperature of the liquids: 60 °C is not the temperature of a cold"),
        ({"drain_temp": "70"}, "Temperature of what is taken out: 70 °C is not the temperature"),
        ({"side": "shut", "side_volume": "9.5"}, "Side circuit holds: 9.50 L is more than nine"),
        ({"can_left": "-1"}, "Concentrate left in the can: −1 L is below 0 L"),
        ({"task": "now", "taken_out": "0", "put_concentrate": "0"}, "Taken out: 0.00 L"),
        ({"task": "batch", "container": "10"}, "Wanted in all: 20.00 L does not fit"),
        ({"task": "batch", "volume": "0"}, "Wanted in all: 0 L is below"),
    ],
    ids=str,
)
def test_refusals_carry_the_name_of_the_field_on_the_page(texts, says):
    told = refused(**texts)
    assert any(each.startswith(says) for each in told), told
    assert len(told) == len(set(told))


def test_all_slips_of_a_page_are_told_at_once():
    told = refused(capacity="ten", reading="warm", target_freezing="cold", temp="90")
    assert len(told) == 4


def test_the_safe_side_takes_more():
    assert answer(safe="yes").drain > answer().drain
    assert answer(safe="yes").aim == pytest.approx(0.95)


def test_a_field_that_is_not_asked_disturbs_nothing():
    assert answer(reading_brix="much", volume="none").drain == answer().drain
    assert answer(task="batch", capacity="much", reading="warm").steps


def test_every_tool_has_a_reading_field():
    assert set(READINGS) == set(TOOLS)
    assert set(READINGS.values()) <= set(FORM.fields)


TEXTS = st.one_of(
    st.sampled_from(
        ["", "0", "-1", "1e9", "nan", "12,5", "1,234", "-16", "-34 F", "50 %", "1.05", "10 L", "°"]
    ),
    st.text(max_size=12),
)


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_whatever_is_typed_it_answers_or_refuses(data):
    texts = {}
    for name, field in FORM.fields.items():
        if field.kind == "choice":
            texts[name] = data.draw(st.sampled_from([value for value, _ in field.choices]))
        elif field.kind == "tick":
            texts[name] = data.draw(st.sampled_from(["yes", "no"]))
        elif data.draw(st.integers(0, 5)) == 0:
            texts[name] = data.draw(TEXTS)
    try:
        job = answer(**texts)
    except FormError:
        return
    text = f"{job}{job.odds}{job.working}{job._repr_html_()}"
    assert "nan" not in text.lower().replace("nanny", "")
