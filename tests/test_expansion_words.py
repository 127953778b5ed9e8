"""What the answer about growth says, refuses, and draws."""

import re

import pytest

import coolcalc as cc
from coolcalc import charts
from coolcalc.errors import FormError, InputError

CAN = cc.Product.generic("ethylene glycol concentrate")
TEN = cc.CoolingSystem(capacity="10 L", capacity_error="0.3 L")
TANK = {"room": "1.5 L", "gas": ("80 °C", "105 °C")}


def job_of(**more):
    told = {"system": TEN, "found": CAN.mix("50 % product"), "temp": "15 °C", "metal": "69 ppm/K"}
    return cc.expansion(**(told | more))


def text_of(**more):
    return str(job_of(**more))


CASES = {
    "held": {"room": "3 L", "cap": "150 kPa", "gas": "80 °C"},
    "gives way": TANK,
    "no air left": {"room": "0.3 L"},
    "just fits": {"room": "0.54 L"},
    "to the brim": {"room": "0 L"},
    "room not told": {},
    "no cap": {"room": "1 L", "cap": None},
    "bottle": {"tank": "overflow bottle", "room": "1 L"},
    "small bottle": {"tank": "overflow bottle", "room": "0.4 L"},
    "bottle not told": {"tank": "overflow bottle"},
    "cold": TANK | {"coldest": "-30 °C"},
    "cold enough below": TANK | {"coldest": "-30 °C", "below": "0.5 L"},
    "draws air": TANK | {"coldest": "-30 °C", "below": "0.1 L"},
    "water, boils over": {"found": cc.WATER, "hottest": "125 °C", "room": "1 L"},
    "high up": TANK | {"altitude": "3500 ft"},
    "ready-mixed only": {
        "system": cc.CoolingSystem(capacity="10 L", fill="ready-mixed only"),
        "room": "1 L",
    },
}


@pytest.mark.parametrize("system", ["metric", "US", "imperial"])
@pytest.mark.parametrize("case", CASES)
def test_every_case_reads_well(case, system):
    job = job_of(**CASES[case], show_in=system)
    whole = "\n".join([str(job), str(job.working), str(job.odds), *(row.text for row in job.rows)])
    for bad in ("nan", "inf", "None", "  ", "..", "e-0", "hydraulic lock", " -0", "−0.0"):
        assert bad not in whole.replace("information", "")
    assert "cold to the hand" in job.steps[0]
    assert [caution.code for caution in job.cautions][:2] == ["hot", "cold_into_hot"]
    assert job.to_frame().shape[0] == 1
    assert "<ol>" in job._repr_html_()


@pytest.mark.parametrize(
    ("case", "says"),
    [
        ("held", r"The cap \(marked 150 kPa gauge\) holds that, if it is good"),
        ("gives way", r"squeezed to 11\d to 20\d kPa gauge, with the gas above it at 80 to 105 °C"),
        ("gives way", r"\d+ to \d+ % of the air goes out, and comes back as it cools"),
        ("gives way", r"0\.1\d to 0\.8\d L of hot coolant is pushed out by the first run"),
        ("gives way", r"It stops with the level 0\.\d\d L below the mark if the gas stays cool"),
        ("no air left", r"No air space left: will push coolant out\. The air goes first"),
        ("no air left", r"It then stops: what is left grows into just the 0\.30 L there is"),
        ("just fits", r"0\.01 L is left then: it just fits, or just does not"),
        ("to the brim", r"There is 0\.00 L of room above the cold mark"),
        ("room not told", r"must be room for 0\.56 L, and air to squeeze beside it"),
        ("no cap", r"Without a cap that holds there is no pressure"),
        ("bottle", r"Of the 1\.00 L of room above the cold mark 0\.47 L is left then\."),
        ("small bottle", r"No room left in the bottle: will push coolant out"),
        ("cold", r"At a start at −30 °C the level stands about 0\.1\d L .* That is no leak"),
        ("draws air", r"that may be too little\. Filling above the mark only pushes it out"),
        ("water, boils over", r"vapour alone passes what the cap holds, so it boils over"),
        ("ready-mixed only", r"with what its maker specifies, as it is delivered"),
    ],
)
def test_what_it_says(case, says):
    assert re.search(says, text_of(**CASES[case]))


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"cap": None, "hottest": "112 °C"}, "It boils at 112 °C without a cap"),
        ({"hottest": "128 °C"}, "Too near to tell, and it may boil at 128 °C"),
        ({"hottest": "125 °C", "cap": "50 kPa", "altitude": "3000 m"}, "It boils at 125 °C"),
        ({"tank": "overflow bottle", "cap": None}, "nothing comes back from a bottle"),
        ({"found": cc.WATER, "hottest": "90 °C"}, "Plain water freezes at 0 °C"),
        ({"found": CAN.mix("15 % product")}, "weaker than 40 % of concentrate"),
    ],
)
def test_what_comes_before_growth(more, says):
    job = job_of(**({"room": "1 L", "hottest": "100 °C"} | more))
    assert says in str(job)
    run = [step for step in job.steps if step.startswith("Close the system")]
    assert bool(run) == (job.boils == "no")
    if more.get("cap", "some") is None:
        assert any(step.startswith("Fit the cap") for step in job.steps)
    if "found" in more:
        assert "with the same mix" not in str(job) and "with plain water" not in str(job)


