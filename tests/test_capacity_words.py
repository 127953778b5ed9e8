"""What answers about a capacity say, refuse and print."""

import re

import pytest

import coolcalc as cc
from coolcalc.errors import FormError, InputError
from coolcalc.jobs.parts_table import EXAMPLE_PARTS, parts_csv, read_parts, save_parts

EG = "ethylene glycol"
CAN = cc.Product.generic(f"{EG} concentrate")
OTHER = cc.Product.generic("propylene glycol concentrate")
MIX_35 = CAN.mix("35 % product")


def read(per_cent, give_or_take=2.0):
    return cc.Strength(per_cent / 100, "volume % of product", half_width=give_or_take / 100)


def swap_of(**more):
    told = {"before": read(35), "after": read(41.5), "swapped": "1 L", "pour": CAN}
    return cc.capacity_from_swap(**(told | more))


def fill_of(**more):
    return cc.capacity_from_fill(**({"poured": ["5 L", "3.8 L"]} | more))


def parts_of(*rows, **more):
    return cc.capacity_from_parts(parts=rows or EXAMPLE_PARTS, **more)


HOSE = {"part": "hose", "kind": "hose", "bore": "32 mm", "length": "1.5 m"}
CASES = {
    "fill": fill_of,
    "fill, made up": lambda **more: fill_of(
        topped_up="0.4 L", still_inside="3 L", still_inside_error="2 L", **more
    ),
    "parts": parts_of,
    "parts, one bad": lambda **more: parts_of(HOSE, HOSE | {"bore": "-3 mm"}, **more),
    "swap": swap_of,
    "swap, too little": lambda **more: swap_of(after=read(37), **more),
    "swap, about": lambda **more: swap_of(after=read(37), about="10 L", **more),
    "swap, exact": lambda **more: swap_of(
        before=CAN.mix("35 % product"), after=CAN.mix("41 % product"), **more
    ),
    "swap, good": lambda **more: swap_of(
        before=read(35, 0.3), after=read(55, 0.3), swapped="3 L", **more
    ),
    "swap, none does": lambda **more: swap_of(
        before=read(35, 4.0), after=read(37, 4.0), wanted="1 %", **more
    ),
}


@pytest.mark.parametrize("system", ["metric", "US", "imperial"])
@pytest.mark.parametrize("case", CASES)
def test_every_case_reads_well(case, system):
    job = CASES[case](show_in=system)
    whole = "\n".join([str(job), str(job.working), str(job.odds), *(row.text for row in job.rows)])
    for bad in ("nan", "inf ", "None", "  ", "..", "e-0", "{", "−0.0"):
        assert bad not in whole
    assert "cold to the hand" in whole
    assert any(caution.code == "poison" for caution in job.cautions)
    assert job.to_frame().shape[0] == 1
    assert "<ol>" in job._repr_html_()


@pytest.mark.parametrize("case", CASES)
def test_the_measured_fill_comes_first(case):
    if not case.startswith("fill"):
        assert "to measure what goes in when the system is next filled from empty" in str(
            CASES[case]()
        )


