"""The page of the frost standard, walked from the first field to the sheet that is saved."""

import re

import pytest
from playwright.sync_api import expect

from coolcalc.panels.frost_form import COUNTS

from .walking import (
    ANSWER,
    CONTROLS,
    FIGURE,
    LINKS,
    STEPS,
    TOUCH_PX,
    WIDTHS,
    choose,
    flat,
    pdf_text,
    saved,
    tick,
    type_in,
)

pytestmark = pytest.mark.browser

ALL = "all depots: one for all, or one each"
FIGURES = 4


@pytest.fixture
def frost(page, frost_address):
    page.goto(frost_address)
    expect(page.locator(STEPS)).to_be_visible()
    expect(page.locator(FIGURE)).to_have_count(FIGURES)
    return page


def sheets(page, words, count):
    page.get_by_role("button", name=words, exact=True).click()
    expect(page.locator(LINKS)).to_have_count(count)


def test_it_opens_on_a_depot_and_answers(frost, shoot, assert_accessible):
    assert frost.title().startswith("Frost standard")
    expect(frost.locator(ANSWER)).to_contain_text("The frost decides")
    expect(frost.locator(FIGURE).first).to_contain_text("the frost decides")
    expect(frost.get_by_label("Name on the sheet")).to_have_value("Tamberlode")
    expect(frost.locator(".coolcalc-alert")).to_be_hidden()
    assert_accessible(frost)
    shoot(frost, "frost_opens")


def test_floor_frost_and_ceiling_and_the_sheet(frost, tmp_path, shoot):
    answer = frost.locator(ANSWER)
    choose(frost, "from_table", "Selquay")
    expect(answer).to_contain_text("The floor for the inhibitors decides")
    choose(frost, "from_table", "Vorrahult")
    expect(answer).to_contain_text("The ceiling decides")
    expect(answer).to_contain_text("no strength up to the ceiling meets this frost")
    type_in(frost, "by", "M. Osk")
    sheets(frost, "Make the sheet", 2)
    shoot(frost, "frost_ceiling")
    sheet = pdf_text(frost, "Save the sheet (PDF)", tmp_path)
    assert "Vorrahult" in sheet and "M. Osk" in sheet and "58 %" in sheet
    path = saved(frost, "Save the sheet (HTML)", tmp_path)
    assert "Vorrahult" in path.read_text(encoding="utf-8")


def test_a_refusal_greys_the_answer_and_nothing_is_printed(frost, shoot, assert_accessible):
    type_in(frost, "margin", "three")
    type_in(frost, "floor", "95")
    alert = frost.get_by_role("alert")
    expect(alert).to_contain_text("Margin below the coldest air")
    expect(alert).to_contain_text("Floor: 95 % of product")
    expect(frost.get_by_role("button", name="Make the sheet", exact=True)).to_be_disabled()
    expect(frost.locator(f"{ANSWER} [aria-disabled=true]")).to_contain_text("Fill to 51 %")
    expect(frost.locator(".coolcalc-figure")).to_have_class(re.compile("coolcalc-old"))
    assert_accessible(frost)
    shoot(frost, "frost_refused")
    type_in(frost, "floor", "40")
    type_in(frost, "margin", "3")
    expect(frost.locator(".coolcalc-alert")).to_be_hidden()
    expect(frost.get_by_role("button", name="Make the sheet", exact=True)).to_be_enabled()


def test_a_hollow_and_night_stops(frost):
    choose(frost, "site", "in a hollow, or on a valley floor")
    expect(frost.get_by_role("alert")).to_contain_text("Hang a thermometer")
    type_in(frost, "colder_than_station", "4")
    type_in(frost, "colder_error", "1")
    expect(frost.locator(".coolcalc-alert")).to_be_hidden()
    type_in(frost, "stop", "<b>Hask</b> Saddle")
    type_in(frost, "stop_low", "-38")
    expect(frost.locator(ANSWER)).to_contain_text("−38.0 °C at <b>Hask</b> Saddle")
    expect(frost.locator(".field-stop_2")).to_be_visible()


