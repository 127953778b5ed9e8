"""What the page of the frost standard asks and answers, without a screen."""

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coolcalc.errors import FormError, InputError
from coolcalc.jobs.frost_answer import FrostStandard
from coolcalc.jobs.frost_plan import SWITCHES
from coolcalc.jobs.standards_compared import StandardsCompared
from coolcalc.panels import table
from coolcalc.panels.fields import TOOLS
from coolcalc.panels.frost import ask, figures_of, frost_form, frost_panel, make_words, sheets_of
from coolcalc.panels.frost_depots import NIGHT_COLUMNS, open_depots, open_nights, stations_of
from coolcalc.panels.frost_form import ALL, COUNTS, FORM, ONE, TOOL_ERRORS

from . import published
from .asked_page import AskedPage

DEPOTS, WINTERS = published.DATA / "demo_depots.csv", published.DATA / "demo_winters.csv"
ROWS = list(csv.DictReader(io.StringIO(DEPOTS.read_text(encoding="utf-8"))))
DEMO = frost_form(DEPOTS, WINTERS, opens_on="Tamberlode")
SYSTEMS = ("metric", "US", "imperial")

PAGE = AskedPage(lambda values: ask(values, DEMO), DEMO)
answer, refused, asked = PAGE.answer, PAGE.refused, PAGE.asked
in_system = PAGE.in_system
EMPTY = AskedPage(ask, FORM)


def panel_on(depot="Tamberlode"):
    return frost_panel(DEPOTS, WINTERS, opens_on=depot)


# --- the first task -------------------------------------------------------------------------------


def test_it_opens_on_a_depot_and_answers():
    job = answer()
    assert isinstance(job, FrostStandard)
    assert (job.depot, job.decides, job.site.kind) == ("Tamberlode", "frost", "town")
    assert (job.site.station_m, job.site.depot_m) == (118.0, 112.0)
    assert job.winter_low.fitted.minima.station == "Tamberlode Field"


def test_without_tables_it_answers_for_a_given_low():
    job = EMPTY.answer()
    assert job.winter_low.basis == "given" and job.decides == "frost"


@pytest.mark.parametrize("system", SYSTEMS)
def test_it_draws_and_prints_in_every_unit_system(system):
    texts = in_system(system)
    job = answer(**texts)
    assert [figure.count("<svg") for figure in figures_of(job)] == [1, 1, 1, 1]
    assert make_words(job) == "Make the sheet"
    made = sheets_of(job, DEMO.defaults() | texts | {"by": "A. Pindrel"})
    assert made["frost-standard.pdf"][2]().startswith(b"%PDF")
    assert b"A. Pindrel" in made["frost-standard.html"][2]()


@pytest.mark.parametrize("system", SYSTEMS)
def test_nights_are_entered_row_by_row(system):
    rows = [{"station [°C]": str(-10 - at), "yard [°C]": str(-12 - 2 * at)} for at in range(5)]
    nights = table.text_of(["station [°C]", "yard [°C]"], [*rows, {"station [°C]": ""}])
    unit = FORM.systems[system]["temperature"]
    text = table.in_units(nights, NIGHT_COLUMNS, FORM.systems[system])
    assert f"yard [{unit}]" in text
    job = answer(**in_system(system) | {"compared": "yes", "nights": text})
    assert job.site.colder_k == pytest.approx(4.0, abs=0.02)
    assert job.site.nights == 5


def test_a_bad_night_is_refused_in_its_field():
    nights = "station [°C],yard [°C]\n-10,-12\n" + 3 * "-9,-11\n" + "-9,x\n"
    (error,) = refused(compared="yes", nights=nights)
    assert error.startswith("Nights: night 5: ")
    assert open_nights(b"Yard [F];Station [F]\n1;2\n").startswith("station [F],yard [F]\n2,1")
    with pytest.raises(InputError, match="a row a night"):
        open_nights(b"a,b\n1,2\n")


def test_a_given_low_says_its_own_period_or_none():
    given = {"low_from": "given"}
    assert answer(**given).winter_low.years is None
    assert answer(**given, low_period="50").winter_low.years == 50.0
    assert "return_period" not in asked(**given) and "return_period" in asked(task="all")


def test_a_given_low_has_no_winters_to_draw():
    assert len(list(figures_of(answer(low_from="given")))) == 2