@pytest.mark.parametrize(
    ("case", "says"),
    [
        ("fill", r"Nothing was made up after a run"),
        ("fill, made up", r"What was still inside is known so badly"),
        ("parts", r"Measure block and head better: of the give or take it makes the most"),
        ("parts", r"Counted with it, but not always taking part: cabin heater"),
        ("parts, one bad", r"1 of 2 rows cannot be counted: .* is not the capacity\."),
        ("parts, one bad", r"Row 2 \(hose\) is not counted\. bore: −3 mm is below 0 mm"),
        ("swap", r"between 7\.\d+ and 1[678]\.\d+ L, 95 times of 100"),
        ("swap", r"The span is wider upward"),
        ("swap", r"For give or take 10 %, a swap of 3\.[78]\d L \(3\d % of what it holds"),
        ("swap, too little", r"Not told by this swap: the readings differ by 1\.4 standard"),
        ("swap, too little", r"For give or take 10 %, a swap of 3\d % of what it holds"),
        ("swap, about", r"\(38 % of what it holds, if that is 10\.00 L\)"),
        ("swap, exact", r"No error of the readings was entered, so the span says nothing"),
        ("swap, good", r"Write down: holds 9\.\d+ L, give or take 0\.\d+ L, by a swap"),
        ("swap, none does", r"No swap of ethylene glycol concentrate in one drain"),
    ],
)
def test_what_it_says(case, says):
    assert re.search(says, str(CASES[case]()))


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: fill_of(poured=[]), r"poured: nothing is listed; give what went in"),
        (lambda: fill_of(poured=5), r"poured: nothing is listed"),
        (lambda: fill_of(poured=["5 L", "3.8"]), r"poured, 2: 3\.8 has no unit"),
        (lambda: fill_of(poured=201 * ["1 L"]), r"poured: 201 measures are more than 200"),
        (lambda: fill_of(poured="0.1 L"), r"poured: in all 0\.1 L, which is not between 0\.2 L"),
        (lambda: fill_of(jug_error="30 %"), r"jug_error: 30 % is above 20 %"),
        (lambda: fill_of(each_error="2 L"), r"each_error: 2\.00 L is more than half of the small"),
        (
            lambda: fill_of(still_inside_error="1 L"),
            r"still_inside_error: 1\.00 L is more than what was still inside \(0\.00 L\)",
        ),
        (lambda: cc.capacity_from_parts(parts=5), r"parts: that is no table of parts; give a"),
        (lambda: cc.capacity_from_parts(parts=HOSE), r"parts: that is no table of parts"),
        (lambda: cc.capacity_from_parts(parts=[]), r"parts: the table is empty"),
        (lambda: cc.capacity_from_parts(parts=[{}]), r"parts: the table is empty"),
        (lambda: cc.capacity_from_parts(parts="nowhere.csv"), r"nowhere\.csv cannot be read"),
        (lambda: parts_of(HOSE | {"colour": "red"}), r'parts: there is no column "colour"; the'),
        (lambda: parts_of(HOSE | {"length": "0.1 m"}), r"parts: in all 0\.1 L, which is not"),
        (lambda: parts_of(*501 * [HOSE]), r"parts: 501 rows are more than 500"),
        (lambda: swap_of(swapped="0 L"), r"swapped: nothing was swapped"),
        (lambda: swap_of(swapped_error="0.6 L"), r"swapped_error: 0\.60 L is half of what was"),
        (lambda: swap_of(pour="can"), r"pour: 'can' is not a product"),
        (lambda: swap_of(wanted="0.5 %"), r"wanted: 0\.5 % is below 1 %"),
        (lambda: swap_of(about="0 L"), r"about: 0 L is below 0\.2 L"),
        (lambda: swap_of(after=read(25)), r"after: the reading went from 35 % of product to 25 %"),
        (
            lambda: swap_of(pour=cc.WATER, before=MIX_35, after=CAN.mix("45 % product")),
            r"after: the reading went from 35 % .* away from what was poured \(water\)",
        ),
        (
            lambda: swap_of(pour=cc.Product.generic(f"{EG} ready-mixed 50 %"), before=read(50)),
            r"pour: ethylene glycol ready-mixed 50 % is as strong as the mix",
        ),
        (
            lambda: swap_of(before=MIX_35, after=OTHER.mix("40 % product")),
            r"after: propylene glycol",
        ),
    ],
)  # fmt: skip
def test_refusals(call, says):
    with pytest.raises(InputError, match=says):
        call()


def test_all_refusals_at_once():
    with pytest.raises(FormError) as refused:
        swap_of(swapped="0 L", wanted="90 %", temp="60 °C")
    assert [error.field for error in refused.value.errors] == ["swapped", "wanted", "temp"]


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ({"kind": "pipe"}, 'kind: "pipe" is not one of the choices; use one of "hose"'),
        ({"part": "x"}, 'kind: "" is not one of the choices'),
        ({"kind": "hose", "bore": "30"}, "bore: 30 has no unit; write e.g. '30 mm' or '30 in'"),
        ({"kind": "hose", "bore": "30 mm"}, "length: nothing was entered; of hose it takes bore"),
        ({"kind": "tank"}, "volume: nothing was entered; of tank it takes volume"),
        ({"kind": "tank", "bore": "30 mm"}, "bore: it is filled in, and a row of tank takes none"),
        (HOSE | {"width": "3 mm"}, "width: it is filled in, and a row of hose takes none"),
        (HOSE | {"count": "1.5"}, "count: 1.5 is no number of pieces; write 1, 2 and so on"),
        (HOSE | {"count": "0"}, "count: 0 is no number of pieces"),
        (HOSE | {"volume": "1 L"}, "volume: the volume is given, and bore too; give one or"),
        (HOSE | {"length": "1,234 m"}, 'length: "1,234 m" has a comma before exactly three digits'),
        (HOSE | {"give or take": "200 %"}, "give or take: 200 % is above 100 %"),
        (
            {"kind": "flat tubes", "width": "2 mm", "height": "20 mm", "length": "0.5 m"},
            "height: 20.0 mm is more than the width (2.0 mm); a flat tube is wider than high",
        ),
        (HOSE | {"bore": float("inf")}, "bore: "),
    ],
)
def test_bad_rows_say_why(row, says):
    good, (bad,) = read_parts([HOSE, row])
    assert len(good) == 1 and bad.number == 2
    assert says in " ".join(bad.why)


