"""The record of vehicles: entries kept whole, refused in words; drift worked by hand; figure."""

import csv
import datetime as dt
import sqlite3

import pytest
from hypothesis import given
from hypothesis import strategies as st

import coolcalc as cc
from coolcalc import charts
from coolcalc.errors import FormError, InputError
from coolcalc.record import VehicleRecord
from coolcalc.record.history import inert

CAN = cc.Product.generic("ethylene glycol concentrate")
PG_CAN = cc.Product.generic("propylene glycol concentrate")
TOOL = cc.Refractometer(made_for="ethylene glycol", error="1 K")
DAY = dt.date(2024, 3, 1)


@pytest.fixture
def record(tmp_path):
    with VehicleRecord(tmp_path / "vehicles") as opened:
        yield opened


def later(days):
    return DAY + dt.timedelta(days=days)


def mix(percent, half_width=0.0):
    return cc.Mixture(product=CAN, frac_mass=percent / 100, half_width=half_width)


def read(record, days, percent, half_width=0.0, **more):
    found = mix(percent, half_width)
    return record.add(vehicle="van", what="reading", on=later(days), found=found, **more)


def top_up(record, days, litres, **more):
    poured = {cc.WATER: f"{litres} L"}
    return record.add(vehicle="van", what="top-up", on=later(days), poured=poured, **more)


def refusal(ask, *arguments, **asked):
    with pytest.raises(InputError) as refused:
        ask(*arguments, **asked)
    return f"{refused.value}"


# --- what is kept ---------------------------------------------------------------------------------


def test_an_entry_comes_back_in_si(tmp_path):
    path = tmp_path / "die Wägen, наши машины 车.db"
    with VehicleRecord(path) as record:
        number = record.add(
            vehicle="  van   3 ",
            what="work",
            on=DAY,
            by="M.",
            hours="1250 h",
            found=TOOL.read("-16 °C"),
            after="45 % product",
            product=CAN,
            capacity="10.0 L",
            taken_out="2 US qt",
            poured={CAN: "1 imp gal", "flush of the house": "250 mL", cc.WATER: "0.5 L"},
            batch="B-17",
            note="lower hose\nreplaced",
        )
    with VehicleRecord(str(path)) as record:
        (entry,) = record.history("van 3").entries
        assert record.vehicles() == ("van 3",)
    assert (entry.entry_id, entry.vehicle, entry.on, entry.by) == (number, "van 3", DAY, "M.")
    assert (entry.what, entry.hours, entry.fluid) == ("work", 1250.0, "ethylene glycol")
    assert entry.found.frac_mass == TOOL.read("-16 °C").mixture(CAN).frac_mass
    assert entry.found.half_width > 0.0
    assert entry.found.told == "−16.0 °C on the refractometer"
    assert entry.after[1:3] == (CAN.mix("45 % product").frac_mass, 0.0)
    assert entry.after.told == "45 % of product"
    # 1 US qt = 0.946352946 L and 1 imperial gallon = 4.54609 L (NIST Handbook 44, appendix C).
    assert entry.capacity_m3 == pytest.approx(0.010, rel=1e-12)
    assert entry.taken_out_m3 == pytest.approx(2 * 0.946352946e-3, rel=1e-9)
    assert [pour.product for pour in entry.poured] == [CAN.name, "flush of the house"]
    assert [pour.volume_m3 for pour in entry.poured] == pytest.approx([4.54609e-3, 0.25e-3])
    assert entry.water_m3 == pytest.approx(0.5e-3)
    assert entry.poured_m3 == pytest.approx(5.29609e-3)
    assert (entry.product, entry.batch) == (CAN.name, "B-17")
    assert entry.note == "lower hose replaced"
    assert (entry.replaces, entry.replaced_by) == (None, None)
    assert abs(dt.datetime.now(dt.UTC) - entry.written) < dt.timedelta(minutes=1)


def test_order_is_by_day_then_by_number(record):
    numbers = [read(record, days, 50) for days in (5, 1, 5, 3)]
    shown = [entry.entry_id for entry in record.history("van").entries]
    assert shown == [numbers[1], numbers[3], numbers[0], numbers[2]]
    assert [e.on for e in record.history("van", since=later(3)).entries] == [
        later(3),
        later(5),
        later(5),
    ]
    assert record.history("van", since=later(6)).entries == ()


def test_today_unless_told(record):
    record.add(vehicle="van", what="work", note="hoses looked at")
    assert record.history("van").entries[0].on == dt.date.today()


