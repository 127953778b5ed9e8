"""What the page of capacity, growth and boiling asks and answers, without a screen."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coolcalc.errors import FormError
from coolcalc.jobs import BoilMargin, Expansion, FilledCapacity, PartsCapacity, SwapCapacity
from coolcalc.jobs.parts_table import EXAMPLE_PARTS, parts_csv, read_parts
from coolcalc.panels import table
from coolcalc.panels.holding import ask, cards_of, figure_of, holding_panel
from coolcalc.panels.holding_form import AFTER, FORM, TASKS

from .asked_page import AskedPage

SYSTEMS = ("metric", "US", "imperial")
ANSWERS = {
    "growth": Expansion,
    "boiling": BoilMargin,
    "fill": FilledCapacity,
    "parts": PartsCapacity,
    "swap": SwapCapacity,
}


PAGE = AskedPage(ask, FORM)
answer, refused, asked = PAGE.answer, PAGE.refused, PAGE.asked
in_system = PAGE.in_system


@pytest.mark.parametrize("task", [task for task, _ in TASKS])
@pytest.mark.parametrize("system", SYSTEMS)
def test_each_task_answers_draws_and_prints(task, system):
    job = answer(task=task, **in_system(system))
    assert type(job) is ANSWERS[task]
    assert job.steps and job.cautions
    svg = figure_of(job)
    assert (svg is not None) == (task in ("growth", "boiling"))
    assert svg is None or "<svg" in svg
    made = cards_of(job, FORM.defaults() | {"vehicle": "Pusher 2"})
    assert ("parts.csv" in made) == (task == "parts")
    assert b"Pusher 2" in made["job-card.html"][2]()
    assert made["job-card.pdf"][2]().startswith(b"%PDF")


def test_the_same_in_every_unit():
    for task, figure in (
        ("growth", lambda job: job.rise.value),
        ("boiling", lambda job: job.held_k.value),
        ("fill", lambda job: job.known.value),
        ("parts", lambda job: job.sum_m3),
        ("swap", lambda job: job.known.value),
    ):
        metric, us = (figure(answer(task=task, **in_system(each))) for each in SYSTEMS[:2])
        assert us == pytest.approx(metric, rel=1e-3)  # five digits are shown


def test_units_there_and_back_change_nothing():
    panel = holding_panel()
    for task, _ in TASKS:
        panel.set(task=task)
        typed, steps = dict(panel.values), panel.answer.steps
        for system in (*SYSTEMS[1:], SYSTEMS[0]):
            panel.set(units=system)
        assert panel.values == typed
        assert panel.answer.steps == steps


def test_what_is_not_needed_is_not_asked():
    assert {"room", "cap", "gas", "coldest"} <= asked()
    assert "gas" not in asked(tank="overflow bottle")
    assert "cap" not in asked(cap_fitted="no cap")
    assert not asked(inside="plain water") & {"tool", "reading"}
    assert "tool" in asked(task="swap", inside="plain water")
    assert asked(task="fill") & {"capacity", "reading", "cap"} == set()
    assert asked(task="parts") == {"task", "parts", "vehicle", "by", "paper"}


@pytest.mark.parametrize("tool", AFTER)
def test_each_instrument_reads_a_swap(tool):
    job = answer(task="swap", tool=tool)
    assert job.after.frac_mass < job.before.frac_mass
    assert job.same_instrument == (tool not in ("strength",))


def test_plain_water_and_no_cap():
    assert answer(inside="plain water", coldest="").before.frac_mass == 0.0
    assert answer(task="boiling", inside="plain water", cap_fitted="no cap").cap_pa is None


def test_the_table_of_parts_is_the_example():
    rows = table.rows_of(FORM.defaults()["parts"])
    (good, bad), (example, _) = read_parts(rows), read_parts(EXAMPLE_PARTS)
    assert bad == ()
    assert [part.volume_m3 for part in good] == pytest.approx([part.volume_m3 for part in example])


def test_the_table_in_other_units():
    """38 mm are 1.496 in, 0.9 m are 2.953 ft, 0.9 L are 0.951 US qt."""
    text = in_system("US")["parts"]
    assert table.headers_of(text)[2:4] == ["bore [in]", "width [in]"]
    hose, tank = table.rows_of(text)[3], table.rows_of(text)[2]
    assert float(hose["bore [in]"]) == pytest.approx(38 / 25.4, rel=1e-4)
    assert float(hose["length [ft]"]) == pytest.approx(0.9 / 0.3048, rel=1e-4)
    assert float(tank["volume [US qt]"]) == pytest.approx(0.9 / 0.946353, rel=1e-4)


def test_a_cell_keeps_the_unit_that_was_typed():
    typed = "part,kind,bore [mm],length [m]\na,hose,1.5 in,warm\n"
    field = FORM.fields["parts"]
    changed = FORM.converted(field, typed, "metric", "US")
    assert table.rows_of(changed) == [
        {"part": "a", "kind": "hose", "bore [in]": "1.5 in", "length [ft]": "warm"}
    ]


def test_rows_are_added_removed_and_opened():
    panel = holding_panel()
    panel.set(task="parts")
    control = panel._controls["parts"]
    before = panel.answer.sum_m3
    control._add()
    assert len(control._rows.children) == len(EXAMPLE_PARTS) + 1
    assert panel.answer.bad and "is not the capacity" in str(panel.answer)
    control._remove(len(EXAMPLE_PARTS) + 1)
    assert panel.answer.sum_m3 == pytest.approx(before)
    _, cells = control._shown[0]
    cells["volume [L]"].value = "5.6"
    assert panel.answer.sum_m3 == pytest.approx(before + 1e-3)
    content = parts_csv([{"part": "one hose", "kind": "hose", "bore": "32 mm", "length": "1.5 m"}])
    control._opened({"new": ({"name": "hose.csv", "content": content},)})
    assert panel.answer.sum_m3 == pytest.approx(1.2064e-3, rel=1e-4)
    assert "Opened hose.csv" in control._told.value
    control._opened({"new": ({"name": "no.csv", "content": b"colour\nred\n"},)})
    assert "there is no column" in control._told.value
    assert panel.answer.sum_m3 == pytest.approx(1.2064e-3, rel=1e-4)


@pytest.mark.parametrize(
    ("texts", "says"),
    [
        ({"capacity": "ten"}, 'Capacity: "ten" does not begin with a plain number'),
        ({"reading": "16"}, "Reading: 16 °C: coolant freezes below zero"),
        ({"cold": "60"}, "Coolant when it stood at the cold mark: 60 °C is not the temperature"),
        ({"hot": "5"}, "Hottest coolant: 5 °C is no hotter than the coolant at the cold mark"),
        ({"room": "12"}, "Room above the cold mark: 12.00 L is more than the system holds"),
        ({"below": "x"}, 'Below the cold mark: "x"'),
        ({"cap": "0"}, "Marked on the cap: a cap that holds nothing is as good as none"),
        ({"altitude": "9000"}, "Height above the sea: 9000 m is above 6000 m"),
        ({"gas": "150"}, "Gas above it when hot: 150 °C is not between"),
        ({"coldest": "-50"}, "Coldest start: −50 °C is colder than"),
        ({"task": "boiling", "top_tank": "95"}, "Outside air at that time: "),
        ({"task": "boiling", "hottest": "x"}, 'Hottest coolant: "x"'),
        ({"task": "fill", "poured": ""}, "Poured in, up to the cold mark: nothing was entered"),
        ({"task": "fill", "measures": "2.5"}, "In so many measures: 2.5 is no whole number"),
        ({"task": "fill", "measures": "0"}, "In so many measures: 0 is below 1"),
        ({"task": "fill", "jug_error": "50 %"}, "The can may be out by: 0.5 is above 0.2"),
        ({"task": "fill", "still_inside": "0"}, "Still inside, give or take: 0.30 L is more than"),
        ({"task": "parts", "parts": "part,kind\n"}, "Parts: the table is empty"),
        ({"task": "swap", "swapped": "0"}, "Taken out, and poured in: nothing was swapped"),
        ({"task": "swap", "reading_after": "-45"}, "Reading afterwards: the reading went from"),
        ({"task": "swap", "reading_after": "warm"}, 'Reading afterwards: "warm"'),
        ({"task": "swap", "wanted": "99 %"}, "Wanted, give or take: 0.99 is above 0.5"),
        ({"task": "swap", "temp": "70"}, "Temperature of the liquids: 70 °C is not"),
    ],
    ids=str,
)
def test_refusals_carry_the_name_of_the_field_on_the_page(texts, says):
    PAGE.told_under_labels(says, **texts)


SLIPS = {
    "growth": ("capacity", "reading", "room", "cap", "altitude", "cold", "hot", "coldest"),
    "boiling": ("capacity", "reading", "cap", "altitude", "hottest", "outside"),
    "fill": ("poured", "topped_up", "still_inside", "jug_error"),
    "swap": ("reading", "swapped", "reading_after", "wanted", "temp"),
}


@pytest.mark.parametrize("task", SLIPS)
def test_all_slips_of_a_page_are_told_at_once(task):
    told = refused(task=task, **dict.fromkeys(SLIPS[task], "so"))
    assert {each.partition(": ")[0] for each in told} == {
        FORM.fields[name].label for name in SLIPS[task]
    }


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
        elif field.kind != "table" and data.draw(st.integers(0, 5)) == 0:
            texts[name] = data.draw(TEXTS)
    try:
        job = answer(**texts)
    except FormError:
        return
    text = f"{job}{job.odds}{job.working}{job._repr_html_()}"
    assert "nan" not in text.lower()