def test_a_cold_mark_in_frost_and_a_level_of_ice():
    assert job_of(temp="-10 °C").rise.value > job_of(temp="15 °C").rise.value
    with pytest.raises(InputError, match=r"temp: −45 °C is colder than −3\d °C, where this mix"):
        job_of(temp="-45 °C")


def test_no_printed_zero_beside_what_goes_out():
    job = job_of(found=cc.WATER, tank="overflow bottle", room="0.4 L", hottest="105 °C")
    assert "about 0.00 L" not in str(job) and "up to 0.0" in str(job)


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (
            {"hottest": "10 °C"},
            r"hottest: 10 °C is no hotter than the coolant at the cold mark \(15 °C\)",
        ),
        ({"hottest": "140 °C"}, r"hottest: 140 °C is above 130 °C: published densities of mixes"),
        ({"temp": "60 °C"}, r"temp: 60 °C is not the temperature of a cold engine"),
        ({"tank": "bag"}, r'tank: "bag" is not one of the choices; use one of "expansion tank"'),
        ({"room": "11 L"}, r"room: 11\.00 L is more than the system holds \(10\.00 L\)"),
        ({"below": "12 L"}, r"below: 12\.00 L is more than the system holds"),
        ({"cap": "0 kPa"}, r"cap: a cap that holds nothing is as good as none"),
        ({"cap": "900 kPa"}, r"cap: 900 kPa gauge is above 400 kPa gauge, the limit"),
        ({"cap": "200 kPa absolute"}, r"cap: .*is absolute; this field takes the pressure above"),
        ({"altitude": "9000 m"}, r"altitude: 9000 m is above 6000 m"),
        ({"metal": "wood"}, r'metal: "wood" .* Or name it: aluminium, cast iron'),
        ({"metal": "69"}, r"metal: 69 has no unit; write e\.g\. '69 ppm/K'"),
        ({"metal": "23 ppm/K"}, r"metal: 23 ppm/K is what tables print .* Write 69 ppm/K"),
        ({"gas": "120 °C"}, r"gas: 120 °C is not between the coolant at the cold mark \(15 °C\)"),
        ({"gas": ("80 °C",) * 3}, r"gas: 3 temperatures; give one, or the least and the most"),
        ({"coldest": "20 °C"}, r"coldest: 20 °C is warmer than the coolant at the cold mark"),
        ({"coldest": "-45 °C"}, r"coldest: −45 °C is colder than −3\d °C, where this mix begins"),
        ({"found": None}, r"found: nothing was entered; give a reading"),
        ({"found": "50 % product"}, r"found: 50 % product does not say which glycol is inside"),
        ({"system": 10}, r"system: int is not a cooling system"),
        ({"show_in": "old"}, r'show_in: "old" is not one of the choices'),
    ],
)
def test_refusals(more, says):
    with pytest.raises(InputError, match=says):
        job_of(**more)