def test_files_that_are_none(tmp_path):
    latin = tmp_path / "latin.csv"
    latin.write_bytes("part,kind\nkühler,core\n".encode("latin-1"))
    with pytest.raises(InputError, match=r"latin\.csv is no text in UTF-8; save the table as CSV"):
        read_parts(latin)
    long = tmp_path / "long.csv"
    long.write_text("part,kind\na,hose,3\n")
    with pytest.raises(InputError, match=r"has a row with more cells than columns"):
        read_parts(long)
    twice = tmp_path / "twice.csv"
    twice.write_text("part,kind,volume [L],volume [L]\na,tank,1,2\n")
    with pytest.raises(InputError, match=r'the column "volume \[L\]" stands twice in twice\.csv'):
        read_parts(twice)
    with pytest.raises(InputError, match=r"is no table of parts \(field larger"):
        read_parts(b"part,kind\n" + 200_000 * b"x" + b",tank\n")
    with pytest.raises(InputError, match=r"cannot be read \("):
        read_parts("a\0b.csv")
    commas = tmp_path / "commas.csv"
    commas.write_text("part;kind;bore [mm];length [m]\na;Hose;32;1,5\n")
    assert read_parts(commas)[0][0].volume_m3 == pytest.approx(1.2064e-3, rel=1e-4)
    with pytest.raises(InputError, match=r"parts: row 2 cannot be counted \(bore: −3 mm"):
        save_parts(tmp_path / "bad.csv", [HOSE, HOSE | {"bore": "-3 mm"}])
    assert not (tmp_path / "bad.csv").exists()
    with pytest.raises(InputError, match=r"parts\.txt does not end in \.csv"):
        save_parts(tmp_path / "parts.txt", [HOSE])


def test_a_name_is_text_in_every_output():
    row = HOSE | {"part": '<b>=1+1, "x"</b>'}
    job = parts_of(row)
    assert "<b>=" not in job._repr_html_()
    assert read_parts(parts_csv([row]))[0][0].name == row["part"]


def test_the_table_stays_as_it_was_asked():
    rows = [dict(HOSE)]
    job = cc.capacity_from_parts(parts=rows)
    rows[0]["bore"] = "64 mm"
    assert job.shown_in("US").sum_m3 == pytest.approx(job.sum_m3)


@pytest.mark.parametrize("case", CASES)
def test_the_card_fits(case, tmp_path):
    path = CASES[case]().save_card(tmp_path / "card.pdf")
    assert path.read_bytes().startswith(b"%PDF")


# --- what must not be told ------------------------------------------------------------------------


def test_two_equal_readings_tell_no_capacity_and_no_deviations():
    same = cc.Strength(0.35, "volume % of product")
    job = cc.capacity_from_swap(before=same, after=same, swapped="1 L", pour=CAN)
    assert job.change_sd == 0.0
    assert job.known is None
    assert "both readings are the same" in str(job)
    assert "nan" not in str(job)


def test_nothing_poured_is_no_measured_fill():
    with pytest.raises(InputError, match="nothing was poured in"):
        cc.capacity_from_fill(poured=["0 L"], still_inside="5 L", still_inside_error="1 L")


def test_water_in_a_new_fill_is_warned_of_once():
    text = str(cc.capacity_from_fill(poured=["5 L", "4.6 L"]))
    assert text.count("If it was filled with water") == 1


def test_a_column_of_parts_that_stands_twice_is_refused():
    rows = [{"part": "hose", "bore [mm]": "32", "bore [in]": "1.25", "length [mm]": "500"}]
    with pytest.raises(InputError, match="stands twice"):
        cc.capacity_from_parts(parts=rows)
