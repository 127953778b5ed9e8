"""Three days at an invented yard, walked on the page to the printed card."""

import pytest
from playwright.sync_api import expect

from .walking import LINKS, STEPS, choose, flat, pdf_text, printed, tick, type_in

pytestmark = pytest.mark.browser


@pytest.fixture
def workshop(page, plain_address):
    page.goto(plain_address)
    expect(page.locator(STEPS)).to_be_visible()
    expect(page.locator(".coolcalc-figure svg")).to_be_visible()
    return page


def card(page, tmp_path):
    """Make the card, save it, and return its text; all steps of the page stand on it."""
    printed(page, 2)
    text = pdf_text(page, "Save the card (PDF)", tmp_path)
    for step in page.locator(f"{STEPS} > li").all_inner_texts():
        assert flat(step).replace(" ", "") in text.replace(" ", "")
    return text


def test_a_warm_float_in_a_tractor_that_hardly_drains(workshop, tmp_path, shoot, assert_accessible):
    """The float says 1.035, in a sample at 45 °C; the cock lets out 4 of 22 litres."""
    choose(workshop, "tool", "hydrometer, specific gravity")
    type_in(workshop, "capacity", "22")
    type_in(workshop, "drainable", "4")
    type_in(workshop, "reading_gravity", "1.035")
    type_in(workshop, "sample_temp", "45")
    type_in(workshop, "target_freezing", "-30")
    type_in(workshop, "vehicle", "Tractor 5, Tarnbeck yard")
    steps = workshop.locator(STEPS)
    expect(steps).to_contain_text("Drain 2 of")
    expect(workshop.locator(".coolcalc-answer")).to_contain_text("The sample was at 45 °C")
    assert_accessible(workshop)
    shoot(workshop, "story_tractor")
    text = card(workshop, tmp_path)
    assert "Tractor 5, Tarnbeck yard" in text
    assert "45 °C" in text and "−30" in text


def test_a_bus_on_the_wrong_line_with_a_rear_heater(workshop, tmp_path, shoot):
    """Propylene glycol read on the ethylene glycol line; the rear heater may not have mixed."""
    choose(workshop, "glycol", "propylene glycol")
    type_in(workshop, "capacity", "45")
    type_in(workshop, "capacity_error", "2")
    type_in(workshop, "drainable", "30")
    type_in(workshop, "reading", "−30")
    choose(workshop, "side", "may not have mixed")
    type_in(workshop, "side_volume", "6")
    type_in(workshop, "target_freezing", "−30")
    answer = workshop.locator(".coolcalc-answer")
    expect(answer).to_contain_text("that are not there")
    expect(answer).to_contain_text("may not have mixed")
    before = workshop.locator(STEPS).inner_text()
    tick(workshop, "safe")
    expect(workshop.locator(STEPS)).not_to_have_text(before, use_inner_text=True)
    expect(answer).to_contain_text("With a margin")
    sure = workshop.locator(".coolcalc-folded details").first
    expect(sure).not_to_have_attribute("open", "")  # statistics are folded away
    sure.locator("summary").click()
    expect(sure).to_contain_text("Chance to hold the target")
    choose(workshop, "paper", "Letter")
    shoot(workshop, "story_bus")
    text = card(workshop, tmp_path)
    assert "valve of the side circuit" in text and "−30" in text


def test_a_generator_off_the_scale(workshop, tmp_path, shoot, assert_accessible):
    """Neat concentrate went in: off the scale, read again diluted, and corrected with water."""
    type_in(workshop, "capacity", "18.5")
    type_in(workshop, "drainable", "17")
    type_in(workshop, "reading", "−70")
    expect(workshop.get_by_role("alert")).to_contain_text("Dilute a sample")
    button = workshop.get_by_role("button", name="Make the job card")
    expect(button).to_be_disabled()  # the earlier answer is not for these figures
    choose(workshop, "sample", "diluted 1:1 with water")
    type_in(workshop, "reading", "−22")
    expect(workshop.get_by_role("alert")).to_have_count(0)
    expect(button).to_be_enabled()
    answer = workshop.locator(".coolcalc-answer")
    expect(answer).to_contain_text("too strong")
    choose(workshop, "shelf", "water only")
    expect(workshop.locator(STEPS)).to_contain_text("of water")
    assert_accessible(workshop)
    shoot(workshop, "story_generator")
    text = card(workshop, tmp_path)
    assert "sample diluted 1:1" in text
    type_in(workshop, "capacity", "19")
    expect(workshop.locator(LINKS)).to_have_count(0)  # a card belongs to its figures


def test_what_is_in_it_now_and_a_bucket_of_mix(workshop, tmp_path, shoot, assert_accessible):
    choose(workshop, "task", "say what is in it now, after litres out and in")
    expect(workshop.locator(".coolcalc-answer")).to_contain_text("Inside now")
    type_in(workshop, "put_water", "0.5")
    expect(workshop.locator(".coolcalc-answer")).to_contain_text("above the mark")
    assert_accessible(workshop)
    shoot(workshop, "task_now")
    choose(workshop, "task", "mix a bucket, drum or tank")
    expect(workshop.locator(STEPS)).to_contain_text("Stir well")
    expect(workshop.locator(".field-capacity")).to_be_hidden()
    tick(workshop, "weigh")
    expect(workshop.locator(STEPS)).to_contain_text("kg")
    shoot(workshop, "task_batch")
    assert "kg" in card(workshop, tmp_path)
