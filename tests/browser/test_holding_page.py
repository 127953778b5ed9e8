"""The page of capacity, growth and boiling, walked from the first field to what is saved."""

import pytest
from playwright.sync_api import expect

from .walking import (
    ANSWER,
    CONTROLS,
    FIGURE,
    STEPS,
    TOUCH_PX,
    WIDTHS,
    choose,
    flat,
    pdf_text,
    printed,
    saved,
    type_in,
)

pytestmark = pytest.mark.browser

BOILING, FILL, PARTS, SWAP = (
    "boiling: how far it is off",
    "capacity: measure what goes in",
    "capacity: add up the parts",
    "capacity: swap, and read twice",
)


@pytest.fixture
def holding(page, holding_address):
    page.goto(holding_address)
    expect(page.locator(STEPS)).to_be_visible()
    expect(page.locator(FIGURE)).to_be_visible()
    return page


def test_it_opens_on_the_level_and_draws_the_tank(holding, shoot, assert_accessible):
    assert holding.title().startswith("Capacity, growth, boiling")
    expect(holding.locator(ANSWER)).to_contain_text("the level rises by about 0.53 L")
    expect(holding.locator(FIGURE)).to_contain_text("cold mark")
    expect(holding.locator(FIGURE)).to_contain_text("hottest gas")
    expect(holding.locator(".coolcalc-alert")).to_be_hidden()
    assert_accessible(holding)
    shoot(holding, "holding_growth")


def test_a_tank_without_room_and_a_bottle(holding, tmp_path, shoot):
    """A pusher of an invented yard that leaves a puddle each morning."""
    type_in(holding, "capacity", "22")
    type_in(holding, "room", "0.8")
    type_in(holding, "below", "")
    type_in(holding, "vehicle", "Pusher 2, Tarnbeck yard")
    answer = holding.locator(ANSWER)
    expect(answer).to_contain_text("No air space left: will push coolant out")
    expect(answer).to_contain_text("It then stops")
    expect(holding.locator(FIGURE)).to_contain_text("out")
    expect(holding.locator(FIGURE)).not_to_contain_text("hottest gas")
    shoot(holding, "holding_no_room")
    printed(holding, 2)
    card = pdf_text(holding, "Save the card (PDF)", tmp_path)
    assert "Pusher 2, Tarnbeck yard" in card and "will push coolant out" in card
    choose(holding, "tank", "overflow bottle, after the cap")
    expect(answer).to_contain_text("No room left in the bottle")
    expect(holding.locator(".field-gas")).to_be_hidden()
    type_in(holding, "room", "3")
    expect(answer).to_contain_text("is left then.")


def test_boiling_with_a_weak_cap_in_the_hills(holding, tmp_path, shoot, assert_accessible):
    choose(holding, "task", BOILING)
    answer = holding.locator(ANSWER)
    expect(answer).to_contain_text("boils at about 129 °C")
    expect(holding.locator(FIGURE)).to_contain_text("without a cap")
    type_in(holding, "altitude", "1500")
    type_in(holding, "cap_holds", "40")
    type_in(holding, "hottest", "110")
    expect(answer).to_contain_text("40 kPa gauge")
    expect(answer).to_contain_text("steam")
    expect(holding.locator(FIGURE)).to_contain_text("what the cap holds")
    assert_accessible(holding)
    shoot(holding, "holding_boiling")
    printed(holding, 2)
    assert "steam" in pdf_text(holding, "Save the card (PDF)", tmp_path)
    type_in(holding, "top_tank", "104")
    expect(holding.get_by_role("alert")).to_contain_text("Outside air at that time")
    type_in(holding, "outside", "28")
    expect(holding.locator(".coolcalc-alert")).to_be_hidden()


def test_capacity_by_a_fill(holding, shoot):
    choose(holding, "task", FILL)
    expect(holding.locator(ANSWER)).to_contain_text("the system holds about 10.00 L")
    type_in(holding, "poured", "9.8")
    expect(holding.locator(ANSWER)).to_contain_text("the system holds about 11.00 L")
    expect(holding.locator(".coolcalc-figure")).to_be_hidden()
    shoot(holding, "holding_fill")


def test_parts_are_edited_added_removed_kept_and_opened(
    holding, tmp_path, shoot, assert_accessible
):
    choose(holding, "task", PARTS)
    answer = holding.locator(ANSWER)
    expect(answer).to_contain_text("the system holds about 13.46 L")
    holding.get_by_label("1: volume, L").fill("5.6")
    holding.keyboard.press("Tab")
    expect(answer).to_contain_text("the system holds about 14.5 L")
    holding.get_by_role("button", name="Add a part").click()
    expect(answer).to_contain_text("is not the capacity")
    expect(answer).to_contain_text("Row 8")
    holding.get_by_label("8: bore, mm").fill("19")
    holding.keyboard.press("Tab")
    holding.get_by_label("8: length, m").fill("3")
    holding.keyboard.press("Tab")
    expect(answer).to_contain_text("the system holds about 15.3")  # π/4 · 0.19² · 30 = 0.85 L
    assert_accessible(holding)
    shoot(holding, "holding_parts")
    printed(holding, 3)
    kept = saved(holding, "Save the table (CSV)", tmp_path)
    holding.get_by_role("button", name="Remove 8").click()
    expect(answer).to_contain_text("the system holds about 14.5 L")
    with holding.expect_file_chooser() as chooser:
        holding.get_by_role("button", name="Open a CSV file").click()
    chooser.value.set_files(kept)
    expect(answer).to_contain_text("the system holds about 15.3")
    expect(holding.locator(".coolcalc-rows")).to_contain_text("Opened parts.csv")
    choose(holding, "units", "US")
    expect(holding.get_by_label("8: bore, in")).to_have_value("0.74803")
    expect(answer).to_contain_text("US qt")


def test_a_swap_that_is_lost_in_the_errors(holding, shoot, assert_accessible):
    choose(holding, "task", SWAP)
    answer = holding.locator(ANSWER)
    expect(answer).to_contain_text("The system holds about 10.")
    type_in(holding, "reading_after", "-36")
    expect(answer).to_contain_text("Not told by this swap")
    expect(answer).to_contain_text("of what it holds")
    type_in(holding, "about", "10")
    expect(answer).to_contain_text("if that is 10.00 L")
    assert_accessible(holding)
    shoot(holding, "holding_swap")


@pytest.mark.parametrize(("width", "height"), WIDTHS)
def test_fits_the_screen(holding, width, height, shoot, assert_accessible):
    holding.set_viewport_size({"width": width, "height": height})
    root = "document.documentElement"
    for task in (None, PARTS):
        if task:
            choose(holding, "task", task)
            expect(holding.locator(ANSWER)).to_contain_text("Added up")
        shoot(holding, f"holding_{'parts' if task else 'growth'}_{width}")
        assert holding.evaluate(f"{root}.scrollWidth <= {root}.clientWidth")
        touched = f"{CONTROLS}:not([type=checkbox], [type=file])"
        for control in holding.locator(f"{touched}, summary:visible, button:visible").all():
            box = control.bounding_box()
            assert box["height"] >= TOUCH_PX
            assert box["x"] >= 0 and box["x"] + box["width"] <= width
        assert_accessible(holding)


def test_no_step_on_the_page_is_a_permission(holding):
    """Whatever is asked, the cautions stand beside it and no text allows a hot cap."""
    for task in (BOILING, FILL, PARTS, SWAP):
        choose(holding, "task", task)
        expect(holding.locator(".coolcalc-cautions")).to_contain_text("cold to the hand")
        assert "safe to open" not in flat(holding.locator(".coolcalc").inner_text())
