"""The sheet of a frost standard: one page with the figures of the answer, never markup."""

import datetime as dt
import functools
import html
import os
import pathlib
import re
import shutil
import subprocess

import pypdfium2
import pytest

import coolcalc as cc
from coolcalc.errors import InputError
from coolcalc.jobs.frost_words import limit_labels
from coolcalc.jobs.winter_low import TEXT_MAX
from coolcalc.prints import save_standard_sheet, standard_sheet_html, standard_sheet_pdf
from coolcalc.prints.content import LONGEST_NAME, PAPERS
from coolcalc.prints.markup import width_of
from coolcalc.prints.standard_content import SIZES, SheetSizes, read_standard
from coolcalc.prints.standard_drawing import svg_of

ON = dt.date(2025, 11, 3)
CAN = cc.Product.generic("ethylene glycol concentrate")
WINTERS = pathlib.Path(__file__).parents[1] / "data" / "demo_winters.csv"
MARKUP = '#[*x*] `raw` <b>$x^2$</b> @ref \\ // _u_ & "q" ~'
LONG = "Depot of the northern district behind the old works, second yard, with the long shed"
LONG = (LONG + " and the washing place at its far end by the road")[:TEXT_MAX]
STOP = {"Hask Saddle": "-33 °C"}
HEIGHTS = {"station_height": "190 m", "depot_height": "305 m"}
HOLLOW = {"site": "hollow or valley floor", "colder_than_station": "3 K", "colder_error": "1.5 K"}

MAKERS = {
    "floor": {"depot": "Selquay Mole"},
    "frost": {"depot": "Tamberlode Field", "hottest": "105 °C"},
    "ceiling": {"depot": "Vorrahult"},
    "hollow": {"depot": "Nethimple Rise", "night_stops": {"Hask Saddle": "-41 °C"}} | HOLLOW,
    "US": {"depot": "Orlasker Mill", "night_stops": STOP, "show_in": "US"} | HEIGHTS,
    "trial": {"depot": "Orlasker Mill", "night_stops": STOP, "without": ["low", "instrument"]},
    "given": {"depot": "Upper yard", "low": "-27 °C"},
    "Brix": {
        "depot": "Upper yard",
        "low": "-27 °C",
        "low_error": "3 K",
        "instrument": cc.Refractometer(scale="Brix"),
    },
    "propylene glycol": {
        "depot": "Selquay Mole",
        "pour": [cc.Product.generic("propylene glycol concentrate"), cc.WATER],
    },
    "longest": {
        "depot": LONG,
        "column": "Vorrahult",
        "night_stops": {LONG: "-52 °C"},
        "test_every": LONG,
        "without": ["site"],
    },
    "markup": {
        "depot": MARKUP,
        "low": "-27 °C",
        "low_basis": MARKUP,
        "test_every": MARKUP,
        "night_stops": {MARKUP: "-33 °C"},
    },
}
NAMES = {"longest": "N" * 20 + " " + "e" * (LONGEST_NAME - 21), "markup": MARKUP}
EVERY_CASE = pytest.mark.parametrize("case", MAKERS)
EVERY_PAPER = pytest.mark.parametrize("paper", PAPERS)
EVERY_KIND = pytest.mark.parametrize("kind", ["pdf", "html"])


@functools.cache
def job_of(case):
    given = {"pour": [CAN, cc.WATER]} | MAKERS[case]
    if "low" not in given:
        given = {"minima": WINTERS, "column": given["depot"]} | given
    return cc.frost_standard(**given)


def options(case, paper="A4"):
    return {"on": ON, "by": NAMES.get(case, "R. Ondrell"), "paper": paper}


@functools.cache
def pdf_of(case, paper="A4"):
    return standard_sheet_pdf(job_of(case), **options(case, paper))


@functools.cache
def page_of(case, paper="A4"):
    return standard_sheet_html(job_of(case), **options(case, paper))


