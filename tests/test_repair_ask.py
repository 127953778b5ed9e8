"""What the page after a repair asks and answers, without a screen."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coolcalc.errors import FormError, InputError
from coolcalc.jobs import AfterTopups, Flush, Refill, WaterCheck
from coolcalc.jobs.refill_shares import OPENED_SHARES
from coolcalc.panels.repair import ask, cards_of, figure_of, repair_panel
from coolcalc.panels.repair_form import FLUSH_WITH, FORM, PARTS, TASKS
from coolcalc.product import GENERIC

from .asked_page import AskedPage

SYSTEMS = ("metric", "US", "imperial")
ANSWERS = {"refill": Refill, "flush": Flush, "top-ups": AfterTopups, "water": WaterCheck}


PAGE = AskedPage(ask, FORM)
answer, refused, asked = PAGE.answer, PAGE.refused, PAGE.asked
in_system = PAGE.in_system


def test_the_page_opens_on_a_refill():
    """12 L, of which 7.5 L caught and 0.3 L on the floor: 4.2 L are still inside."""
    job = answer()
    assert job.asked["opened"] == ("radiator", "lower hose")
    assert sum(volume.m_as("L") for volume in job.pour.values()) == pytest.approx(7.8, abs=0.101)


@pytest.mark.parametrize("task", [task for task, _ in TASKS])
@pytest.mark.parametrize("system", SYSTEMS)
def test_each_task_answers_draws_and_prints(task, system):
    job = answer(task=task, **in_system(system))
    assert type(job) is ANSWERS[task]
    assert job.steps and job.cautions
    svg = figure_of(job)
    assert (svg is None) == (task == "water")
    assert svg is None or "<svg" in svg
    made = cards_of(job, FORM.defaults() | {"vehicle": "Loader 2"})
    assert ("label.pdf" in made) == (task != "water")
    for name, (_, _, make) in made.items():
        if name == "label.pdf" and job.no_label:
            with pytest.raises(InputError, match="No label can promise"):
                make()
            continue
        assert make().startswith(b"%PDF" if name.endswith(".pdf") else b"<!DOCTYPE html>")
    assert b"Loader 2" in made["job-card.html"][2]()


def test_water_has_no_room_for_a_figure():
    panel = repair_panel()
    assert panel._drawing.layout.display is None
    panel.set(task="water")
    assert panel._drawing.layout.display == "none"
    panel.set(task="flush")
    assert panel._drawing.layout.display is None
    assert "<svg" in panel._drawing.value


def test_units_there_and_back_change_nothing():
    panel = repair_panel()
    for task, _ in TASKS:
        panel.set(task=task)
        typed, steps = dict(panel.values), panel.answer.steps
        for system in (*SYSTEMS[1:], SYSTEMS[0]):
            panel.set(units=system)
        assert panel.values == typed
        assert panel.answer.steps == steps


# --- what is asked --------------------------------------------------------------------------------


def test_shares_are_asked_of_opened_parts_where_nothing_was_caught():
    shares = {name for _, least, most in PARTS.values() for name in (least, most)}
    assert not asked() & shares
    wanted = {name for part in ("radiator", "heater") for name in PARTS[part][1:]}
    texts = {"caught": " ", "opened_heater": "yes", "opened_lower_hose": "no"}
    assert asked(**texts) & shares == wanted
    assert "caught_error" in asked()
    assert "caught_error" not in asked(**texts)


def test_a_share_starts_as_the_job_has_it():
    for part, (_, *ends) in PARTS.items():
        for name, share in zip(ends, OPENED_SHARES[part], strict=True):
            assert FORM.defaults()[name] == f"{100 * share:.0f} %"


def test_a_share_that_is_changed_changes_the_answer():
    guessed = answer(caught="")
    surer = answer(caught="", least_radiator="48 %", most_radiator="52 %")
    assert surer.half_width < guessed.half_width


def test_nothing_was_read_where_no_old_mix_is_left():
    for inside in ("plain water", "nothing"):
        assert not asked(inside=inside) & {"tool", "reading", "reading_error", "pour_back"}
        assert answer(inside=inside, reading="warm").steps
    assert {"tool", "reading", "pour_back"} <= asked(inside="nothing, mix back")
    assert answer(inside="nothing, mix back", pour_back="4").steps
    assert "tool" in asked(task="flush", inside="nothing")


def test_the_engine_alone_is_asked_of_a_dry_one():
    assert "engine_only" not in asked()
    assert answer(inside="nothing", engine_only="7").steps


def test_what_went_in_says_more():
    assert answer(went_in="6").steps != answer().steps or answer(went_in="6").notes


@pytest.mark.parametrize("name", FLUSH_WITH)
def test_each_flush_answers(name):
    job = answer(task="flush", flush_with=name)
    assert job.flush_with is GENERIC[FLUSH_WITH[name].format("ethylene glycol")]


def test_water_is_told_in_degrees_as_in_milligrams():
    """14 °dH are 250 mg/L of calcium carbonate: 17.85 mg/L a degree, by the molar masses."""
    one = answer(task="water", hardness="14", hardness_unit="°dH")
    assert one.told["hardness"] == pytest.approx(250, abs=1)


# --- refusals -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("texts", "says"),
    [
        ({"glycol": "mixed or not known"}, "Glycol: mixed or not known in the system"),
        ({"capacity": "ten"}, 'Capacity: "ten" does not begin with a plain number'),
        ({"caught": "13"}, "Caught in the pan: "),
        ({"caught": "much"}, 'Caught in the pan: "much"'),
        ({"caught_error": "some"}, 'Caught, give or take: "some"'),
        ({"spilled": "a lot"}, 'On the floor: "a lot"'),
        ({"caught": "", "opened_radiator": "no", "opened_lower_hose": "no"}, "Caught in the pan:"),
        ({"caught": "", "least_radiator": "70 %"}, "Radiator: comes out at least: 70 % to 60 %"),
        ({"caught": "", "most_radiator": "most"}, 'Radiator: comes out at most: "most"'),
        ({"pour_back": "9"}, "Clean caught mix to pour back: 9.00 L is more than was caught"),
        ({"bucket": "0.2"}, "Clean bucket holds: 0.20 L is less than"),
        ({"inside": "nothing", "engine_only": "13"}, "Engine alone holds, on a stand: 13.00 L"),
        ({"low": "11.5"}, "Missing below the cold mark: 11.50 L is more than nine tenths"),
        ({"reading": "16"}, "Reading: 16 °C: coolant freezes below zero"),
        ({"target_freezing": "-90"}, "Target freezing point: −90.0 °C is colder than"),
        ({"temp": "60"}, "Temperature of the liquids: 60 °C is not the temperature of a cold"),
        ({"went_in": "-1"}, "Went in, in fact: −1 L is below 0 L"),
        ({"task": "flush", "drainable": "0"}, "Comes out at the drain: nothing comes out"),
        ({"task": "flush", "drainable": ""}, "Comes out at the drain: "),
        ({"task": "flush", "drainable": "13"}, "Comes out at the drain: 13.00 L is more than"),
        ({"task": "flush", "may_stay": "0 %"}, "Old coolant that may stay: 0 % is no share"),
        ({"task": "flush", "shelf": "water only"}, "To pour: only water is listed"),
        ({"task": "top-ups", "topup_each": "0"}, "Each time: 0 L is no top-up"),
        ({"task": "top-ups", "hours": "0"}, "Engine hours over which: 0 h give no rate"),
        ({"task": "top-ups", "target_freezing": "3"}, "Target freezing point: "),
        ({"task": "water", "ph": "15"}, "pH: 15 is above 14"),
        ({"task": "water", "hardness": "", "chloride": "", "ph": ""}, "Hardness: no figure"),
    ],
    ids=str,
)
def test_refusals_carry_the_name_of_the_field_on_the_page(texts, says):
    PAGE.told_under_labels(says, **texts)


SLIPS = {
    "refill": ("capacity", "caught", "spilled", "reading", "bucket", "target_freezing", "temp"),
    "flush": ("capacity", "drainable", "low", "reading", "may_stay", "target_freezing", "temp"),
    "top-ups": ("capacity", "reading", "topup_each", "hours", "target_freezing", "temp"),
    "water": ("hardness", "chloride", "sulphate", "solids", "ph"),
}


@pytest.mark.parametrize("task", SLIPS)
def test_all_slips_of_a_page_are_told_at_once(task):
    told = refused(task=task, **dict.fromkeys(SLIPS[task], "so"))
    assert [each.partition(": ")[0] for each in told] == [
        field.label for name, field in FORM.fields.items() if name in SLIPS[task]
    ]


def test_a_refused_field_is_not_told_to_be_empty():
    told = refused(caught="much", opened_radiator="no", opened_lower_hose="no")
    assert len(told) == 1


def test_a_field_that_is_not_asked_disturbs_nothing():
    texts = {"drainable": "x", "topup_each": "x", "hardness": "x", "may_stay": "x"}
    assert answer(**texts).steps == answer().steps
    assert answer(task="water", capacity="x", reading="x", temp="x", caught="x").steps


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
    assert "nan" not in text.lower()