def test_the_same_in_every_unit():
    fills = [answer(**in_system(system)).standard.fill for system in SYSTEMS]
    assert fills[1:] == pytest.approx([fills[0]] * 2, abs=1e-9)  # whole per cent of product
    lows = [answer(low_from="given", **in_system(system)) for system in SYSTEMS]
    assert [job.winter_low.low_k for job in lows] == pytest.approx([246.15] * 3, abs=0.03)


def test_units_there_and_back_change_nothing():
    panel = panel_on("Orlasker")
    for task in (ONE, ALL):
        panel.set(task=task)
        typed, steps = dict(panel.values), panel.answer.steps
        for system in (*SYSTEMS[1:], SYSTEMS[0]):
            panel.set(units=system)
        assert panel.values == typed
        assert panel.answer.steps == steps


@pytest.mark.parametrize(
    ("depot", "decides"),
    [("Selquay", "floor"), ("Tamberlode", "frost"), ("Vorrahult", "ceiling")],
)
def test_a_depot_of_the_table_fills_the_fields(depot, decides):
    panel = panel_on("Grelstane")
    panel.set(from_table=depot)
    (row,) = (row for row in ROWS if row["depot"] == depot)
    assert panel.answer.depot == depot and panel.answer.decides == decides
    assert panel.answer.winter_low.fitted.minima.station == row["station"]
    assert panel.answer.site.depot_m == float(row["depot height [m]"])


def test_a_depot_is_filled_in_with_units_that_are_not_shown():
    """118 m are 387.14 ft; the table follows the switch, and a cell keeps a unit of its own."""
    panel = panel_on()
    panel.set(units="US", from_table="Orlasker")
    assert panel.answer.site.station_m == pytest.approx(190.0, abs=0.02)
    assert panel.answer.stops[0][0] == "Hask Saddle"
    assert float(panel.values["stop_low"].replace("−", "-")) == pytest.approx(-27.4)  # −33 °C
    panel.set(from_table="Tamberlode")
    assert float(panel.values["station_height"]) == pytest.approx(387.14, abs=0.01)
    assert panel.values["stop"] == "" and panel.answer.stops == ()


def test_a_hollow_takes_a_measured_difference():
    told = refused(site="hollow or valley floor")
    assert told[0].startswith("Yard colder than the station, as measured: nothing was entered")
    panel = panel_on("Nethimple")
    assert panel.answer.site.colder_k == 3.0
    assert panel.answer.site.half_width_k == 1.5


def test_two_night_stops_count_the_colder():
    job = answer(stop="Hask Saddle", stop_low="-33", stop_2="Fen Gate", stop_2_low="-36")
    assert [stop.name for stop in job.stops] == ["Hask Saddle", "Fen Gate"]
    assert "−36.0 °C at Fen Gate" in job.notes[0]
    (told,) = refused(stop="Hask", stop_low="-33", stop_2="Hask", stop_2_low="-36")
    assert told.startswith("Another night stop: Hask stands twice")


def test_what_is_taken_off_is_not_counted():
    ticks = dict.fromkeys(COUNTS.values(), "yes")
    for switch in SWITCHES:
        job = answer(count_all="no", **ticks | {COUNTS[switch]: "no"})
        assert job.needs.without == {switch}
    assert answer(count_all="yes", **ticks | {COUNTS["margin"]: "no"}).needs.without == set()
    bare = answer(count_all="no", **dict.fromkeys(ticks, "no"))
    assert sum(part.takes_k for part in bare.margins) == 0.0


@pytest.mark.parametrize("tool", TOOLS)
@pytest.mark.parametrize("glycol", ["ethylene", "propylene"])
def test_each_instrument_has_limits(tool, glycol):
    product = f"{glycol} glycol concentrate"
    job = answer(tool=tool, product=product, **{TOOL_ERRORS[tool]: "0.001"})
    kind, scale = TOOLS[tool]
    assert (type(job.tool).__name__.casefold(), job.tool.scale) == (kind, scale)
    assert job.tool.error_si == pytest.approx(0.001)
    assert job.product.name == product


def test_what_is_not_needed_is_not_asked():
    assert {"record", "station", "colder_than_station", "stop"} <= asked()
    assert not asked() & {"colder_error", "stop_low", "stop_2", "low", "depots", "fit"}
    assert {"colder_error", "stop_2", "fit"} <= asked(
        colder_than_station="3", stop="Hask", usual_fit="no"
    )
    assert not asked(low_from="given") & {"record", "station", "usual_fit", "mean_extreme"}
    assert not asked(hottest="") & {"cap"}
    assert not asked(task=ALL) & {"depot", "station", "site", "stop", "low_from", "test_every"}
    assert {"depots", "record", "margin", "price"} <= asked(task=ALL, low_from="given")


