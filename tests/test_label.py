"""The filler label: what is inside and how cold it may get, on one small page, never too cold."""

import datetime as dt
import functools
import html
import os
import re
import shutil
import subprocess

import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import coolcalc as cc
from coolcalc.answers import Answer
from coolcalc.errors import InputError
from coolcalc.fluids import FRAC_MASS_SETTLED_MAX
from coolcalc.prints import label_html, label_pdf, save_label
from coolcalc.prints.content import LONGEST_NAME
from coolcalc.prints.label_content import EDGE_MM, LABELS, LabelSizes, read_label

from .published import ROWS, ZERO_C

ON = dt.date(2025, 11, 3)
CANS = {f: cc.Product.generic(f"{f} concentrate") for f in ("ethylene glycol", "propylene glycol")}
CAN = CANS["ethylene glycol"]
READY = cc.Product.generic("ethylene glycol ready-mixed 50 %")
MARKUP = '#[*x*] `raw` <b>$x^2$</b> @ref \\ // _u_ & "q" ~'
LONG = "Delivery van of the northern depot, long wheelbase, with a second heater, no. 71"

EVERY_SIZE = pytest.mark.parametrize("size", LABELS)


def about(strength, error, product=CAN):
    return product.mix(cc.Strength.of("strength", strength, error=error))


def named(name):
    return cc.Product.from_shares(
        name=name, fluid="ethylene glycol", glycol="94 %", density="1.128 kg/L"
    )


def corrected(**more):
    given = {"system": cc.CoolingSystem(capacity="10 L"), "found": "30 % product"}
    given |= {"target": "50 % product", "pour": [CAN, cc.WATER]}
    return cc.correct_mix(**(given | more))


MAKERS = {
    "plain": lambda: (CAN.mix("50 % product"), {"vehicle": "Delivery van 7", "by": "N. N."}),
    "unnamed": lambda: (CANS["propylene glycol"].mix("45 % product"), {}),
    "US": lambda: (CAN.mix("50 % product"), {"units": "US", "instrument": "refractometer 3"}),
    "give or take": lambda: (about("50 % product", "2 %"), {"vehicle": "Tractor 7"}),
    "answer": lambda: (corrected(), {"vehicle": "Tractor 7"}),
    "longest": lambda: (
        about("50 % product", "2 %", named(LONG)),
        {"vehicle": LONG, "by": LONG, "instrument": LONG},
    ),
    "markup": lambda: (
        named(MARKUP).mix("50 % product"),
        {"vehicle": MARKUP, "by": MARKUP, "instrument": MARKUP},
    ),
}
EVERY_CASE = pytest.mark.parametrize("case", MAKERS)


@functools.cache
def pdf_of(case, size="A6"):
    inside, options = MAKERS[case]()
    return label_pdf(inside, on=ON, size=size, **options)


@functools.cache
def page_of(case, size="A6"):
    inside, options = MAKERS[case]()
    return label_html(inside, on=ON, size=size, **options)


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
    """Text of a page; a block ends a word, a piece of a line does not."""
    body = page[page.index("<body>") :]
    text = re.sub(r"<[^>]+>", " ", re.sub(r"</?(b|span)\b[^>]*>", "", body))
    return " ".join(html.unescape(text).split())


def texts(case, size="A6"):
    return read_pdf(pdf_of(case, size))[2], html_text(page_of(case, size))


def packed(text):
    """Text without white space: a long word may break at the end of a line."""
    return "".join(text.split())


def points(*lengths_mm):
    return pytest.approx([each * 72 / 25.4 for each in lengths_mm], abs=0.1)


def figures(mix, **options):
    return {each.name: each for each in read_label(mix, **options).figures}


def number(text):
    return int(text.split()[0].replace("−", "-"))


# --- one page, all of it --------------------------------------------------------------------------


@EVERY_SIZE
@EVERY_CASE
def test_pdf_is_one_page_of_its_size_and_nothing_leaves_the_frame(case, size):
    pages, found, _, boxes = read_pdf(pdf_of(case, size))
    assert pages == 1
    assert found == points(*LABELS[size])
    edge = EDGE_MM * 72 / 25.4
    assert min(min(left, bottom) for left, bottom, _, _ in boxes) > edge
    assert max(right for _, _, right, _ in boxes) < found[0] - edge
    assert max(top for _, _, _, top in boxes) < found[1] - edge


def test_the_longest_names_are_meant():
    assert len(LONG) == LONGEST_NAME


def test_labels_lie_on_their_side():
    """ISO 216, from memory: A6 is 105 by 148 mm, A7 is 74 by 105 mm."""
    assert LABELS == {"A6": (148, 105), "A7": (105, 74)}