def read_pdf(pdf):
    """Pages, size of the first in points, its text, and the boxes of its letters."""
    document = pypdfium2.PdfDocument(pdf)
    page = document[0]
    text_page = page.get_textpage()
    text = text_page.get_text_range().replace("\ufffe", "-")
    boxes = [text_page.get_charbox(at) for at in range(text_page.count_chars())]
    found = len(document), page.get_size(), " ".join(text.split()), boxes
    for each in (text_page, page, document):
        each.close()
    return found


def html_text(page):
    body = page[page.index("<body>") :]
    text = re.sub(r"<[^>]+>", " ", re.sub(r"</?(b|span)\b[^>]*>", "", body))
    return " ".join(html.unescape(text).split())


def text_of(kind, case, paper="A4"):
    if kind == "pdf":
        return read_pdf(pdf_of(case, paper))[2]
    return html_text(page_of(case, paper))


def packed(text):
    """Text without white space: a long word may break at the end of a line."""
    return "".join(text.split())


# --- one page, all of it --------------------------------------------------------------------------


@EVERY_PAPER
@EVERY_CASE
def test_pdf_is_one_page_of_its_paper_and_nothing_leaves_it(case, paper):
    pages, found, _, boxes = read_pdf(pdf_of(case, paper))
    assert pages == 1
    assert found == pytest.approx([each * 72 / 25.4 for each in PAPERS[paper]], abs=0.1)
    edge = 9.0 * 72 / 25.4
    assert min(min(left, bottom) for left, bottom, _, _ in boxes) > edge
    assert max(right for _, _, right, _ in boxes) < found[0] - edge
    assert max(top for _, _, _, top in boxes) < found[1] - edge


@EVERY_PAPER
@EVERY_CASE
@EVERY_KIND
def test_sheet_says_all_of_the_standard(kind, case, paper):
    job = job_of(case)
    text = packed(text_of(kind, case, paper))
    told = [f"Frost standard: {job.depot}", "2025-11-03", options(case)["by"]]
    told += [*limit_labels(job), job.correct_below, job.correct_above, "Fill to"]
    told += [f"{100 * job.strength.share:.0f} %", job.freezing_words(job.fill), job.scale_words()]
    told += [f"Test: {job.test_every}.", f"the {job.decides}"]
    told += [f"{job.decides} decides"] if case != "longest" else []  # the drawing may be left out
    told += [row.text for row in job.rows if row.label in SAME_ROWS]
    standard = job.standard
    told += [
        job.temp_words(each, 1) for each in (job.winter_low.low_k, standard.air_k, standard.hold_k)
    ]
    told += [job.temp_words(each, 1) for each in (standard.limit_k, standard.fill_need_k)]
    told += [caution.text for caution in job.cautions]
    told += ["Signature", "Set again on", "Valid until set again.", "Sources:"]
    if job.winter_low.doubt_known:
        told += [job.temp_words(each, 1) for each in (job.doubt.low, job.doubt.high)]
    if standard.where:
        told += [f"at {standard.where} (a night stop)"]
    for each in map(packed, told):
        assert each in text, each


#: Rows of the answer that stand on the sheet as they are.
SAME_ROWS = {
    "Low",
    "Floor for the inhibitors",
    "Ceiling for cooling",
    "Filled so, a vehicle holds",
    "Filled so, it reads within the limits",
}


@EVERY_CASE
def test_the_table_of_margins_adds_up_as_printed(case):
    """Told with the eyes of a reader: from one sum to the next only what stands between."""

    def number(words):
        return float(words.split()[0].replace("−", "-"))

    stack = read_standard(job_of(case)).stack
    at = number(stack[0].ends)
    for row in stack[1:]:
        if row.is_sum:
            assert number(row.ends) == pytest.approx(at, abs=1e-9), row
        elif not row.takes.startswith("off"):
            at -= number(row.takes)


@EVERY_KIND
@EVERY_CASE
def test_every_row_of_the_table_is_printed(kind, case):
    text = packed(text_of(kind, case))
    place = text.index(packed("The margins, one by one"))
    for row in read_standard(job_of(case)).stack:
        for each in map(packed, row[:3]):
            assert each in text[place:], row


