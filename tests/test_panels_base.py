"""A page is fields, a pure question and a view; a made-up question drives the three."""

from types import SimpleNamespace

import pytest

from coolcalc.errors import CoolcalcError, FormError, InputError
from coolcalc.panels.form import UNITS, Field, Form, Group
from coolcalc.panels.view import Panel

ORDER = (("first", "the first way"), ("second", "the second way"))
FORM = Form(
    groups=(
        Group(
            "The tank",
            (
                Field("tank", "Tank holds", "volume", "10", help="To the <mark>.", high=0.1),
                Field("order", "Way", "choice", "first", choices=ORDER),
                Field("coldest", "Coldest", "temperature", "-20", only_if=(("order", ("first",)),)),
            ),
        ),
        Group(
            "Beside it",
            (
                Field("spare", "Spare", "volume", "", optional=True),
                Field("note", "Note", "text", "none"),
            ),
        ),
    ),
    systems={
        "metric": {"volume": "L", "temperature": "°C"},
        "US": {"volume": "US gal", "temperature": "°F"},
    },
)


class Told:
    """Stands in for an answer: says back what was read."""

    def __init__(self, found):
        self.found = found

    @property
    def html_steps(self):
        return f"<ol><li>{self.found['tank']:.6f} m³</li></ol>"

    html_cautions = "<ul><li>Cold to the hand.</li></ul>"
    html_details = "<table></table>"
    html_working = "<p>Worked.</p>"
    html_odds = "<p>Sure.</p>"


def ask(values):
    found, errors = FORM.read_all(values)
    if errors:
        raise FormError(errors)
    if found["note"] == "full":
        raise InputError("tank", values["tank"], "is full.")
    if found["note"] == "odd":
        raise CoolcalcError("Nothing fits <here>.")
    if found["note"] == "defect":
        raise ZeroDivisionError
    return Told(found)


def values(**texts):
    return FORM.defaults() | texts


def read(**texts):
    found, errors = FORM.read_all(values(**texts))
    assert errors == []
    return found


def refused(**texts):
    return [str(error) for error in FORM.read_all(values(**texts))[1]]


def test_defaults_read():
    found = read()
    assert found["tank"] == pytest.approx(0.010)
    assert found["coldest"] == pytest.approx(253.15)
    assert found["order"] == "first"
    assert found["spare"] is None
    assert found["note"] == "none"


def test_a_bare_number_takes_the_unit_shown():
    found = read(**{UNITS: "US", "tank": "1", "coldest": "-40"})
    assert found["tank"] == pytest.approx(3.785411784e-3)  # 231 cubic inches, by definition
    assert found["coldest"] == pytest.approx(233.15)


def test_all_errors_at_once_in_the_order_of_the_form():
    found, errors = FORM.read_all(values(tank="much", coldest="cold", spare="some"))
    assert [error.field for error in errors] == ["Tank holds", "Coldest", "Spare"]
    assert found["tank"] is None
    assert found["order"] == "first"


def test_a_field_that_is_not_asked_is_not_read():
    assert read(order="second", coldest="cold")["coldest"] is None


def test_a_limit_is_told_in_the_unit_shown():
    (told,) = refused(tank="101")
    assert told.startswith("Tank holds: 101 L is above 100 L")


def test_an_unknown_choice_is_refused():
    assert refused(order="third") == ["Way: 'third' is not one of: first, second."]


@pytest.mark.parametrize("text", ["much", "", "10 L", "0"])
def test_text_that_a_unit_switch_leaves(text):
    assert FORM.converted(FORM.fields["tank"], text, "metric", "US") == text


def test_a_unit_switch_converts_a_bare_number():
    assert FORM.converted(FORM.fields["coldest"], "-20", "metric", "US") in ("-4", "−4")
    shown = FORM.converted(FORM.fields["tank"], "10", "metric", "US")
    assert float(shown) == pytest.approx(2.6417, rel=5e-4)  # 10 L / 3.785411784 L


@pytest.fixture
def drawn():
    return []


@pytest.fixture
def panel(drawn):
    def figure(answer):
        drawn.append(answer)
        return f"<svg><title>{answer.found['tank']}</title></svg>"

    return Panel(FORM, ask, figure)


def shown(panel):
    """Return the text of each part of the page by its class."""
    parts = {}

    def walk(widget):
        for name in widget._dom_classes:
            parts[name] = widget
        for child in getattr(widget, "children", ()):
            walk(child)

    walk(panel.widget)
    return SimpleNamespace(
        steps=parts["coolcalc-answer"],
        alert=parts["coolcalc-alert"],
        figure=parts["coolcalc-figure"],
        folded=parts["coolcalc-folded"],
        cautions=parts["coolcalc-cautions"],
        tank=parts["field-tank"],
        coldest=parts["field-coldest"],
        note=parts["field-note"],
    )


def field_error(row):
    return row.children[-1].value


