"""The page after a repair, walked from the first field to the card and the label."""

import pytest
from playwright.sync_api import expect

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
    printed,
    tick,
    type_in,
)

pytestmark = pytest.mark.browser

FLUSH, TOPUPS, WATER = (
    "flush to a limit of old coolant",
    "say what top-ups have done",
    "check water for mixing",
)


@pytest.fixture
def repair(page, repair_address):
    page.goto(repair_address)
    expect(page.locator(STEPS)).to_be_visible()
    expect(page.locator(FIGURE)).to_be_visible()
    return page


def test_it_opens_on_a_refill_and_answers(repair, assert_accessible):
    assert repair.title().startswith("After a repair")
    assert repair.locator("h1").count() == 1
    expect(repair.locator(ANSWER)).to_contain_text("Still inside: about 4.20 L of old mix")
    assert repair.locator(STEPS).bounding_box()["y"] < 600  # seen without scrolling
    expect(repair.locator(".coolcalc-alert")).to_be_hidden()
    assert_accessible(repair)


def test_from_the_first_field_to_the_card_and_the_label(repair, tmp_path, shoot, assert_accessible):
    """A loader at an invented yard: a new radiator, the pan measured, a bucket of 15 litres."""
    type_in(repair, "capacity", "18")
    type_in(repair, "low", "0.5")
    tick(repair, "opened_heater")
    type_in(repair, "caught", "11")
    type_in(repair, "caught_error", "0.5")
    type_in(repair, "spilled", "0.4")
    type_in(repair, "spilled_error", "")
    type_in(repair, "reading", "−24")
    type_in(repair, "pour_back", "4")
    type_in(repair, "bucket", "15")
    type_in(repair, "target_freezing", "−34")
    type_in(repair, "vehicle", "Loader 2, Tarnbeck yard")
    answer = repair.locator(ANSWER)
    expect(answer).to_contain_text("Still inside: about 6.1 L of old mix")
    expect(answer).to_contain_text("−34")
    type_in(repair, "went_in", "11.5")
    expect(answer).to_contain_text("went in", use_inner_text=True)
    expect(answer).to_contain_text("11.5 L")
    expect(repair.locator(".coolcalc-alert")).to_be_hidden()
    assert_accessible(repair)
    expect(repair.locator(".coolcalc-card button")).to_contain_text("and the label")
    printed(repair, 3)
    shoot(repair, "repair_walked")
    assert_accessible(repair)
    card = pdf_text(repair, "Save the card (PDF)", tmp_path)
    assert "Loader 2, Tarnbeck yard" in card
    for step in repair.locator(f"{STEPS} > li").all_inner_texts():
        assert flat(step).replace(" ", "") in card.replace(" ", "")
    label = pdf_text(repair, "Save the label (PDF)", tmp_path)
    assert "Loader 2, Tarnbeck yard" in label and "Ethylene glycol" in label
    type_in(repair, "capacity", "19")
    expect(repair.locator(LINKS)).to_have_count(0)  # they belong to their figures


def test_where_nothing_was_caught_the_opened_parts_tell(repair, shoot, assert_accessible):
    expect(repair.locator(".field-least_radiator")).to_be_hidden()
    expect(repair.locator(".field-caught_error")).to_be_visible()
    before = repair.locator(ANSWER).inner_text()
    type_in(repair, "caught", "")
    expect(repair.locator(ANSWER)).not_to_have_text(before, use_inner_text=True)
    expect(repair.locator(".field-least_radiator")).to_be_visible()
    expect(repair.locator(".field-least_radiator")).to_contain_text("common practice, no source")
    expect(repair.locator(".field-least_heater")).to_be_hidden()
    expect(repair.locator(".field-caught_error")).to_be_hidden()
    guessed = repair.locator(ANSWER).inner_text()
    type_in(repair, "least_radiator", "50 %")
    expect(repair.locator(ANSWER)).not_to_have_text(guessed, use_inner_text=True)
    assert_accessible(repair)
    shoot(repair, "repair_not_caught")
    tick(repair, "opened_radiator")
    tick(repair, "opened_lower_hose")
    expect(repair.get_by_role("alert")).to_contain_text("Caught in the pan")
    expect(repair.locator(".field-caught .coolcalc-error")).to_contain_text("nothing was entered")
    expect(repair.locator(".field-caught input")).to_have_attribute("aria-invalid", "true")
    expect(repair.get_by_role("button", name="Make the job card")).to_be_disabled()
    shoot(repair, "repair_refused")


