"""The job card: one page from any answer, as PDF and as HTML, that says what the answer says."""

import datetime as dt
import functools
import html
import io
import os
import pathlib
import re
import shutil
import subprocess
import sys

import pypdfium2
import pytest

import coolcalc as cc
from coolcalc.answers import Answer, Row
from coolcalc.cautions import for_work_on_coolant
from coolcalc.errors import InputError
from coolcalc.prints import card_html, card_pdf, save_card
from coolcalc.prints.content import (
    BLANKS,
    ELSEWHERE,
    LONGEST_NAME,
    PAPERS,
    SIZES,
    SOURCES_ELSEWHERE,
)

ON = dt.date(2025, 11, 3)
CAN = cc.Product.generic("ethylene glycol concentrate")
READY = cc.Product.generic("ethylene glycol ready-mixed 50 %")
TOOL = cc.Refractometer(made_for="ethylene glycol", error="1 K")
VAN = cc.CoolingSystem(capacity="10 L", capacity_error="0.5 L", drainable="6.5 L")
MARKUP = '#[*x*] `raw` <b>$x^2$</b> @ref \\ // _u_ & "q" ~ “long” – m³'
VEHICLE = f"Delivery van {MARKUP}"[:60]


def readme(**more):
    given = {"system": VAN, "found": TOOL.read("-16 °C"), "target": "-37 °C"}
    return cc.correct_mix(**(given | {"pour": [CAN, cc.WATER], "temp": "20 °C"} | more))


def longest():
    """Several drains, a low level, a coarse instrument, labels that promise much, long names."""
    name = f"Frostschutz {MARKUP} long life"
    strong = cc.Product.from_label(
        name=f"{name} A",
        fluid="ethylene glycol",
        freezing_point="-45 °C",
        dilution="50 %",
        density="1.128 kg/L",
    )
    weak = cc.Product.from_label(
        name=f"{name} B",
        fluid="ethylene glycol",
        freezing_point="-30 °C",
        dilution="100 %",
        density="1.060 kg/L",
    )
    tool = cc.Refractometer(
        made_for="ethylene glycol", error="5 K", name=f"old refractometer {MARKUP}"
    )
    system = cc.CoolingSystem(capacity="10 L", capacity_error="2 L", drainable="3.5 L")
    return readme(
        system=system, found=tool.read("-5 °C"), pour=[strong, weak], low="0.7 L", show_in="US"
    )


MAKERS = {
    "readme": readme,
    "blocked": lambda: readme(pour=[READY], target="-45 °C"),
    "US": lambda: readme(show_in="US"),
    "longest": longest,
    "many drains": lambda: readme(system=cc.CoolingSystem(capacity="10 L", drainable="1 L")),
    "in band": lambda: readme(found=TOOL.read("-36.9 °C")),
    "too strong": lambda: readme(found="80 % product"),
}
NAMES = {"readme": {}, "longest": {"vehicle": VEHICLE, "by": f"A. Technician {MARKUP}"}}
EVERY_CASE = pytest.mark.parametrize("case", MAKERS)
EVERY_PAPER = pytest.mark.parametrize("paper", PAPERS)


@functools.cache
def job_of(case):
    return MAKERS[case]()


def options(case, paper="A4"):
    return {"on": ON, "paper": paper} | NAMES.get(case, {"vehicle": "Tractor 7", "by": "N. N."})


@functools.cache
def pdf_of(case, paper="A4"):
    return card_pdf(job_of(case), **options(case, paper))


@functools.cache
def page_of(case, paper="A4"):
    return card_html(job_of(case), **options(case, paper))


def read_pdf(pdf):
    """Pages, size of the first in points, and its text with the hyphens of line ends put back."""
    document = pypdfium2.PdfDocument(pdf)
    page = document[0]
    text_page = page.get_textpage()
    found = len(document), page.get_size(), text_page.get_text_range().replace("\ufffe", "-")
    for each in (text_page, page, document):
        each.close()
    return found


def pdf_text(pdf):
    return " ".join(read_pdf(pdf)[2].split())