def test_it_answers_without_a_click(panel, drawn):
    page = shown(panel)
    assert "0.010000 m³" in page.steps.value
    assert "role='status'" in page.steps.value
    assert "Cold to the hand." in page.cautions.value
    assert "<svg>" in page.figure.value
    assert "Worked." in page.folded.value
    assert page.alert.layout.display == "none"
    assert drawn == [panel.answer]


def test_labels_name_the_unit_and_help_is_escaped(panel):
    page = shown(panel)
    control = page.tank.children[0].children[0]
    assert control.description == "Tank holds, L"
    assert control.tooltip
    assert not control.continuous_update
    assert page.tank.children[1].value == "To the &lt;mark&gt;."


def test_another_figure_gives_another_answer(panel, drawn):
    panel.set(tank="12,5")
    assert "0.012500 m³" in shown(panel).steps.value
    assert len(drawn) == 2


def test_refusals_are_told_at_the_field_and_together(panel, drawn):
    panel.set(tank="<b>", coldest="cold")
    page = shown(panel)
    assert "role='alert'" in page.alert.value
    assert page.alert.value.count("<li>") == 2
    assert "<b>" not in page.alert.value
    assert "&lt;b&gt;" in field_error(page.tank)
    assert field_error(page.coldest).startswith("<p>Coldest: ")
    assert field_error(page.note) == ""


def test_a_refusal_greys_the_last_answer_and_the_next_answer_clears_it(panel, drawn):
    panel.set(tank="much")
    page = shown(panel)
    assert "The answer below belongs to the earlier figures" in page.alert.value
    assert "aria-disabled='true'" in page.steps.value
    assert "0.010000 m³" in page.steps.value
    assert "coolcalc-old" in page.figure._dom_classes
    assert "coolcalc-old" in page.folded._dom_classes
    assert "coolcalc-old" not in page.cautions._dom_classes
    assert len(drawn) == 1
    panel.set(tank="11")
    assert "aria-disabled" not in page.steps.value
    assert "coolcalc-old" not in page.figure._dom_classes
    assert page.alert.value == field_error(page.tank) == ""


def test_a_refusal_by_the_job_is_told_at_the_field_it_names(panel):
    panel.set(note="full")
    assert field_error(shown(panel).tank) == "<p>Tank holds: is full.</p>"
    panel.set(note="odd")
    page = shown(panel)
    assert "Nothing fits &lt;here&gt;." in page.alert.value
    assert field_error(page.tank) == ""


def test_a_defect_is_not_shown_as_advice(panel):
    with pytest.raises(ZeroDivisionError):
        panel.set(note="defect")


def test_a_refused_start_shows_no_answer():
    def refuse(values):
        raise CoolcalcError("Not yet.")

    page = shown(Panel(FORM, refuse, lambda answer: ""))
    assert "There is no answer yet." in page.alert.value
    assert page.steps.value == ""


def test_unit_switch_there_and_back_changes_nothing(panel):
    start = dict(panel.values)
    panel.set(coldest="-21.37", tank="9.973")
    typed = dict(panel.values)
    for _ in range(5):
        panel.set(units="US")
        assert panel.values["tank"] != typed["tank"]
        panel.set(units="metric")
    assert panel.values == typed != start


def test_unit_switch_keeps_what_was_asked(panel):
    before = panel.answer.found
    panel.set(units="US")
    assert panel.answer.found["tank"] == pytest.approx(before["tank"], rel=5e-4)
    assert panel.answer.found["coldest"] == pytest.approx(before["coldest"])
    assert shown(panel).tank.children[0].children[0].description == "Tank holds, US gal"


def test_a_field_that_is_not_asked_is_not_shown(panel):
    panel.set(order="second")
    assert shown(panel).coldest.layout.display == "none"
    panel.set(order="first")
    assert shown(panel).coldest.layout.display is None


def test_a_bare_number_is_converted_even_where_the_other_unit_would_refuse_it():
    """3 °F is a freezing point, 3 °C is not: the switch must not turn one into the other."""
    systems = {"metric": {"freezing point": "°C"}, "US": {"freezing point": "°F"}}
    field = Field("reading", "Reading", "freezing point", "-16")
    form = Form(groups=(Group("All", (field,)),), systems=systems)
    assert float(form.converted(field, "3", "US", "metric").replace("−", "-")) == pytest.approx(
        (3 - 32) / 1.8, abs=1e-3
    )
    assert form.converted(field, "−16 °C", "metric", "US") == "−16 °C"


def test_water_only_over_a_strength_takes_the_glycol_of_the_page():
    from coolcalc.panels.workshop import FORM as PAGE
    from coolcalc.panels.workshop import ask as ask_page

    values = PAGE.defaults() | {"tool": "strength", "found": "65"}
    values |= {"shelf": "water only", "target_as": "strength", "target": "50"}
    assert ask_page(values).drain.m_as("L") == pytest.approx(2.1, abs=0.3)