def test_what_is_counted_and_a_given_low(frost):
    margin = COUNTS["margin"]
    expect(frost.locator(f".field-{margin}")).to_be_hidden()
    tick(frost, "count_all")
    expect(frost.locator(f".field-{margin}")).to_be_visible()
    tick(frost, margin)
    expect(frost.locator(ANSWER)).to_contain_text("asks for a freezing point of −34.")
    choose(frost, "low_from", "a low that somebody gives")
    expect(frost.locator(FIGURE)).to_have_count(2)
    expect(frost.locator(".field-record")).to_be_hidden()
    choose(frost, "units", "US")
    expect(frost.get_by_label("Low, °F", exact=True)).to_have_value("−16.6")
    expect(frost.locator(ANSWER)).to_contain_text("°F")


def test_a_record_of_ones_own(frost, tmp_path, workplace):
    lines = (workplace / "data/demo_winters.csv").read_text(encoding="utf-8").splitlines()
    own = tmp_path / "own.csv"
    own.write_text("\n".join(",".join(line.split(",")[:2]) for line in lines), encoding="utf-8")
    with frost.expect_file_chooser() as chooser:
        frost.get_by_role("button", name="Open other daily minima").click()
    chooser.value.set_files(own)
    expect(frost.locator(".field-record")).to_contain_text("own.csv")
    expect(frost.get_by_label("Station", exact=True)).to_have_value("Selquay Mole")
    expect(frost.locator(ANSWER)).to_contain_text("The floor for the inhibitors decides")


def test_all_depots_compared(frost, tmp_path, shoot, assert_accessible):
    choose(frost, "task", ALL)
    answer = frost.locator(ANSWER)
    expect(answer).to_contain_text("One for all: fill every depot to 58 %")
    expect(frost.locator(FIGURE)).to_have_count(0)
    expect(frost.locator(".coolcalc-figure")).to_contain_text("Depot by depot")
    type_in(frost, "price", "3.2")
    expect(answer).to_contain_text("at 3.20 a litre")
    assert_accessible(frost)
    shoot(frost, "frost_all")
    frost.get_by_label("1: coolant in all, L").fill("much")
    frost.keyboard.press("Tab")
    expect(frost.get_by_role("alert")).to_contain_text("row 1 (Selquay), coolant in all")
    frost.get_by_label("1: coolant in all, L").fill("17700")
    frost.keyboard.press("Tab")
    expect(frost.locator(".coolcalc-alert")).to_be_hidden()
    sheets(frost, "Make the sheets", 7)
    assert "Tamberlode" in pdf_text(frost, "Sheet of Tamberlode (PDF)", tmp_path)


def test_the_first_field_is_reached_and_changed_by_keyboard(frost):
    frost.locator(".field-return_period input").focus()
    frost.keyboard.press("ControlOrMeta+a")
    frost.keyboard.type("50")
    frost.keyboard.press("Enter")
    expect(frost.locator(ANSWER)).to_contain_text("Fill to 54 %")


@pytest.mark.parametrize(("width", "height"), WIDTHS)
def test_fits_the_screen(frost, width, height, shoot, assert_accessible):
    frost.set_viewport_size({"width": width, "height": height})
    root = "document.documentElement"
    for task in (None, ALL):
        if task:
            choose(frost, "task", task)
            expect(frost.locator(ANSWER)).to_contain_text("One for all")
        shoot(frost, f"frost_{'all' if task else 'one'}_{width}")
        assert frost.evaluate(f"{root}.scrollWidth <= {root}.clientWidth")
        touched = f"{CONTROLS}:not([type=checkbox], [type=file])"
        for control in frost.locator(f"{touched}, summary:visible, button:visible").all():
            box = control.bounding_box()
            assert box["height"] >= TOUCH_PX
            assert box["x"] >= 0 and box["x"] + box["width"] <= width
        assert_accessible(frost)


def test_no_step_on_the_page_is_a_permission(frost):
    """Whatever is asked, the cautions stand beside it and no text allows a hot cap."""
    expect(frost.locator(".coolcalc-cautions")).to_contain_text("cold to the hand")
    assert "safe to open" not in flat(frost.locator(".coolcalc").inner_text())