def html_text(page):
    body = page[page.index("<body>") :]
    return html.unescape(re.sub(r"<[^>]+>", " ", re.sub(r"</?(strong|span)[^>]*>", "", body)))


def packed(text):
    """Text without white space: a long word may break at the end of a line."""
    return "".join(text.split())


class Bare(Answer):
    """The least that an answer says."""

    title, notes, steps, rows = "Bare", (), ("Do nothing.",), ()
    cautions, assumptions, source_keys, working_lines = (), (), (), ()


# --- one page, all of it --------------------------------------------------------------------------


@EVERY_PAPER
@EVERY_CASE
def test_pdf_is_one_page_of_its_paper(case, paper):
    pages, size, _ = read_pdf(pdf_of(case, paper))
    assert pages == 1
    assert size == pytest.approx([each * 72 / 25.4 for each in PAPERS[paper]], abs=0.1)


def test_papers_in_points():
    assert read_pdf(pdf_of("readme", "A4"))[1] == pytest.approx((595.28, 841.89), abs=0.01)
    assert read_pdf(pdf_of("readme", "Letter"))[1] == pytest.approx((612, 792), abs=0.01)


@EVERY_PAPER
@EVERY_CASE
@pytest.mark.parametrize("kind", ["pdf", "html"])
def test_card_says_all_in_order(kind, case, paper):
    job, names = job_of(case), options(case)
    text = pdf_text(pdf_of(case, paper)) if kind == "pdf" else html_text(page_of(case, paper))
    text = packed(text)
    wanted = ["Job card: Correct the mix", names.get("vehicle", ""), "2025-11-03"]
    wanted += [names.get("by", ""), *(part for row in job.rows for part in row), *job.notes]
    wanted += [*job.steps, "Cautions", *(caution.text for caution in job.cautions), "To fill in"]
    wanted += [label for line in BLANKS for label in line]
    place = 0
    for each in map(packed, wanted):
        assert each in text[place:], each
        place += text[place:].index(each) + len(each)
    if packed(": ".join(ELSEWHERE)) not in text:
        for each in job.assumptions:
            assert packed(each) in text[place:]
        for source in job.sources if packed(": ".join(SOURCES_ELSEWHERE)) not in text else ():
            assert packed(source.title.partition(";")[0]) in text[place:]


@EVERY_CASE
def test_steps_are_numbered(case):
    text = packed(pdf_text(pdf_of(case)))
    for at, step in enumerate(job_of(case).steps, 1):
        assert f"{at}.{packed(step)}" in text


def test_signs_print_as_they_are():
    text = pdf_text(pdf_of("readme"))
    assert "−37.0 °C" in text and "about −37 °C" in text
    assert re.search(r"expect −\d+ °C to −\d+ °C\.", text)
    assert "“used coolant”" in text
    assert packed(VEHICLE) in packed(pdf_text(pdf_of("longest")))
    assert "“long” – m³" in pdf_text(card_pdf(job_of("readme"), by="“long” – m³", on=ON))


def test_us_units():
    text = pdf_text(pdf_of("US"))
    assert re.search(r"Take out \d\.\d\d US qt into", text)
    assert re.search(r"expect −\d+ °F to −\d+ °F", text)


def test_blocked_card_has_no_litres_to_move():
    job, text = job_of("blocked"), pdf_text(pdf_of("blocked"))
    assert job.blocked and "Not reachable" in text
    assert not re.search(r"(Take out|Pour) \d", text)
    assert "<strong>" not in page_of("blocked")


def test_volumes_are_bold():
    document = pypdfium2.PdfDocument(pdf_of("readme"))
    text_page = document[0].get_textpage()
    text = text_page.get_text_range()

    def font(at):
        buffer = pypdfium2.raw.ctypes.create_string_buffer(100)
        flags = pypdfium2.raw.ctypes.c_int()
        pypdfium2.raw.FPDFText_GetFontInfo(text_page, at, buffer, len(buffer), flags)
        return buffer.value.decode()

    step = text.index("Take out 2.80 L into")
    assert "Bold" in font(step + len("Take out ")) and "Bold" not in font(step)
    text_page.close()
    document.close()
    assert "Take out <strong>2.80 L</strong> into" in page_of("readme")