def test_a_mistake_is_replaced_and_stays(record):
    wrong = read(record, 0, 5)
    right = read(record, 0, 50, replaces=wrong)
    first, second = record.history("van").entries
    assert (first.replaced_by, second.replaces) == (right, wrong)
    assert record.history("van").standing == (second,)
    assert record.history("van", with_replaced=False).entries == (second,)
    assert f"was replaced by entry {right}" in refusal(read, record, 0, 50, replaces=wrong)
    assert "there is no entry 99" in refusal(read, record, 0, 50, replaces=99)
    for number in ("1", True, 0, 2**70):
        assert "no number of an entry" in refusal(read, record, 0, 50, replaces=number)


def test_what_was_entered_by_mistake_is_replaced_by_a_note(record):
    wrong = top_up(record, 0, 3)
    record.add(vehicle="van", what="reading", on=DAY, note="of another vehicle", replaces=wrong)
    assert record.history("van").drift.topped_up_m3 == 0.0
    other = read(record, 1, 40)
    said = refusal(record.add, vehicle="bus", what="reading", found=mix(40), replaces=other)
    assert said.startswith("replaces: ") and f'entry {other} is of "van", not of "bus"' in said
    record.add(vehicle="van", what="reading", on=DAY, note="of the bus", replaces=other)
    assert record.history("van").entries[-1].replaced_by is not None


def test_the_file_itself_takes_additions_only(record):
    read(record, 0, 50)
    with sqlite3.connect(record.path) as connection:
        for change in ("DELETE FROM entries", "UPDATE entries SET vehicle = 'bus'"):
            with pytest.raises(sqlite3.IntegrityError, match="only added"):
                connection.execute(change)
    connection.close()


# --- refusals -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("asked", "field", "words"),
    [
        ({"vehicle": " "}, "vehicle", "nothing was entered"),
        ({"vehicle": "v" * 81}, "vehicle", "has 81 letters; at most 80 are kept"),
        ({"vehicle": 7}, "vehicle", "of type int; give text"),
        ({"vehicle": "van\x00"}, "vehicle", "no letter or sign"),
        ({"vehicle": "van\ud800"}, "vehicle", "no letter or sign"),
        ({"vehicle": "van\u202e5"}, "vehicle", '"van5" has a hidden character'),
        ({"note": "a\u2066b\u2069"}, "note", "turns the direction of writing"),
        ({"what": "repair"}, "what", '"repair" is not one of the choices'),
        ({"on": dt.date.today() + dt.timedelta(1)}, "on", "is still to come"),
        ({"on": dt.date(202, 1, 1)}, "on", "is before 1900-01-01"),
        ({"on": "2024-01-01"}, "on", "is of type str; give a day"),
        ({"on": dt.datetime(2024, 1, 1)}, "on", "is of type datetime"),
        ({"hours": float("nan")}, "hours", "not a finite number"),
        ({"hours": -1}, "hours", "below 0"),
        ({"found": "45 %"}, "found", "per cent of what?"),
        ({"found": "45 % product", "product": None}, "found", "name the product"),
        ({"found": "45 % product", "product": "of the house"}, "found", "name the product"),
        ({"found": TOOL.read("-16 °C"), "product": PG_CAN}, "found", "is in the sample"),
        ({"found": cc.Mixture(product=PG_CAN, frac_mass=0.4)}, "fluid", "both told"),
        ({"fluid": "propylene glycol"}, "fluid", "both told"),
        ({"product": cc.WATER}, "product", "water makes no mix"),
        ({"capacity": "0.1 L"}, "capacity", "below 0.2 L"),
        ({"taken_out": "2"}, "taken_out", "has no unit"),
        ({"taken_out": "2 L"}, "taken_out", "changes nothing"),
        ({"after": "45 % product"}, "after", "changes nothing"),
        ({"poured": {CAN: "1 L"}}, "poured", "changes nothing"),
        ({"poured": "1 L"}, "poured", "by product"),
        ({"poured": {CAN: "1 L", CAN.name: "1 L"}}, "poured", "listed twice"),
        ({"poured": {CAN: "1 l x"}}, f"poured, {CAN.name}", "is not a unit"),
        ({"found": None}, "found", "nothing was entered"),
        ({"what": "top-up"}, "poured", "nothing was poured"),
        (
            {"what": "top-up", "taken_out": "1 L", "poured": {CAN: "1 L"}},
            "taken_out",
            "more than a top-up",
        ),
        (
            {"what": "top-up", "capacity": "5 L", "poured": {CAN: "6 L"}},
            "poured",
            "6.00 L is more than the system holds (5.00 L)",
        ),
        ({"what": "work", "found": None}, "note", "nothing is told of the work"),
        ({"note": "n" * 501}, "note", "at most 500"),
    ],
)
def test_what_cannot_be_kept_is_refused(record, asked, field, words):
    usual = {"vehicle": "van", "what": "reading", "found": mix(45), "product": CAN}
    said = refusal(record.add, **(usual | asked))
    assert said.startswith(f"{field}: ") and words in said
    assert record.vehicles() == ()