@EVERY_SIZE
@EVERY_CASE
@pytest.mark.parametrize("at", [0, 1], ids=["pdf", "html"])
def test_label_says_all_in_order(at, case, size):
    inside, options = MAKERS[case]()
    mix = getattr(inside, "after", inside)
    text = packed(texts(case, size)[at])
    glycol = mix.fluid.capitalize()
    wanted = [glycol, "Since 2025-11-03", mix.product.name]
    place = 0
    for each in map(packed, wanted):
        assert each in text[place:], each
        place += text[place:].index(each) + len(each)
    told = [f"{100 * mix.strength().share:.0f} % of concentrate"]
    told += ["freezing point", "working low", "first ice", "common practice, no source"]
    told += ["Never open hot: scalds. Cold to the hand first; the maker’s handbook decides."]
    told += [f"Top up with the same mix only: {told[0]}."]
    told += ["swallowed: get emergency help now. Used coolant is waste: never into a drain."]
    told += ["Vehicle", options.get("vehicle", ""), "By", options.get("by", "")]
    told += ["Read on", options["instrument"]] if "instrument" in options else []
    for each in told:
        assert packed(each) in text, each


def test_figures_of_a_plain_label():
    for text in texts("plain"):
        assert "−36 °C" in text and "−31 °C" in text and "freezing point + 5 K" in text
        assert "50 %" in text and "51 % glycol by mass" in text
        assert "at least" not in text and "give or take" not in text and "Read on" not in text
        assert "Poisonous if swallowed" in text


def test_propylene_glycol_is_not_called_poisonous_and_is_waste_still():
    for text in texts("unnamed"):
        assert "Poisonous" not in text
        assert "Harmful if swallowed" in text and "Used coolant is waste" in text


def test_us_units():
    for text in texts("US"):
        assert "−33 °F" in text or "−34 °F" in text
        assert "freezing point + 9 °F" in text and "°C" not in text and " K" not in text


def test_names_left_empty_are_lines_to_write_on():
    assert "Vehicle By" in texts("unnamed")[0]
    assert "<span>Vehicle</span> <b></b>" in page_of("unnamed")


def test_an_answer_says_that_its_strength_was_worked_out():
    for text in texts("answer"):
        assert "worked out from the litres" in text
    text = read_pdf(label_pdf(corrected(), instrument="refractometer 3", on=ON))[2]
    assert "Read on refractometer 3" in text and "worked out" not in text


def test_an_answer_brings_its_own_units():
    job = corrected(show_in="US")
    assert "°F" in html_text(label_html(job)) and "°C" not in html_text(label_html(job))
    assert "°C" in html_text(label_html(job, units="metric"))


def test_today_is_the_date_unless_another_is_given():
    text = html_text(label_html(CAN.mix("50 % product")))
    shown = dt.date.fromisoformat(re.search(r"\d{4}-\d\d-\d\d", text)[0])
    assert dt.date.today() - shown <= dt.timedelta(days=1)


def test_type_is_as_large_as_the_room_allows():
    for case in ("plain", "unnamed", "US", "give or take"):
        for size, least in (("A6", 12.0), ("A7", 8.0)):
            text = float(re.search(r"--text: ([\d.]+)pt", page_of(case, size))[1])
            assert text >= least
    for text in (7.0, 11.0, 15.0):
        sizes = LabelSizes(text)
        assert sizes.figure > sizes.title > sizes.text >= sizes.small


# --- never colder than computed -------------------------------------------------------------------


@settings(deadline=None)
@given(
    fluid=st.sampled_from(sorted(CANS)),
    frac_mass=st.floats(0.1, FRAC_MASS_SETTLED_MAX),
    half_width=st.sampled_from([0.0, 0.01, 0.04]),
    margin=st.floats(0.0, 20.0),
    system=st.sampled_from(["metric", "US", "imperial"]),
)
def test_figures_are_rounded_to_the_warm_side(fluid, frac_mass, half_width, margin, system):
    mix = cc.Mixture(product=CANS[fluid], frac_mass=frac_mass, half_width=half_width)
    shown = figures(mix, margin=f"{margin:.6f} K", units=system)
    degree = 1.0 if system != "US" else 1.8

    def in_unit(temp_k):
        return (temp_k - ZERO_C) * degree + (32.0 if system == "US" else 0.0)

    freeze, low = (number(shown[name].text) for name in ("freezing point", "working low"))
    weakest = cc.Mixture(product=mix.product, frac_mass=frac_mass - half_width)
    computed = in_unit(weakest.freeze_temp.m)
    assert freeze >= computed - 1e-6  # less is the dust of a change of units
    if frac_mass + half_width <= FRAC_MASS_SETTLED_MAX:
        assert freeze < computed + 1.0
    assert 0.0 - 1e-5 <= low - (freeze + margin * degree) < 1.0
    assert ("at least" in shown["freezing point"].rests_on) == (half_width > 0.0)