def test_steps_are_the_largest_type_and_small_print_is_legible():
    for sizes in SIZES:
        assert sizes.steps > sizes.text > sizes.small
        assert sizes.steps >= 9 and sizes.small >= 7
    assert [each.steps for each in SIZES] == sorted({e.steps for e in SIZES}, reverse=True)


def test_names_left_empty_are_lines_to_write_on():
    text = pdf_text(pdf_of("readme"))
    assert "Vehicle Date 2025-11-03 By Capacity" in text
    assert "<span>Vehicle</span> <b></b>" in page_of("readme")


def test_today_is_the_date_unless_another_is_given():
    text = pdf_text(card_pdf(Bare()))
    shown = dt.date.fromisoformat(re.search(r"\d{4}-\d\d-\d\d", text)[0])
    assert dt.date.today() - shown <= dt.timedelta(days=1)
    moment = dt.datetime(2025, 11, 3, 14, 30)
    assert card_html(Bare(), on=moment) == card_html(Bare(), on=ON)


@EVERY_PAPER
def test_the_least_answer_prints(paper):
    pages, _, text = read_pdf(card_pdf(Bare(), on=ON, paper=paper))
    assert pages == 1 and "1. Do nothing." in " ".join(text.split())
    assert "Assumed" not in text and "Sources" not in card_html(Bare(), on=ON)


def test_card_rows_stand_in_place_of_rows():
    answer = Bare()
    answer.rows, answer.card_rows = (Row("Screen", "1"),), (Row("Paper", "2"),)
    for text in (pdf_text(card_pdf(answer, on=ON)), card_html(answer, on=ON)):
        assert "Paper" in text and "Screen" not in text


# --- what must fit, and what does not -------------------------------------------------------------


def with_text(**parts):
    answer = Bare()
    for name, value in parts.items():
        setattr(answer, name, value)
    return answer


@EVERY_PAPER
def test_small_print_goes_off_the_card_before_the_steps_do(paper):
    sentence = "What is taken for granted here is written out at some length. "
    answer = with_text(assumptions=(sentence * 400,), cautions=for_work_on_coolant("water"))
    pages, _, text = read_pdf(card_pdf(answer, on=ON, paper=paper))
    page = card_html(answer, on=ON, paper=paper)
    assert pages == 1
    for each in (text, page):
        assert ": ".join(ELSEWHERE) in " ".join(each.split()) and sentence.strip() not in each
        assert "get emergency help now" in " ".join(each.split())


@pytest.mark.parametrize("make", [card_pdf, card_html])
def test_what_does_not_fit_is_refused(make):
    answer = with_text(steps=("Take a long time over this step, and do it well. " * 300,))
    with pytest.raises(InputError, match=r"does not fit on one page.*shorten the names"):
        make(answer, on=ON)


@EVERY_PAPER
def test_words_without_spaces_stay_on_the_page(paper):
    wide = "W" * 60
    answer = with_text(steps=(f"Pour 2.85 L of {wide}.",), rows=(Row(f"Pour {wide}", wide),))
    pdf = card_pdf(answer, vehicle=wide, by=wide, on=ON, paper=paper)
    assert packed(pdf_text(pdf)).count(wide) == 5
    document = pypdfium2.PdfDocument(pdf)
    text_page = document[0].get_textpage()
    edge = document[0].get_width() - 10 * 72 / 25.4
    boxes = [text_page.get_charbox(at) for at in range(text_page.count_chars())]
    text_page.close()
    document.close()
    assert max(right for _, _, right, _ in boxes) < edge + 1


def test_names_without_spaces_break_in_html_too():
    assert "overflow-wrap: anywhere" in page_of("readme")


# --- reproducible, grey, self-contained -----------------------------------------------------------


@EVERY_CASE
def test_same_bytes_twice(case):
    job = MAKERS[case]()
    assert card_pdf(job, **options(case)) == pdf_of(case)
    assert card_html(job, **options(case)) == page_of(case)


