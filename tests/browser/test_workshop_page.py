"""The workshop's plain page and its notebook, driven as a person would."""

import urllib.request

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

STEPS = ".coolcalc-answer ol"
READING = ".field-reading input"
CONTROLS = ".coolcalc-inputs :is(input, select):visible"
WIDTHS = ((1280, 800), (820, 1180), (390, 844))
TOUCH_PX = 44


@pytest.fixture
def workshop(page, plain_address):
    page.goto(plain_address)
    expect(page.locator(STEPS)).to_be_visible()
    expect(page.locator(".coolcalc-figure svg")).to_be_visible()
    return page


def type_in(page, selector, text):
    page.locator(selector).fill(text)
    page.keyboard.press("Tab")


def test_it_opens_and_answers_without_a_click(workshop, assert_accessible):
    expect(workshop.locator("html")).to_have_attribute("lang", "en")
    assert workshop.title().startswith("Coolant mix")
    assert workshop.locator("h1").count() == 1
    expect(workshop.locator("#starting")).to_have_count(0)
    assert workshop.locator(f"{STEPS} > li").count() >= 2
    assert workshop.locator(STEPS).bounding_box()["y"] < 400  # seen without scrolling
    expect(workshop.locator(".coolcalc-alert")).to_be_hidden()
    assert_accessible(workshop)


def test_another_reading_gives_another_answer(workshop):
    before = workshop.locator(STEPS).inner_text()
    type_in(workshop, READING, "−20")
    expect(workshop.locator(STEPS)).not_to_have_text(before, use_inner_text=True)
    expect(workshop.locator(".coolcalc-alert")).to_be_hidden()


def test_a_refusal_says_so_and_greys_the_old_answer(workshop, assert_accessible, shoot):
    type_in(workshop, READING, "warm")
    expect(workshop.get_by_role("alert")).to_contain_text("warm")
    expect(workshop.locator(".field-reading .coolcalc-error")).to_contain_text("warm")
    expect(workshop.locator(READING)).to_have_attribute("aria-invalid", "true")
    expect(workshop.locator(f"[aria-disabled=true] {STEPS.split()[-1]}")).to_be_visible()
    expect(workshop.locator(".coolcalc-figure.coolcalc-old")).to_be_visible()
    shoot(workshop, "refused")
    assert_accessible(workshop)
    type_in(workshop, READING, "−20")
    expect(workshop.get_by_role("alert")).to_have_count(0)
    expect(workshop.locator(".coolcalc-old")).to_have_count(0)
    expect(workshop.locator(READING)).to_have_attribute("aria-invalid", "false")


def test_units_there_and_back(workshop):
    reading = workshop.locator(READING).input_value()
    answer = workshop.locator(STEPS).inner_text()
    units = workshop.locator(".field-units select")
    first = units.input_value()
    units.select_option("US")
    expect(workshop.locator(STEPS)).not_to_have_text(answer, use_inner_text=True)
    units.select_option(first)
    expect(workshop.locator(STEPS)).to_have_text(answer, use_inner_text=True)
    expect(workshop.locator(READING)).to_have_value(reading)


def test_the_working_stays_unfolded(workshop):
    working = workshop.locator(".coolcalc-folded details").first
    working.locator("summary").click()
    before = workshop.locator(STEPS).inner_text()
    type_in(workshop, READING, "−20")
    expect(workshop.locator(STEPS)).not_to_have_text(before, use_inner_text=True)
    expect(working).to_have_attribute("open", "")


@pytest.mark.parametrize(("width", "height"), WIDTHS)
def test_fits_the_screen(workshop, width, height, shoot, assert_accessible):
    workshop.set_viewport_size({"width": width, "height": height})
    shoot(workshop, f"workshop_{width}")
    root = "document.documentElement"
    assert workshop.evaluate(f"{root}.scrollWidth <= {root}.clientWidth")
    # A tick is touched anywhere on its words.
    touched = f"{CONTROLS}:not([type=checkbox]), label:has([type=checkbox]):visible"
    for control in workshop.locator(f"{touched}, summary:visible, button:visible").all():
        box = control.bounding_box()
        assert box["height"] >= TOUCH_PX
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= width
    assert_accessible(workshop)