def test_half_concentrate_against_the_specification():
    """The limit of astm-d4985 (2010, scope), -36.4 °C: never colder, 1 K and rounding warmer."""
    (limit,) = (
        row
        for row in ROWS
        if row["property"] == "freezing_point_limit" and row["source"] == "astm-d4985"
    )
    shown = number(figures(CAN.mix("50 % product"))["freezing point"].text)
    assert float(limit["value"]) <= shown <= float(limit["value"]) + 1.0 + 1.0


def test_past_the_weak_end_a_strong_mix_may_freeze_warmer_still():
    """Within 60 mass % give or take 8 lie mixes for which only bounds are published."""
    mix = cc.Mixture(product=CAN, frac_mass=0.6, half_width=0.08)
    shown = number(figures(mix)["freezing point"].text)
    warm = cc.Mixture(product=CAN, frac_mass=0.68).freeze_bound[1].m - ZERO_C
    assert shown >= warm


def test_give_or_take_is_told():
    strength = figures(about("50 % product", "2 %"))["of concentrate"]
    assert strength.text == "50 %"
    assert re.search(r"give or take [23] %", strength.rests_on)  # rounded up
    assert "at least" in html_text(page_of("give or take"))


def test_margin_is_told_and_only_the_usual_one_is_common_practice():
    mix = CAN.mix("50 % product")
    usual, other = figures(mix)["working low"], figures(mix, margin="2.5 K")["working low"]
    assert usual.rests_on == "freezing point + 5 K; common practice, no source"
    assert other.rests_on == "freezing point + 2.5 K"
    assert number(other.text) == number(figures(mix)["freezing point"].text) + 3  # rounded up
    assert figures(mix, margin="9 °F") == figures(mix)


def test_ready_mixed_is_per_cent_of_itself():
    shown = figures(READY.mix("100 % product"))
    assert shown["of product"].text == "100 %"
    strong = cc.Mixture(product=READY, frac_mass=0.58)  # more than the product itself
    assert figures(strong)["glycol by mass"].text == "58 %"
    assert "58 % glycol by mass." in html_text(label_html(strong))


# --- refusals -------------------------------------------------------------------------------------


class NoMix(Answer):
    """An answer that does not end with a mix."""

    title = "Something else"


def blocked():
    return corrected(pour=[READY], target="-45 °C")


@pytest.mark.parametrize(
    ("inside", "told"),
    [
        ("50 % product", r"str does not end with a mix; give a mix, e\.g\. product\.mix"),
        (NoMix(), "“Something else” does not end with a mix; give a mix"),
        (blocked(), "“Correct the mix” cannot be reached .* no mix to label. Do what"),
        (CAN.mix("66 % product"), r"6\d\.\d % of glycol by mass is stronger .*Bring the mix to 60"),
        (CAN.mix("100 % product"), "no label can promise a freezing point.*read it again"),
        (CAN.mix("0 % product"), "freezes at 0 °C, as plain water does.*Correct the mix"),
        (about("3 % product", "4 %"), "at the weak end of its give or take, freezes at 0 °C"),
    ],
)
def test_what_no_label_can_promise_is_refused(inside, told):
    with pytest.raises(InputError, match=told):
        label_html(inside)


@pytest.mark.parametrize("make", [label_pdf, label_html])
@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"size": "A5"}, 'size: "A5" is not one of the choices; use one of "A6", "A7"'),
        ({"units": "SI"}, 'units: "SI" is not one of the choices'),
        ({"margin": "21 K"}, r"margin: 21 K"),
        ({"margin": "-1 K"}, r"margin: −1 K"),
        ({"margin": 5}, "margin: "),
        ({"margin": "5 %"}, "margin: "),
        ({"vehicle": 7}, "vehicle: 7 is not text"),
        ({"by": "v" * 81}, "by: 81 letters do not fit on the label; write it in 80 or fewer"),
        ({"instrument": None}, "instrument: None is not text"),
        ({"on": "3 May"}, "on: '3 May' is not a date"),
    ],
)
def test_options_are_checked(make, given, told):
    with pytest.raises(InputError, match=told):
        make(CAN.mix("50 % product"), **given)


def test_what_does_not_fit_is_refused():
    wide = dict.fromkeys(("vehicle", "by", "instrument"), "W" * 80)
    mix = about("50 % product", "2 %", named(LONG))
    with pytest.raises(InputError, match=r"does not fit.*take the larger size; or save it as"):
        label_html(mix, size="A7", **wide)
    assert read_pdf(label_pdf(mix, size="A6", **wide))[0] == 1