@EVERY_KIND
def test_water_is_that_of_astm(kind):
    """ASTM D6210 (appendix X1): chloride 40, sulphate 100, hardness 170, solids 340 mg/L, pH."""
    text = text_of(kind, "frost")
    for each in ("hardness at most 170", "chloride at most 40", "sulphate at most 100"):
        assert each in text
    assert "total solids at most 340 mg/L, pH 5.5 to 9.0" in text


def test_no_water_is_told_where_none_is_poured():
    ready = cc.Product.from_shares(
        name="Yard mix", fluid="ethylene glycol", glycol="55 %", density="1.08 kg/L"
    )
    job = cc.frost_standard(
        depot="Yard", low="-12 °C", pour=ready, floor="60 % product", ceiling="100 % product"
    )
    text = html_text(standard_sheet_html(job))
    assert "Fill with Yard mix as it is." in text and "hardness" not in text


@EVERY_KIND
def test_ceiling_says_what_it_is_short_by(kind):
    job, text = job_of("ceiling"), text_of(kind, "ceiling")
    assert job.decides == "ceiling" and job.short.m > 0
    assert f"Short by {job.difference_words(job.standard.short_k, 1)}" in text
    assert "The limits only keep vehicles to the fill" in text
    for case in ("floor", "frost"):
        assert "Short by" not in text_of(kind, case) and "only keep" not in text_of(kind, case)


@EVERY_KIND
def test_a_trial_is_called_one_at_the_top(kind):
    text = text_of(kind, "trial")
    words = "Trial, not a standard to use. Switched off, and not counted: instrument, low."
    assert packed(words) in packed(text[: text.index("Correct if")])
    assert "off (would be" in text
    assert "Trial" not in text_of(kind, "frost") and "off (would" not in text_of(kind, "frost")


@EVERY_KIND
def test_us_units(kind):
    text = text_of(kind, "US", "Letter").partition("Sources:")[0]
    assert "°F" in text and "°C" not in text and " ft " in text
    assert not re.search(r"\d K\b", text)


@EVERY_KIND
def test_a_scale_that_rises_with_strength_reads_lower_and_higher(kind):
    text = text_of(kind, "Brix")
    assert "Correct below" in text and "Correct above" in text
    assert "warmer than this" not in text
    assert "Correct if warmer than" in text_of(kind, "frost")


def test_open_questions_are_all_there_shorter_where_there_is_no_room():
    for case in MAKERS:
        content = read_standard(job_of(case))
        assert len(content.short_questions) == len(job_of(case).questions)
        for short, whole in zip(content.short_questions, content.questions, strict=True):
            assert whole.startswith(short.removesuffix(".")) and short.endswith(".")
    (first, *_) = read_standard(job_of("markup")).short_questions
    assert first.startswith("Nothing is known of how sure the low is")
    stop = cc.frost_standard(
        depot="Yard",
        low="-5 °C",
        pour=CAN,
        night_stops={"Old Tower. East": "-30 °C"},
        site="open",
    )
    shorts = read_standard(stop).short_questions
    assert any("at Old Tower. East is was not told" in each for each in shorts)


def test_only_sources_of_what_is_on_the_sheet():
    job = job_of("frost")
    sources = " ".join(read_standard(job).sources)
    assert {"dittus-boelter-1930", "hosking-1990"} <= set(job.source_keys)
    assert "Hosking" in sources and "D6210" in sources and "J814" in sources
    assert "Dittus" not in sources and "wind chill" not in sources
    by_height = cc.frost_standard(
        depot="Yard", low="-5 °C", pour=CAN, station_height="100 m", depot_height="400 m"
    )
    assert "ISO 2533" in " ".join(read_standard(by_height).sources)


