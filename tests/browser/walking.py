"""What walking a page takes: choosing, typing, ticking, and reading what is saved."""

import pypdfium2
from playwright.sync_api import expect

ANSWER = ".coolcalc-answer"
STEPS = f"{ANSWER} ol"
LINKS = ".coolcalc-links a"
FIGURE = ".coolcalc-figure svg"
CONTROLS = ".coolcalc-inputs :is(input, select):visible"
WIDTHS = ((1280, 800), (820, 1180), (390, 844))
TOUCH_PX = 44


def choose(page, field, words):
    page.locator(f".field-{field} select").first.select_option(label=words)


def type_in(page, field, text):
    page.locator(f".field-{field} input").fill(text)
    page.keyboard.press("Tab")


def tick(page, field):
    page.locator(f".field-{field} input").click()


def flat(text):
    return " ".join(text.split())


def printed(page, count):
    """Make what can be printed; ``count`` links are then there to save it."""
    page.get_by_role("button", name="Make the job card").click()
    expect(page.locator(LINKS)).to_have_count(count)


def saved(page, words, tmp_path):
    """Save a file by the words of its link, and return its path."""
    with page.expect_download() as download:
        page.get_by_role("link", name=words).click()
    path = tmp_path / download.value.suggested_filename
    download.value.save_as(path)
    return path


def pdf_text(page, words, tmp_path):
    """Save a PDF by the words of its link, and return the text of its one page."""
    pdf = pypdfium2.PdfDocument(saved(page, words, tmp_path))
    assert len(pdf) == 1
    return flat(pdf[0].get_textpage().get_text_bounded())