# --- reproducible, black and grey, data and never markup ------------------------------------------


@EVERY_CASE
def test_same_bytes_twice(case):
    inside, options = MAKERS[case]()
    assert label_pdf(inside, on=ON, **options) == pdf_of(case)
    assert label_html(inside, on=ON, **options) == page_of(case)


@EVERY_SIZE
@EVERY_CASE
def test_pdf_is_black_and_grey(case, size):
    document = pypdfium2.PdfDocument(pdf_of(case, size))
    page = document[0]
    pixels = page.render(scale=2).to_numpy()
    page.close()
    document.close()
    assert pixels.ndim == 3 and pixels.shape[2] >= 3
    assert (pixels[..., :3] == pixels[..., :1]).all()
    assert pixels[..., :3].min() == 0 and pixels[..., :3].mean() > 200


@EVERY_CASE
def test_html_is_grey_and_asks_nothing_of_another_place(case):
    page = page_of(case)
    for colour in re.findall(r"#([0-9a-f]{6})\b", page[: page.index("</style>")]):
        assert colour[:2] == colour[2:4] == colour[4:]
    assert "@page { size: 148mm 105mm; margin: 2.5mm; }" in page
    assert not re.search(r"https?:|src=|href=|url\(|@import|<script|<link", page)


def test_user_text_is_data():
    assert "<b>$" not in page_of("markup")
    assert page_of("markup").count(html.escape(MARKUP)) == 4
    assert packed(texts("markup")[0]).count(packed(MARKUP)) == 4
    nasty = '<script>alert(1)</script>\' onload="x"'
    page = label_html(CAN.mix("50 % product"), vehicle=nasty, by=nasty, instrument=nasty)
    assert "<script" not in page and page.count(html.escape(nasty)) == 3


PERMISSION = re.compile(
    r"\bsafe(ly)?\b|\b(may|can|could)\b (now )?(be )?open|\bok(ay)?\b|harmless", re.IGNORECASE
)


@EVERY_CASE
def test_nothing_reads_as_permission_and_no_colour_is_named(case):
    for text in texts(case):
        assert not PERMISSION.search(text)
        assert len(re.findall(r"\bopen", text)) == 1 and "Never open hot: scalds." in text
        assert not re.search(r"\b(green|blue|red|pink|yellow|orange|colour)\b", text)


# --- files ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["label.pdf", "label.HTML"])
def test_save_label_writes_what_the_suffix_says(name, tmp_path):
    mix, options = MAKERS["plain"]()
    path = save_label(mix, str(tmp_path / name), on=ON, **options)
    assert path == tmp_path / name
    assert path.read_bytes() == (
        pdf_of("plain") if name.endswith("pdf") else page_of("plain").encode()
    )
    assert [each.name for each in tmp_path.iterdir()] == [name]


def test_an_answer_saves_its_label(tmp_path):
    job, options = MAKERS["answer"]()
    path = job.save_label(tmp_path / "label.pdf", on=ON, size="A7", **options)
    assert path.read_bytes() == pdf_of("answer", "A7")


def test_a_refused_label_leaves_the_old_file(tmp_path):
    path = tmp_path / "label.pdf"
    path.write_bytes(b"old")
    with pytest.raises(InputError, match="cannot be reached"):
        blocked().save_label(path)
    assert path.read_bytes() == b"old" and list(tmp_path.iterdir()) == [path]
    with pytest.raises(InputError, match=r"ends neither in \.pdf nor in \.html"):
        save_label(CAN.mix("50 % product"), tmp_path / "label.png")


@pytest.mark.browser
@EVERY_SIZE
@EVERY_CASE
def test_html_prints_on_one_page(case, size, tmp_path):
    chromium = os.environ.get("COOLCALC_CHROMIUM") or shutil.which("chromium")
    if chromium is None:
        pytest.skip("no Chromium found: install it, or name it in COOLCALC_CHROMIUM")
    made, printed = tmp_path / "label.html", tmp_path / "printed.pdf"
    made.write_text(page_of(case, size), encoding="utf-8")
    flags = ["--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer"]
    flags += [f"--user-data-dir={tmp_path / 'profile'}", f"--print-to-pdf={printed}"]
    subprocess.run([chromium, *flags, made.as_uri()], check=True, capture_output=True, timeout=120)
    pages, found, text, _ = read_pdf(printed.read_bytes())
    assert pages == 1
    assert found == pytest.approx([each * 72 / 25.4 for each in LABELS[size]], abs=1)
    assert "Never open hot" in text