def test_all_refusals_at_once(record):
    with pytest.raises(FormError) as refused:
        record.add(vehicle="", what="reading", hours="soon", found="45 % product")
    assert [error.field for error in refused.value.errors] == ["vehicle", "hours"]


def test_no_more_is_taken_out_at_once_than_the_vehicle_holds(record):
    work = {"vehicle": "van", "what": "work", "taken_out": "12 L"}
    said = refusal(record.add, **work, capacity="10 L")
    assert said.startswith("taken_out: 12.00 L is more than the system holds (10.00 L)")
    record.add(**work, on=DAY)  # what it holds is not known yet
    first = read(record, 1, 50, capacity="10 L")
    assert "enter each drain as a work of its own" in refusal(record.add, **work)
    assert "no top-up" in refusal(top_up, record, 3, 11)
    record.add(**(work | {"vehicle": "bus"}), on=DAY)
    record.add(**work, capacity="13 L")
    read(record, 1, 50, capacity="11 L", replaces=first)
    record.add(**work)  # the last that was told counts: 13 L


def test_a_vehicle_that_is_not_known(record):
    read(record, 0, 50)
    assert 'nearest to it: "van"' in refusal(record.history, "vna")
    assert "vehicles() lists them" in refusal(record.history, "bus 12")


def test_a_closed_record(record):
    record.close()
    assert "was closed; open it" in refusal(record.vehicles)


# --- drift ----------------------------------------------------------------------------------------


def test_three_readings_on_a_straight_line(record):
    # 1 mass % in 100 days is 3.6525 in a year. The middle one has no weight, the others
    # 100 days each: sqrt(2) * 100 * 0.5 / (2 * 100**2) a day, 1.2914 in a year.
    for days, percent in ((0, 50), (100, 49), (200, 48)):
        read(record, days, percent, 0.005)
    drift = record.history("van").drift
    assert drift.frac_mass_per_year == pytest.approx(-0.036525, rel=1e-9)
    assert drift.half_width_per_year == pytest.approx(0.012914, rel=1e-4)
    assert drift.sentences[0] == (
        "The strength fell by 3.7 mass % of glycol a year, by 3 readings from 2024-03-01 to "
        "2024-09-17, give or take 1.3."
    )


def test_readings_off_the_line(record):
    # Off the mean: -150, -50, 50, 150 days; sum of products -5.5, of squares 50,000.
    for days, percent in ((0, 50), (100, 48), (200, 49), (300, 46)):
        read(record, days, percent)
    drift = record.history("van").drift
    assert drift.frac_mass_per_year == pytest.approx(-5.5 / 50000 * 365.25, rel=1e-9)
    assert drift.half_width_per_year is None


def test_a_work_begins_a_new_stretch(record):
    read(record, 0, 30)
    read(record, 50, 20)
    record.add(vehicle="van", what="work", on=later(100), found=mix(18), after=mix(50))
    assert (
        record.history("van")
        .drift.sentences[0]
        .endswith("on different days since the work on 2024-06-09, and there is one.")
    )
    read(record, 200, 51, 0.02)
    drift = record.history("van").drift
    assert drift.frac_mass_per_year == pytest.approx(0.036525, rel=1e-9)
    assert "rose by 3.7" in drift.sentences[0] and "since the work" in drift.sentences[0]
    record.add(vehicle="van", what="work", on=later(300), note="hose")
    assert record.history("van").drift.frac_mass_per_year is None


def test_another_glycol_begins_a_new_stretch_and_is_named(record):
    read(record, 0, 30)
    record.add(vehicle="van", what="work", on=later(50), after=mix(40))
    pink = cc.Mixture(product=PG_CAN, frac_mass=0.4)
    record.add(vehicle="van", what="reading", on=later(100), found=pink)
    said = record.history("van").drift.sentences[0]
    assert said.endswith("days since another glycol was found on 2024-06-09, and there is one.")
    stronger = cc.Mixture(product=PG_CAN, frac_mass=0.5)
    record.add(vehicle="van", what="reading", on=later(200), found=stronger)
    assert "since another glycol was found" in record.history("van").drift.sentences[0]


def test_no_litres_by_the_hour_are_not_told_as_litres(record):
    read(record, 0, 50, hours=1000)
    read(record, 50, 50, hours=1400)
    drift = record.history("van").drift
    assert drift.topped_up_m3_per_1000_h == 0.0
    assert drift.sentences[1:] == (
        "Nothing was topped up.",
        "Nothing was topped up over 400 h.",
    )