# --- the record -----------------------------------------------------------------------------------


def test_a_file_that_is_opened_brings_its_stations():
    panel = panel_on()
    rows = [line.split(",") for line in WINTERS.read_text(encoding="utf-8").splitlines()]
    text = "\n".join(";".join((row[0], row[6])) for row in rows).replace("Vorrahult", "Far Gate")
    control = panel._controls["record"]
    control._opened({"new": ({"name": "<far>.csv", "content": text.encode()},)})
    assert panel.values["station"] == "Far Gate"
    assert panel.answer.winter_low.fitted.minima.station == "Far Gate"
    assert "&lt;far&gt;.csv" in control._told.value
    control._opened({"new": ({"name": "no.csv", "content": b"\xff\xfe"},)})
    assert "role='alert'" in control._told.value and "no text in UTF-8" in control._told.value
    control._opened({"new": ({"name": "no.csv", "content": b"colour\nred\n"},)})
    assert "aria-disabled='true'" in panel._steps.value
    assert panel._card_button.disabled


def test_stations_are_told_by_the_header():
    assert len(stations_of(DEMO.defaults()["record"])) == 6
    assert stations_of("date;Fen [°C];Fen [°F]\n") == ("Fen",)
    assert stations_of("") == ()


# --- the second task ------------------------------------------------------------------------------


def test_all_depots_are_compared_with_the_margins_of_the_page():
    job = answer(task=ALL, margin="5", price="3.2")
    assert isinstance(job, StandardsCompared)
    assert [depot.standard.depot for depot in job.depots] == [row["depot"] for row in ROWS]
    assert {depot.standard.needs.margin_k for depot in job.depots} == {5.0}
    assert sum(depot.coolant_m3 for depot in job.depots) == pytest.approx(72.7)
    assert job.price == 3.2
    (shown,) = figures_of(job)
    assert "Depot by depot" in shown and "<svg" not in shown


def test_a_depot_alone_is_as_in_the_table():
    each = {depot.standard.depot: depot.standard for depot in answer(task=ALL).depots}
    panel = panel_on()
    for name, standard in each.items():
        panel.set(from_table=name)
        assert panel.answer.standard.fill == standard.standard.fill


def test_the_sheets_of_all_depots():
    values = DEMO.defaults() | {"units": "US"}
    job = answer(task=ALL, **in_system("US"))
    made = sheets_of(job, values)
    assert make_words(job) == "Make the sheets"
    assert made["depots.csv"][2]().decode().startswith("depot,")
    assert made["frost-standard-6.pdf"][0] == "Sheet of Vorrahult (PDF)"
    assert made["frost-standard-6.pdf"][2]().startswith(b"%PDF")


def test_every_bad_cell_is_told_with_its_row():
    text = DEMO.defaults()["depots"]
    text = (
        text.replace(",17700", ",much").replace("Orlasker Mill", "Far Gate").replace(",262", ",up")
    )
    told = refused(task=ALL, depots=text, margin="x")
    assert [each.partition(":")[0] for each in told] == [
        "Margin below the coldest air",
        *3 * ["Depots"],
    ]
    assert "row 1 (Selquay), coolant in all: " in told[1]
    assert "row 3 (Nethimple), depot height: " in told[2]
    assert "row 4 (Orlasker), station: Far Gate: the table has the columns" in told[3]


def test_what_all_depots_share_is_told_once():
    assert len(refused(task=ALL, margin="50")) == 1
    told = refused(task=ALL, depots=table.text_of(["depot", "station", "coolant in all [L]"], []))
    assert told == ["Depots: fewer than two depots are listed; add the others."]


def test_a_table_of_depots_is_opened_or_refused():
    text = open_depots(b"station,depot,Coolant in all [US gal],colour\nFen,Yard,100,red\n")
    assert table.rows_of(text)[0]["coolant in all [US gal]"] == "100"
    assert "colour" not in text
    for content in (b"depot,station\na,b\n", b"depot\n", b""):
        with pytest.raises(InputError):
            open_depots(content)


def test_rows_are_added_and_depots_can_then_be_chosen():
    panel = panel_on()
    panel.set(task=ALL)
    control = panel._controls["depots"]
    control._add()
    assert "row 7, depot: " in panel._alert.value
    _, cells = control._shown[-1]
    cells["depot"].value, cells["station"].value = "Upper <yard>", "Vorrahult"
    cells["coolant in all [L]"].value = "900"
    assert len(panel.answer.depots) == 7
    assert "Upper &lt;yard&gt;" in panel._steps.value + panel._drawing.value
    panel.set(task=ONE, from_table="Upper <yard>")
    assert panel.answer.depot == "Upper <yard>"
    assert "<yard>" not in panel._steps.value + panel._folded.value