def test_same_bytes_in_another_process_and_folder(tmp_path):
    code = (
        "import sys, datetime; from coolcalc.prints import card_pdf; "
        "from coolcalc.answers import Answer; "
        "job = type('Job', (Answer,), dict(title='Bare', notes=(), steps=('Do nothing.',), "
        "rows=(), cautions=(), assumptions=(), source_keys=()))(); "
        "sys.stdout.buffer.write(card_pdf(job, on=datetime.date(2025, 11, 3)))"
    )
    root = pathlib.Path(cc.__file__).resolve().parents[1]
    environment = os.environ | {"PYTHONPATH": str(root), "TZ": "Pacific/Auckland"}
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, env=environment, capture_output=True, check=True
    )
    assert done.stdout == card_pdf(Bare(), on=ON)


def test_another_date_is_another_file():
    assert card_pdf(Bare(), on=ON) != card_pdf(Bare(), on=dt.date(2025, 11, 4))


@EVERY_CASE
def test_pdf_is_black_and_grey(case):
    document = pypdfium2.PdfDocument(pdf_of(case))
    page = document[0]
    pixels = page.render(scale=2).to_numpy()
    page.close()
    document.close()
    assert pixels.ndim == 3 and pixels.shape[2] >= 3
    assert (pixels[..., :3] == pixels[..., :1]).all()
    assert pixels[..., :3].min() == 0


@EVERY_CASE
def test_html_is_grey_and_asks_nothing_of_another_place(case):
    page = page_of(case)
    for colour in re.findall(r"#([0-9a-f]{6})\b", page[: page.index("</style>")]):
        assert colour[:2] == colour[2:4] == colour[4:]
    assert page.startswith("<!DOCTYPE html>\n<html lang='en'>")
    assert not re.search(r"https?:|src=|href=|url\(|@import|<script|<link", page)


@EVERY_PAPER
def test_html_names_its_paper(paper):
    assert f"@page {{ size: {paper}; margin: 10mm; }}" in page_of("readme", paper)


def test_user_text_is_data_in_html():
    page = page_of("longest")
    assert "<b>$" not in page
    assert html.escape(VEHICLE) in page
    nasty = '<script>alert(1)</script>\' onload="x"'
    assert html.escape(nasty) in card_html(Bare(), vehicle=nasty, by=nasty, on=ON)
    assert "<script" not in card_html(Bare(), vehicle=nasty, by=nasty, on=ON)


def test_marks_that_no_paper_shows_are_left_out():
    text = pdf_text(card_pdf(Bare(), vehicle="Van\n\x00 7\u202e\u200b\ud800", on=ON))
    assert "Vehicle Van 7 Date" in text


PERMISSION = re.compile(
    r"\bsafe(ly)?\b|\b(may|can|could)\b (now )?(be )?open|\bok(ay)?\b|harmless", re.IGNORECASE
)


@EVERY_CASE
def test_nothing_reads_as_permission(case):
    for text in (pdf_text(pdf_of(case)), html_text(page_of(case))):
        assert not PERMISSION.search(text)
        for sentence in re.split(r"[.:;]\s|\n", text):
            assert not (re.search(r"\bopen", sentence) and re.search(r"\d ?°", sentence)), sentence


@pytest.mark.browser
@pytest.mark.parametrize(("case", "paper"), [("readme", "A4"), ("longest", "Letter")])
def test_html_prints_on_one_page(case, paper, tmp_path):
    chromium = os.environ.get("COOLCALC_CHROMIUM") or shutil.which("chromium")
    if chromium is None:
        pytest.skip("no Chromium found: install it, or name it in COOLCALC_CHROMIUM")
    made, printed = tmp_path / "card.html", tmp_path / "printed.pdf"
    save_card(job_of(case), made, **options(case, paper))
    flags = ["--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer"]
    flags += [f"--user-data-dir={tmp_path / 'profile'}", f"--print-to-pdf={printed}"]
    subprocess.run([chromium, *flags, made.as_uri()], check=True, capture_output=True, timeout=120)
    pages, size, text = read_pdf(printed.read_bytes())
    assert pages == 1
    assert size == pytest.approx([each * 72 / 25.4 for each in PAPERS[paper]], abs=1)
    assert packed("Signature") in packed(text)