def test_all_refusals_at_once():
    with pytest.raises(FormError) as refused:
        job_of(hottest="10 °C", cap="0 kPa", room="11 L")
    assert [error.field for error in refused.value.errors] == ["hottest", "room", "cap"]


def test_quantities_and_names_are_taken():
    by_text = job_of(room="1.5 L", metal="Aluminum")
    by_quantity = job_of(
        room=cc.Q(1500, "cm^3"), metal=cc.Q(69e-6, "1/K"), hottest=cc.Q(378.15, "kelvin")
    )
    assert by_quantity.pressure_pa == pytest.approx(by_text.pressure_pa)
    us = job_of(room="1.5 L", show_in="US")
    assert us.growth.value.to("L").m == pytest.approx(by_text.growth.value.to("L").m, abs=1e-9)
    assert job_of(room="1.5 L").shown_in("US").rows == us.rows


def test_working_can_be_checked_by_hand():
    """Each line's figures give its result, to its last digit."""
    lines = {line.label: line.text for line in job_of(**TANK).working.lines}
    cold, hot, grows = re.search(
        r"10\.000 L × \((\d+\.\d) / (\d+\.\d) − 1\) = (\d\.\d+) L", lines["Coolant grows"]
    ).groups()
    assert 10 * (float(cold) / float(hot) - 1) == pytest.approx(float(grows), abs=0.002)
    assert lines["Metal makes room"].endswith("= 0.062 L.")
    for end in ("least", "most"):
        air, room, left, gas, cold_k, vapor, absolute, gauge = map(
            float, re.findall(r"(\d+(?:\.\d+)?)(?= |$)", lines[f"Pressure, {end}"])
        )
        assert air * room / left * gas / cold_k + vapor == pytest.approx(absolute, abs=0.6)
        assert absolute - 101.3 == pytest.approx(gauge, abs=0.15)


@pytest.mark.parametrize("case", CASES)
def test_figures(case):
    """Every case is drawn; pressure only where an air space is left."""
    job = job_of(**CASES[case])
    spec = charts.growth(job)
    assert len(spec["vconcat"]) == (2 if job.closed and job.verdict == "fits" else 1)
    assert "the level rises by" in spec["description"]
    assert "<svg" in charts.to_svg(spec)


def test_the_card_fits(tmp_path):
    path = job_of(**CASES["draws air"]).save_card(tmp_path / "card.pdf")
    assert path.read_bytes().startswith(b"%PDF")
    job_of(**CASES["gives way"]).save_card(tmp_path / "card.html")


def test_no_label_without_a_mix_to_end_with(tmp_path):
    with pytest.raises(InputError, match="label"):
        job_of(**TANK).save_label(tmp_path / "label.pdf")


# --- what must not be told ------------------------------------------------------------------------


def test_hardly_any_air_left_under_a_cap_is_not_said_to_fit():
    most = job_of(room="3 L").rise.high * 1e3
    assert job_of(room=f"{1.01 * most:.4f} L").verdict == "may not fit"
    assert job_of(room=f"{1.06 * most:.4f} L").verdict == "fits"
    assert job_of(tank="overflow bottle", room=f"{1.01 * most:.4f} L").verdict == "fits"
    assert "just does not." in text_of(room=f"{1.01 * most:.4f} L")


def test_no_more_is_pushed_out_than_the_system_holds():
    job = job_of(room="9.9 L", gas="105 °C", cap="20 kPa")
    assert all(each <= TEN.capacity.m_as("m^3") for each in job.pushed_out_m3)
    assert "so much that it must not be run like this" in str(job)


def test_what_the_cap_may_push_out_counts_against_the_room_below_the_mark():
    warned = "air is then drawn in"
    assert warned in text_of(room="0.6 L", gas="80 °C", below="0.1 L")
    assert warned not in text_of(room="0.6 L", gas="80 °C", below="0.5 L")