def test_type_is_large_enough_to_hang_up():
    texts = [sizes.text for sizes in SIZES]
    assert texts == sorted(texts, reverse=True) and texts[-1] >= 7
    for text in texts:
        sizes = SheetSizes(text)
        assert sizes.figure > 2 * sizes.title and sizes.title > sizes.large > sizes.text
        assert sizes.text >= sizes.small >= 7
    for case in ("floor", "frost", "hollow"):
        text = float(re.search(r"--text: ([\d.]+)pt", page_of(case))[1])
        assert text >= 8


def test_names_left_empty_are_lines_to_write_on():
    assert "<span>Set by</span> <b></b>" in standard_sheet_html(job_of("frost"), on=ON)
    assert "<span>Signature</span> <b></b>" in page_of("frost")


def test_today_is_the_date_unless_another_is_given():
    shown = dt.date.fromisoformat(
        re.search(r"Date (\d{4}-\d\d-\d\d)", html_text(standard_sheet_html(job_of("given"))))[1]
    )
    assert dt.date.today() - shown <= dt.timedelta(days=1)


# --- data, never markup; black and grey; the same again -------------------------------------------


@EVERY_KIND
def test_user_text_is_data(kind):
    text = packed(text_of(kind, "markup"))
    # Title, set by, tests, basis of the low, night stop in the stack and in its row.
    assert text.count(packed(MARKUP)) >= 6
    assert "<b>$" not in page_of("markup")


def test_nothing_is_run_that_was_typed():
    nasty = '<script>alert(1)</script>\' onload="x"'
    job = cc.frost_standard(
        depot=nasty,
        low="-27 °C",
        low_basis=nasty,
        pour=CAN,
        test_every=nasty,
        night_stops={nasty: "-33 °C"},
        instrument=cc.Refractometer(made_for="ethylene glycol", name=nasty),
    )
    page = standard_sheet_html(job, by=nasty)
    assert "<script" not in page and 'onload="' not in page
    assert page.count(html.escape(nasty)) >= 7
    assert packed(read_pdf(standard_sheet_pdf(job, by=nasty))[2]).count(packed(nasty)) >= 7


@EVERY_KIND
@pytest.mark.parametrize("name", ["Čistá Lhota – dvůr", "Άνω αυλή", "Верхний двор № 3"])
def test_names_in_latin_greek_and_cyrillic(kind, name):
    job = cc.frost_standard(
        depot=name, low="-27 °C", low_basis=name, pour=[CAN, cc.WATER], night_stops={name: "-31 °C"}
    )
    if kind == "pdf":
        text = read_pdf(standard_sheet_pdf(job, by=name, on=ON))[2]
    else:
        text = html_text(standard_sheet_html(job, by=name, on=ON))
    assert packed(text).count(packed(name)) >= 4


def test_other_letters_are_refused_in_pdf_and_printed_in_html():
    job = cc.frost_standard(depot="倉庫", low="-27 °C", pour=CAN)
    with pytest.raises(InputError, match=r"sheet: .*write names in Latin, Greek or Cyrillic"):
        standard_sheet_pdf(job)
    assert "倉庫" in standard_sheet_html(job)


@EVERY_CASE
def test_pdf_is_black_and_grey(case):
    document = pypdfium2.PdfDocument(pdf_of(case))
    page = document[0]
    pixels = page.render(scale=2).to_numpy()
    page.close()
    document.close()
    assert pixels.ndim == 3 and pixels.shape[2] >= 3
    assert (pixels[..., :3] == pixels[..., :1]).all()
    assert pixels[..., :3].min() == 0 and pixels[..., :3].mean() > 190


@EVERY_CASE
def test_html_is_grey_and_asks_nothing_of_another_place(case):
    page = page_of(case)
    for colour in re.findall(r"#([0-9a-f]{6})\b", page):
        assert colour[:2] == colour[2:4] == colour[4:]
    body = page if case != "markup" else page.replace(html.escape(MARKUP), "")
    assert not re.search(r"https?:|src=|href=|url\(|@import|<script|<link", body)


@EVERY_CASE
def test_same_bytes_twice(case):
    assert standard_sheet_pdf(job_of(case), **options(case)) == pdf_of(case)
    assert standard_sheet_html(job_of(case), **options(case)) == page_of(case)