def test_within_the_readings_own_error_and_none_at_all(record):
    read(record, 0, 50, 0.01)
    assert record.history("van").drift.frac_mass_per_year is None
    read(record, 0, 49, 0.01)
    assert "they are of one day" in record.history("van").drift.sentences[0]
    read(record, 365, 50, 0.01)
    assert "no more than the readings' own" in record.history("van").drift.sentences[0]


def test_litres_by_the_hour_by_hand(record):
    # What was poured at the first hours known had been lost before: 0.4 + 0.2 L in 1,200 h.
    top_up(record, 0, 0.5, hours=1000)
    top_up(record, 50, 0.4)
    top_up(record, 90, 0.2, hours=2200)
    top_up(record, 99, 0.3)
    drift = record.history("van").drift
    assert 1e3 * drift.topped_up_m3 == pytest.approx(1.4)
    assert 1e3 * drift.topped_up_m3_per_1000_h == pytest.approx(0.5)
    assert drift.sentences[1:] == (
        "1.40 L were topped up in all, in 4 top-ups.",
        "0.50 L per 1,000 h were topped up, over 1,200 h.",
    )
    assert f"{drift}".count("\n") == 2


def test_litres_by_the_hour_that_cannot_be_told(record):
    read(record, 0, 50, hours=1000)
    drift = record.history("van").drift
    assert drift.topped_up_m3_per_1000_h is None
    assert drift.sentences[1:] == (
        "Nothing was topped up.",
        "Litres per 1,000 h cannot be told: it takes engine hours of two times.",
    )
    top_up(record, 10, 1, hours=900)
    drift = record.history("van").drift
    assert drift.topped_up_m3_per_1000_h is None
    assert "go down on 2024-03-11, from 1000 to 900 h" in drift.sentences[2]


# --- table, file, figure --------------------------------------------------------------------------


def test_table_and_file_have_their_units(record, tmp_path):
    read(record, 0, 62, note="=1+1")
    record.add(
        vehicle="van",
        what="top-up",
        on=later(1),
        capacity="10 L",
        poured={CAN: "1 L", cc.WATER: "2 L"},
        note='says "-5", see = there',
    )
    history = record.history("van")
    frame = history.to_frame()
    assert frame[f"poured {CAN.name} [L]"].tolist()[1] == 1.0
    assert frame["poured water [L]"].tolist() == [0.0, 2.0]
    assert frame["found [mass share of glycol]"].tolist()[0] == 0.62
    path = history.to_csv(tmp_path / "history.csv")
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert list(rows[0]) == list(frame.columns)
    assert [row["note"] for row in rows] == ["'=1+1", 'says "-5", see = there']
    assert [row["capacity [L]"] for row in rows] == ["", "10.0"]
    # Beyond 60 mass % there is no freezing point to count on.
    assert rows[0]["found freezing point [°C]"] == ""
    names = sorted(each.name for each in tmp_path.iterdir())
    assert names == ["history.csv", "vehicles"]
    none = record.history("van", since=later(2))
    assert none.to_frame().empty
    assert len(none.to_csv(path).read_text(encoding="utf-8-sig").splitlines()) == 1
    assert "does not end in .csv" in refusal(history.to_csv, tmp_path / "history.txt")
    assert "there is no folder" in refusal(history.to_csv, tmp_path / "none" / "h.csv")


@given(st.text(alphabet=st.sampled_from("=+-@\t\r\n'＝ 1a\""), max_size=6))
def test_no_cell_is_a_formula(text):
    cell = inert(text)
    assert not cell or cell[0] not in "=+-@\t\r\n＝"
    assert cell in (text, f"'{text}")


def test_the_figure(record):
    record.add(vehicle="van", what="work", on=DAY, found=mix(30), after=mix(50))
    for days in (100, 200):
        read(record, days, 50 - days / 50)
    history = record.history("van")
    spec = charts.history(history)
    svg = charts.to_svg(spec)
    for words in ("mass % of glycol", "found", "after", "work", "2024-", "#0072B2", "#D55E00"):
        assert words in svg
    assert spec["description"].startswith("Strength of van over time: 2024-03-01 found 30 mass %")
    assert history.drift.sentences[0] in spec["description"]
    assert "there is no reading to draw" in refusal(
        charts.history, record.history("van", since=later(300))
    )


def test_the_figure_of_many_readings_and_of_strong_ones(record):
    for days in range(20):
        read(record, days, 61)
    spec = charts.history(record.history("van"))
    assert "18 readings between" in spec["description"]
    assert " to " in spec["layer"][-1]["data"]["values"][0]["words"]
    assert "<svg" in charts.to_svg(spec)