# --- refusals -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("texts", "says"),
    [
        ({"depot": " "}, "Name on the sheet: nothing was entered"),
        ({"station_height": "9000"}, "Height of the weather station: 9000 m is above 6000 m"),
        ({"depot_height": "x"}, 'Height of the depot: "x"'),
        ({"colder_than_station": "40"}, "Yard colder than the station, as measured: "),
        ({"colder_than_station": "3", "colder_error": "x"}, "That difference, give or take: "),
        ({"stop": "Hask"}, "Low at the night stop: nothing was entered"),
        ({"stop": "Hask", "stop_low": "33"}, "Low at the night stop: 33.0 °C is outside"),
        ({"low_from": "given", "low": "27"}, "Low: 27.0 °C is outside"),
        ({"low_from": "given", "low_error": "x"}, 'Low, give or take: "x"'),
        ({"low_from": "given", "low_basis": 200 * "x"}, "What it rests on: write one line"),
        ({"low_from": "mean and standard deviation", "sd_extreme": "30"}, "Their standard dev"),
        ({"low_from": "mean and standard deviation", "mean_extreme": ""}, "Mean of the coldest"),
        ({"record": ""}, "Daily minima: no file was opened"),
        ({"record": "colour,Fen [°C]\nred,1\n", "station": "Fen"}, "Daily minima: there is no col"),
        ({"return_period": "1"}, "Passed once in so many winters: once in 1 winters is outside"),
        ({"usual_fit": "no", "fit": "GEV", "station": "Grelstane Hut"}, "Fit: 12 winters"),
        ({"margin": "30"}, "Margin below the coldest air: "),
        ({"mixing_error": "20 %"}, "Mixing and measuring out, give or take: "),
        ({"tool_error_0": "50"}, "Instrument, give or take: "),
        ({"confidence": "99 %"}, "How sure, all doubts together: 0.99 is above 0.98"),
        ({"lost_between_tests": "50 %"}, "Made up with water between two tests: "),
        ({"floor": "60", "ceiling": "40"}, "Floor: the floor (60 % of product) is not weaker"),
        ({"ceiling": "95"}, "Ceiling: 95 % of product is not above 0"),
        ({"test_every": 200 * "x"}, "Test: write one line"),
        ({"today": "x"}, 'Today: "x"'),
        ({"hottest": "x"}, 'Hottest coolant: "x"'),
        ({"cap": "0"}, "Marked on the cap: "),
    ],
    ids=str,
)
def test_refusals_carry_the_name_of_the_field_on_the_page(texts, says):
    PAGE.told_under_labels(says, **texts)


SLIPS = (
    *("station_height", "depot_height", "colder_than_station", "return_period", "margin"),
    *("mixing_error", "tool_error_0", "confidence", "lost_between_tests", "floor", "ceiling"),
    *("today", "hottest"),
)


def test_all_slips_of_a_page_are_told_at_once():
    told = refused(depot="", **dict.fromkeys(SLIPS, "so"))
    assert {each.partition(": ")[0] for each in told} == {
        DEMO.fields[name].label for name in ("depot", *SLIPS)
    }


TEXTS = st.one_of(
    st.sampled_from(["", "0", "-1", "1e9", "nan", "12,5", "-16", "-34 F", "50 %", "1.05", "°"]),
    st.text(max_size=12),
)


@settings(max_examples=120, deadline=None)
@given(st.data())
def test_whatever_is_typed_it_answers_or_refuses(data):
    texts = {}
    values = DEMO.defaults()
    for name, field in DEMO.fields.items():
        if field.kind == "choice":
            choices = [value for value, _ in DEMO.choices(field, values)]
            texts[name] = data.draw(st.sampled_from(choices))
        elif field.kind == "tick":
            texts[name] = data.draw(st.sampled_from(["yes", "no"]))
        elif field.kind not in ("table", "file") and data.draw(st.integers(0, 5)) == 0:
            texts[name] = data.draw(TEXTS)
    try:
        job = answer(**texts)
    except FormError:
        return
    text = f"{job}{job.odds}{job.working}{job._repr_html_()}"
    assert "nan" not in text.lower() and "inf " not in text.lower()