PERMISSION = re.compile(
    r"\bsafe(ly)?\b|\b(may|can|could)\b (now )?(be )?open|\bok(ay)?\b|harmless", re.IGNORECASE
)


@EVERY_KIND
@EVERY_CASE
def test_nothing_reads_as_permission(kind, case):
    assert not PERMISSION.search(text_of(kind, case))


# --- the drawing ----------------------------------------------------------------------------------


@EVERY_CASE
def test_drawing_keeps_its_words_inside_and_bars_in_order(case):
    content = read_standard(job_of(case))
    rows, end = content.drawn
    svg = svg_of(rows, end, content.axis, 190.0)
    bars = re.findall(r"<rect x='([\d.]+)' y='[\d.]+' width='([\d.]+)'", svg)
    assert len(bars) == sum(row["kind"] != "fill" and row["share"] is not None for row in rows)
    for left, width in bars:
        assert float(left) >= 34 and float(left) + float(width) <= 190
    for x, anchor, text in re.findall(
        r"<text x='([\d.]+)'[^>]*text-anchor='(\w+)'[^>]*>([^<]*)", svg
    ):
        wide = 3.5 * width_of(html.unescape(text))  # [mm], of the widest common type
        left = float(x) - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
        assert left > -4 and left + wide < 190 + 5


# --- files and options ----------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["sheet.pdf", "sheet.HTML"])
def test_a_standard_saves_its_sheet(name, tmp_path):
    path = job_of("frost").save_sheet(tmp_path / name, by="R. Ondrell", on=ON)
    assert path.read_bytes() == (
        pdf_of("frost") if name.endswith("pdf") else page_of("frost").encode()
    )
    assert [each.name for each in tmp_path.iterdir()] == [name]


def test_a_sheet_in_other_units(tmp_path):
    path = job_of("frost").save_sheet(tmp_path / "sheet.html", units="US")
    text = html_text(path.read_text(encoding="utf-8"))
    assert "°F" in text and "°C" not in text


@pytest.mark.parametrize("make", [standard_sheet_pdf, standard_sheet_html])
@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"paper": "A5"}, 'paper: "A5" is not one of the choices'),
        ({"by": "v" * 81}, "by: 81 letters do not fit on the sheet"),
        ({"by": None}, "by: None is not text"),
        ({"on": "3 May"}, "on: '3 May' is not a date"),
    ],
)
def test_options_are_checked(make, given, told):
    with pytest.raises(InputError, match=told):
        make(job_of("given"), **given)


def test_a_refused_sheet_leaves_the_old_file(tmp_path):
    path = tmp_path / "sheet.pdf"
    path.write_bytes(b"old")
    with pytest.raises(InputError, match="not one of the choices"):
        save_standard_sheet(job_of("given"), path, paper="A5")
    assert path.read_bytes() == b"old"
    with pytest.raises(InputError, match=r"ends neither in \.pdf nor in \.html"):
        save_standard_sheet(job_of("given"), tmp_path / "sheet.png")


@pytest.mark.browser
@EVERY_PAPER
@EVERY_CASE
def test_html_prints_on_one_page(case, paper, tmp_path):
    chromium = os.environ.get("COOLCALC_CHROMIUM") or shutil.which("chromium")
    if chromium is None:
        pytest.skip("no Chromium found: install it, or name it in COOLCALC_CHROMIUM")
    made, printed = tmp_path / "sheet.html", tmp_path / "printed.pdf"
    made.write_text(page_of(case, paper), encoding="utf-8")
    flags = ["--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer"]
    flags += [f"--user-data-dir={tmp_path / 'profile'}", f"--print-to-pdf={printed}"]
    subprocess.run([chromium, *flags, made.as_uri()], check=True, capture_output=True, timeout=120)
    pages, _, text, _ = read_pdf(printed.read_bytes())
    assert pages == 1
    assert "Valid until set again" in text