def test_a_dry_engine_is_asked_less(repair):
    choose(repair, "inside", "nothing: dry")
    expect(repair.locator(".field-tool")).to_be_hidden()
    expect(repair.locator(".field-engine_only")).to_be_visible()
    type_in(repair, "engine_only", "7")
    expect(repair.locator(ANSWER)).to_contain_text("stand")
    choose(repair, "inside", "nothing, and caught mix goes back")
    expect(repair.locator(".field-tool")).to_be_visible()


def test_a_flush_to_the_card_and_the_label(repair, tmp_path, shoot, assert_accessible):
    choose(repair, "task", FLUSH)
    expect(repair.locator(STEPS)).to_contain_text("Drain 1 of 3")
    expect(repair.locator(".field-caught")).to_be_hidden()
    type_in(repair, "may_stay", "10 %")
    expect(repair.locator(STEPS)).to_contain_text("Drain 1 of 3")
    type_in(repair, "may_stay", "20 %")
    expect(repair.locator(STEPS)).not_to_contain_text("Drain 1 of 3")
    assert_accessible(repair)
    printed(repair, 3)
    shoot(repair, "repair_flush")
    assert "Drain" in pdf_text(repair, "Save the card (PDF)", tmp_path)


def test_top_ups(repair, shoot, assert_accessible):
    choose(repair, "task", TOPUPS)
    expect(repair.locator(ANSWER)).to_contain_text("After 6 top-ups")
    choose(repair, "topup_count", "3")
    expect(repair.locator(ANSWER)).to_contain_text("After 3 top-ups")
    choose(repair, "additive", "nitrite")
    expect(repair.locator(".field-additive_content")).to_be_visible()
    assert_accessible(repair)
    shoot(repair, "repair_topups")
    printed(repair, 2)  # weaker than the standard: a card, and no label
    expect(repair.locator(".coolcalc-card").get_by_role("alert")).to_contain_text("No label")


def test_water_has_a_card_and_neither_figure_nor_label(repair, tmp_path, shoot, assert_accessible):
    choose(repair, "task", WATER)
    expect(repair.locator(ANSWER)).to_contain_text("hardness 250 mg/L")
    expect(repair.locator(".coolcalc-figure")).to_be_hidden()
    expect(repair.locator(".field-capacity")).to_be_hidden()
    expect(repair.locator(".coolcalc-card button")).to_have_text("Make the job card")
    repair.locator(".field-hardness select").select_option(label="German degrees, °dH")
    type_in(repair, "hardness", "8")
    expect(repair.locator(ANSWER)).not_to_contain_text("over the limit")
    assert_accessible(repair)
    printed(repair, 2)
    shoot(repair, "repair_water")
    assert "8.0 °dH" in pdf_text(repair, "Save the card (PDF)", tmp_path)


@pytest.mark.parametrize(("width", "height"), WIDTHS)
def test_fits_the_screen(repair, width, height, shoot, assert_accessible):
    repair.set_viewport_size({"width": width, "height": height})
    type_in(repair, "caught", "")
    expect(repair.locator(".field-least_radiator")).to_be_visible()
    shoot(repair, f"repair_{width}")
    root = "document.documentElement"
    assert repair.evaluate(f"{root}.scrollWidth <= {root}.clientWidth")
    # A tick is touched anywhere on its words.
    touched = f"{CONTROLS}:not([type=checkbox]), label:has([type=checkbox]):visible"
    for control in repair.locator(f"{touched}, summary:visible, button:visible").all():
        box = control.bounding_box()
        assert box["height"] >= TOUCH_PX
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= width
    assert_accessible(repair)
    printed(repair, 3)
    assert repair.evaluate(f"{root}.scrollWidth <= {root}.clientWidth")