def test_on_a_phone_one_touch_leads_to_the_figures_and_back(workshop):
    workshop.set_viewport_size({"width": 390, "height": 844})
    workshop.get_by_role("link", name="Change the figures").click()
    expect(workshop.locator(CONTROLS).first).to_be_in_viewport()
    workshop.get_by_role("link", name="To the answer").click()
    expect(workshop.locator(f"{STEPS} > li").first).to_be_in_viewport()


def test_the_keyboard_reaches_all_in_order(workshop):
    controls = workshop.locator(CONTROLS).all()
    for at, control in enumerate(controls):
        control.evaluate("(control, at) => control.dataset.at = at", str(at))
    controls[0].focus()
    reached = []
    for _ in controls:
        reached.append(workshop.evaluate("document.activeElement.dataset.at"))
        workshop.keyboard.press("Tab")
    assert reached == [str(at) for at in range(len(controls))]
    assert workshop.evaluate("document.activeElement.tagName") == "BUTTON"  # the card
    workshop.keyboard.press("Tab")
    assert workshop.evaluate("document.activeElement.tagName") == "SUMMARY"


def test_the_answer_stays_in_view_beside_the_fields(workshop):
    workshop.locator(".field-safe input").scroll_into_view_if_needed()
    before = workshop.locator(STEPS).inner_text()
    workshop.locator(".field-safe input").click()
    expect(workshop.locator(STEPS)).not_to_have_text(before, use_inner_text=True)
    expect(workshop.locator(f"{STEPS} > li").first).to_be_in_viewport()


def test_a_page_whose_program_has_ended_says_so(workshop):
    workshop.evaluate(
        """async () => {
          const { kernelId } = JSON.parse(
            document.getElementById("jupyter-config-data").textContent);
          const xsrf = document.cookie.match(/_xsrf=([^;]+)/)[1];
          await fetch(`/voila/api/shutdown/${kernelId}`,
            { method: "POST", headers: { "X-XSRFToken": xsrf } });
        }"""
    )
    workshop.locator(READING).fill("−20")
    workshop.keyboard.press("Tab")
    expect(workshop.locator("#ended")).to_contain_text("This page has stopped")


def test_a_page_that_hears_nothing_starts_again_by_itself(page, plain_address):
    heard = []

    def deaf_at_first(socket):
        heard.append(socket.url)
        if len(heard) > 1:
            socket.connect_to_server()

    page.route_web_socket("**/channels*", deaf_at_first)
    page.goto(plain_address)
    expect(page.locator("#starting")).to_be_visible()
    expect(page.locator(STEPS)).to_be_visible()
    assert len(heard) >= 2
    assert page.evaluate("sessionStorage.getItem('coolcalc-starts')") is None


def test_a_page_that_never_hears_says_so(page, plain_address):
    page.route_web_socket("**/channels*", lambda socket: None)
    page.goto(plain_address)
    page.evaluate("sessionStorage.setItem('coolcalc-starts', 2)")  # as after two more starts
    expect(page.locator("#starting[role=alert]")).to_contain_text("does not start")


def test_the_address_needs_its_key(plain_address):
    bare, key = plain_address.split("?")
    assert key.startswith("token=")
    with urllib.request.urlopen(bare) as reply:
        assert "/login" in reply.url
    with pytest.raises(urllib.error.HTTPError, match="403"):
        urllib.request.urlopen(f"{bare}api/kernels/0-0-0-0-0")


def test_the_notebook_in_jupyterlab(page, lab_address, shoot):
    page.goto(lab_address)
    page.wait_for_function("window.jupyterapp")
    page.locator(".jp-Notebook").wait_for()
    page.wait_for_function(
        "window.jupyterapp.shell.currentWidget?.sessionContext?.session?.kernel?.status === 'idle'"
    )
    page.evaluate("window.jupyterapp.commands.execute('notebook:run-all-cells')")
    expect(page.locator(STEPS)).to_be_visible()
    expect(page.locator(".coolcalc-figure svg")).to_be_visible()
    before = page.locator(STEPS).inner_text()
    shoot(page, "jupyterlab")
    type_in(page, READING, "−20")
    expect(page.locator(STEPS)).not_to_have_text(before, use_inner_text=True)