# --- files and refusals ---------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["card.pdf", "card.HTML"])
def test_save_card_writes_what_the_suffix_says(name, tmp_path):
    path = save_card(job_of("readme"), str(tmp_path / name), on=ON)
    assert path == tmp_path / name
    made = path.read_bytes()
    assert made == (pdf_of("readme") if name.endswith("pdf") else page_of("readme").encode())
    assert [each.name for each in tmp_path.iterdir()] == [name]


@pytest.mark.parametrize("name", ["card.docx", "card", "card.pdf.txt"])
def test_other_suffixes_are_refused(name, tmp_path):
    with pytest.raises(InputError, match=r"ends neither in \.pdf nor in \.html; add one"):
        save_card(job_of("readme"), tmp_path / name, on=ON)
    assert list(tmp_path.iterdir()) == []


def test_missing_folder_is_refused(tmp_path):
    with pytest.raises(InputError, match=r"there is no folder .*none; make it first"):
        save_card(job_of("readme"), tmp_path / "none" / "card.pdf", on=ON)


def test_a_place_that_cannot_be_written_is_refused(tmp_path):
    (tmp_path / "card.pdf").mkdir()
    with pytest.raises(InputError, match=r"cannot be written .*choose another folder or name"):
        save_card(job_of("readme"), tmp_path / "card.pdf", on=ON)
    assert [each.name for each in tmp_path.iterdir()] == ["card.pdf"]


@pytest.mark.parametrize(
    ("error", "raised"), [(PermissionError("held"), InputError), (KeyboardInterrupt(),) * 2]
)
@pytest.mark.parametrize("owner", ["replace", "write"])
def test_interrupted_write_leaves_the_old_file(error, raised, owner, tmp_path, monkeypatch):
    path = tmp_path / "card.pdf"
    path.write_bytes(b"old")

    def stop(*_):
        raise error

    class HalfWritten(io.BufferedWriter):
        def write(self, made):
            super().write(made[:100])
            raise error

    if owner == "replace":
        monkeypatch.setattr(os, "replace", stop)
    else:

        def half(beside, mode="r", **_):
            return HalfWritten(io.FileIO(beside, "wb")) if mode == "wb" else open(beside, mode)

        monkeypatch.setattr(pathlib.Path, "open", half)
    with pytest.raises(raised if isinstance(raised, type) else KeyboardInterrupt):
        save_card(job_of("readme"), path, on=ON)
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("make", [card_pdf, card_html])
@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"paper": "A5"}, 'paper: "A5" is not one of the choices; use one of "A4", "Letter"'),
        ({"vehicle": 7}, "vehicle: 7 is not text"),
        ({"by": None}, "by: None is not text"),
        ({"vehicle": "v" * (LONGEST_NAME + 1)}, "vehicle: 81 letters do not fit .*80 or fewer"),
        ({"on": "3 May"}, "on: '3 May' is not a date; write datetime.date"),
    ],
)
def test_options_are_checked(make, given, told):
    with pytest.raises(InputError, match=told):
        make(job_of("readme"), **given)


def test_letters_outside_the_type_are_refused_and_print_as_html():
    with pytest.raises(InputError, match=r"a letter on it is not in the type.*save .* as \.html"):
        card_pdf(Bare(), vehicle="車両", on=ON)
    assert "車両" in card_html(Bare(), vehicle="車両", on=ON)


def test_without_typst_the_pdf_is_refused_and_html_is_made(monkeypatch):
    monkeypatch.setitem(sys.modules, "typst", None)
    with pytest.raises(InputError, match=r"pip install 'coolcalc\[print\]'"):
        card_pdf(Bare(), on=ON)
    assert "Do nothing." in card_html(Bare(), on=ON)


def test_typst_is_imported_only_for_a_pdf():
    code = "import sys, coolcalc.prints; print('typst' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
