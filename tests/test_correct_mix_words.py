"""What the answer of the main job says: order, cautions, units, escapes, and each refusal."""

import math
import re

import pytest

import coolcalc as cc
from coolcalc.errors import CoolcalcError, FormError, InputError, UnclearInputError

CAN = cc.Product.generic("ethylene glycol concentrate")
PG_CAN = cc.Product.generic("propylene glycol concentrate")
READY = cc.Product.generic("ethylene glycol ready-mixed 50 %")
TOOL = cc.Refractometer(made_for="ethylene glycol")
PG_TOOL = cc.Refractometer(made_for="propylene glycol")


def given(**more):
    """Inputs of a job that answers, with some of them changed."""
    return {
        "system": cc.CoolingSystem(capacity="10 L"),
        "found": "30 % product",
        "target": "50 % product",
        "pour": [CAN, cc.WATER],
    } | more


def small(**more):
    return cc.CoolingSystem(capacity="10 L", **more)


ANSWERS = {
    "weak": given(),
    "strong": given(found="58 % product"),
    "far too strong": given(found="80 % product"),
    "low and weak": given(found="45 % product", low="2 L"),
    "in band": given(found=TOOL.read("-36.9 °C"), target="-37 °C"),
    "part": given(system=small(drainable="2 L"), passes=1),
    "several drains": given(system=small(drainable="2 L")),
    "not reachable": given(pour=[CAN], found="58 % product"),
    "reading": given(found=TOOL.read("-16 °C"), target="-37 °C", show_in="US"),
    "give or take": given(system=small(capacity_error="1 L"), show_in="imperial"),
    "propylene glycol": given(pour=[PG_CAN, cc.WATER]),
    "other mix inside": given(found=READY.mix("60 % product")),
}
EVERY_ANSWER = pytest.mark.parametrize("inputs", ANSWERS.values(), ids=ANSWERS.keys())


# --- order, cautions, escapes ---------------------------------------------------------------------


def test_steps_come_in_the_order_of_the_work():
    job = cc.correct_mix(**given(found="45 % product", low="0.5 L"))
    text = str(job)
    order = ["1. Engine off and cold to the hand", "Take out", "Pour ", "Close the system"]
    order += ["heater on hot", "let it cool until it is cold to the hand", "Check the level"]
    order += ["Read again: expect", "is waste", "Cautions:", "Assumed:"]
    places = [text.index(each) for each in order]
    assert places == sorted(places)


def test_the_strongest_is_poured_first_whatever_the_order_given():
    job = cc.correct_mix(**given(found="45 % product", low="2 L", pour=[cc.WATER, CAN]))
    text = str(job)
    assert text.index("of ethylene glycol concentrate, slowly") < text.index(
        "of water, on top of it"
    )


@EVERY_ANSWER
def test_cautions_are_always_there(inputs):
    job = cc.correct_mix(**inputs)
    codes = {caution.code for caution in job.cautions}
    swallow = "poison" if job.before.fluid == "ethylene glycol" else "swallow"
    assert codes == {"hot", "cold_into_hot", swallow, "skin", "waste", "authority"}
    for text in (str(job), job._repr_html_()):
        for caution in job.cautions:
            assert caution.text.replace("'", "&#x27;") in text or caution.text in text
    assert "get emergency help now" in str(job)


PERMISSION = re.compile(
    r"\bsafe(ly)?\b|\b(may|can|could)\b (now )?(be )?open|\bok(ay)?\b|0 ?% flash|harmless",
    re.IGNORECASE,
)
TEMPERATURE = re.compile(r"\d ?(°|deg|K\b)")


@EVERY_ANSWER
def test_nothing_reads_as_permission(inputs):
    job = cc.correct_mix(**inputs)
    for text in (str(job), job._repr_html_(), str(job.working)):
        assert not PERMISSION.search(text)
        for sentence in re.split(r"[.:;]\s|\n", text):
            assert not (re.search(r"\bopen", sentence) and TEMPERATURE.search(sentence)), sentence


def test_user_text_is_escaped():
    can = cc.Product.from_shares(
        name="<b>x</b>", fluid="ethylene glycol", glycol="94 %", density="1.128 kg/L"
    )
    page = cc.correct_mix(**given(pour=[can, cc.WATER]))._repr_html_()
    assert "<b>" not in page
    assert "&lt;b&gt;x&lt;/b&gt;" in page


@EVERY_ANSWER
def test_frame(inputs):
    frame = cc.correct_mix(**inputs).to_frame()
    assert len(frame) == 1
    for name in frame.columns:
        unit = re.search(r" \[(L|°C|mass share of glycol|share|count)\]$", name)
        assert name == "status" or unit, name
    for value in frame.iloc[0]:
        assert value is None or isinstance(value, str) or math.isfinite(value)
    assert re.fullmatch(r"[a-z_]+(, [a-z_]+)*", frame.iloc[0]["status"])


@EVERY_ANSWER
def test_text_has_no_holes(inputs):
    job = cc.correct_mix(**inputs)
    for text in (str(job), job._repr_html_(), str(job.working)):
        assert not re.search(r"\bnan\b|\binf\b|None|<Quantity|\{|\}", text)
        assert "-1" not in text  # negative numbers carry the minus sign
    assert job.sources
    assert all(isinstance(value, str) for row in job.rows for value in row)


def test_every_number_of_the_steps_comes_from_the_rounded_plan():
    job = cc.correct_mix(**given())
    drained, poured = f"{job.drain.m:.2f} L", f"{job.pour[CAN].m:.2f} L"
    text = " ".join(job.steps)
    assert set(re.findall(r"\d+\.\d+ L", text)) == {drained, poured}


# --- refusals -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"system": "10 L"}, r"system: '10 L' is not a cooling system; write CoolingSystem"),
        ({"found": "30 %"}, r"found: 30 %: per cent of what"),
        ({"found": "30"}, r"found: 30 "),
        ({"found": "16 °C"}, r"found: 16 °C: .* did you mean −16 °C"),
        ({"found": "-80 °C"}, r"−80.0 °C is colder than −5\d\.\d °C.*Dilute a sample"),
        ({"found": "120 % product"}, r"found: 120 volume % of product is above 100"),
        ({"found": None}, r"found: .*nothing was entered"),
        ({"found": "weak"}, r'found: "weak" does not begin with a plain number'),
        (
            {"found": PG_TOOL.read("-16 °C")},
            r"found: propylene glycol is inside and ethylene glycol is to be poured",
        ),
        (
            {"found": PG_CAN.mix("30 % product")},
            r"found: propylene glycol is inside and ethylene glycol is to be poured",
        ),
        ({"pour": [cc.WATER]}, r"found: 30 % product does not say which glycol is inside"),
        ({"target": "50 %"}, r"target: 50 %: per cent of what"),
        ({"target": "37 °C"}, r"target: 37 °C: .* did you mean −37 °C"),
        ({"target": "-70 °C"}, r"target: −70.0 °C is colder than −5\d\.\d °C.*Choose a warmer one"),
        (
            {"target": "70 % product"},
            r"target: 70 % of product is stronger than 60 mass % of glycol",
        ),
        ({"target": "0 % product"}, r"target: 0 % of product is plain water"),
        ({"target": "0 °C"}, r"target: 0 °C is the freezing point of water"),
        ({"pour": []}, r"pour: nothing is listed; list what there is to pour"),
        ({"pour": None}, r"pour: nothing is listed"),
        ({"pour": ["concentrate"]}, r"pour: 'concentrate' is not a product; use Product.generic"),
        ({"pour": [CAN, PG_CAN]}, r"pour: ethylene glycol and propylene glycol are both listed"),
        ({"temp": "20"}, r"temp: 20 has no unit"),
        ({"temp": "90 °C"}, r"temp: 90 °C is not the temperature of a cold engine"),
        ({"temp": "-5 °C"}, r"temp: −5 °C: water to pour is ice below 0 °C"),
        ({"low": "2"}, r"low: 2 has no unit"),
        ({"low": "-1 L"}, r"low: −1 L is below 0 L"),
        ({"low": "9.5 L"}, r"low: 9.50 L is more than nine tenths of the capacity \(10.00 L\)"),
        (
            {"low": "6 L", "system": small(capacity_error="4 L")},
            r"low: 6.00 L is more than nine tenths of the capacity, less its give or take, "
            r"\(6.00 L\)",
        ),
        ({"low": "1 gal"}, r'low: "1 gal" could mean 1 US gal or 1 imp gal'),
        ({"accept": "50 % product"}, r"accept: give two"),
        (
            {"accept": ("55 % product", "45 % product")},
            r"accept: 55 % product to 45 % product does not hold",
        ),
        ({"accept": ("45 %", "55 % product")}, r"accept, weakest: 45 %: per cent of what"),
        (
            {"show_in": "furlongs"},
            r'show_in: "furlongs" is not one of the choices; use one of "metric"',
        ),
    ],
)
def test_refusal_names_field_value_and_what_to_do(more, says):
    with pytest.raises(CoolcalcError, match=says) as caught:
        cc.correct_mix(**given(**more))
    assert not isinstance(caught.value, FormError)
    assert str(caught.value).rstrip().endswith((".", "?"))


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"capacity": "0.1 L"}, r"capacity: 0.1 L is below 0.2 L"),
        ({"capacity": "20000 L"}, r"capacity: 20000 L is above 10000 L"),
        ({"capacity": "10"}, r"capacity: 10 has no unit"),
        ({"capacity_error": "5 L"}, r"capacity_error: 5.00 L is half of the capacity or more"),
        ({"capacity_error": "5 %"}, r'capacity_error: .*"%"'),
        ({"drainable": "12 L"}, r"drainable: 12.00 L is more than the system holds \(10.00 L\)"),
    ],
)
def test_system_refuses(more, says):
    with pytest.raises(InputError, match=says):
        cc.CoolingSystem(**{"capacity": "10 L"} | more)


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"scale": "Plato"}, r'scale: "Plato" is not one of the choices; use one of "freeze'),
        ({"made_for": "methanol"}, r'made_for: "methanol" is not one of the choices'),
        ({"error": "20 °C"}, r"error: 20 .* is above 10"),
        ({"error": "-1 K"}, r"error: −1 K is below 0 K"),
    ],
)
def test_instrument_refuses(more, says):
    with pytest.raises(InputError, match=says):
        cc.Refractometer(**{"made_for": "ethylene glycol"} | more)


def test_all_slips_are_told_at_once():
    with pytest.raises(FormError) as caught:
        cc.correct_mix(
            **given(system="van", found="30 %", target="70 % product", temp="90 °C", low="-1 L")
        )
    fields = [error.field for error in caught.value.errors]
    assert sorted(fields) == ["found", "low", "system", "target", "temp"]
    assert str(caught.value).count("\n") == 4


def test_a_bad_shelf_does_not_hide_the_rest():
    with pytest.raises(FormError) as caught:
        cc.correct_mix(**given(pour=[], temp="90 °C", show_in="furlongs"))
    assert {error.field for error in caught.value.errors} == {"pour", "temp", "show_in"}


# --- fields against inputs ------------------------------------------------------------------------

INPUTS = (
    *("", "abc", "-1", "0", "100 %", "150 %", "nan", "1e308", "12,5", "1,234", "1 000", "37"),
    *("-34 F", "6 gal", "9**9**9", "inf L", "12,5 L", "1,234 L", "1 000 L", "1_000 L", "12.5 L"),
    *("-5 L", "0 L", "37 °C", "-20 °C", "50 % product", "150 % product", "50 % vol glycol"),
)
OK, ASK, NO = "accept", "ask", "refuse"
#: What is not refused, by field; every other cell is a refusal with a sentence.
NOT_REFUSED = {
    "capacity": {"12,5 L": OK, "12.5 L": OK, "6 gal": ASK, "1,234": ASK, "1,234 L": ASK},
    "capacity_error": {"0 L": OK, "1,234": ASK, "1,234 L": ASK, "6 gal": ASK},
    "drainable": {"0 L": OK, "1,234": ASK, "1,234 L": ASK, "6 gal": ASK},
    "low": {"0 L": OK, "1,234": ASK, "1,234 L": ASK, "6 gal": ASK},
    "temp": {"37 °C": OK, "1,234": ASK, "1,234 L": ASK},
    "found": {
        **{"-34 F": OK, "-20 °C": OK, "50 % product": OK, "50 % vol glycol": OK},
        **{"37 °C": ASK, "100 %": ASK, "150 %": ASK, "1,234": ASK, "1,234 L": ASK},
    },
    "target": {
        **{"-34 F": OK, "-20 °C": OK, "50 % product": OK, "50 % vol glycol": OK},
        **{"37 °C": ASK, "100 %": ASK, "150 %": ASK, "1,234": ASK, "1,234 L": ASK},
    },
}
CELLS = [(field, text) for field in NOT_REFUSED for text in INPUTS]


def answer(field, text):
    if field in ("capacity", "capacity_error", "drainable"):
        return cc.correct_mix(**given(system=cc.CoolingSystem(**{"capacity": "10 L", field: text})))
    return cc.correct_mix(**given(**{field: text}))


@pytest.mark.parametrize(("field", "text"), CELLS)
def test_fields_against_inputs(field, text):
    wanted = NOT_REFUSED[field].get(text, NO)
    if wanted == OK:
        told = str(answer(field, text))
        assert "Cautions:" in told and "nan" not in told
        return
    with pytest.raises(InputError) as caught:
        answer(field, text)
    refusal = caught.value
    assert isinstance(refusal, UnclearInputError) == (wanted == ASK), refusal
    assert refusal.field == field
    assert re.search(r"\w+ \w+", refusal.what), "a sentence"
    assert str(refusal).endswith((".", "?", ")"))


def test_a_drain_that_gives_nothing_is_not_told_to_be_left_alone():
    job = cc.correct_mix(
        system=cc.CoolingSystem(capacity="10 L", drainable="0 L"),
        found="30 % product",
        target="50 % product",
        pour=[cc.Product.generic("ethylene glycol concentrate"), cc.WATER],
    )
    assert "Leave the mix" not in str(job)
    assert "nothing comes out at this drain" in job.steps[0]
    assert "enter that figure" in job.steps[1]


def test_limits_given_are_what_is_told_of_a_mix_left_alone():
    job = cc.correct_mix(
        system=cc.CoolingSystem(capacity="10 L"),
        found="46 % product",
        target="50 % product",
        accept=("45 % product", "55 % product"),
        pour=[cc.Product.generic("ethylene glycol concentrate"), cc.WATER],
    )
    assert job.steps[0].startswith("Leave the mix as it is")
    assert "inside the limits given" in job.notes[0]


def yard(**given):
    can = cc.Product.generic("ethylene glycol concentrate")
    asked = {
        "system": cc.CoolingSystem(capacity="10 L"),
        "found": "-16 °C",
        "target": "-37 °C",
        "pour": [can, cc.WATER],
    }
    return cc.correct_mix(**{**asked, **given})


def test_a_coarse_instrument_is_no_reason_to_leave_a_weak_mix():
    coarse = cc.Refractometer(made_for="ethylene glycol", error="10 K")
    job = yard(found=coarse.read("-30 °C"))
    assert job.drain.m_as("L") > 0.5
    assert "Leave the mix" not in str(job)


def test_above_the_target_is_not_called_too_strong_below_60_per_cent():
    told = str(yard(target="-12 °C"))
    assert "The mix is stronger than the target: 31 % of concentrate" in told
    assert "More concentrate makes it worse" not in told
    assert "still protects" not in told
    assert "More concentrate makes it worse" in str(yard(found="65 % product"))


def test_beyond_the_settled_range_no_bound_is_printed_as_a_reading():
    job = yard(target="60 % mass glycol", system=cc.CoolingSystem(capacity="10 L"))
    low, value, high = (each.m_as("degC") for each in job.expect(job.found.instrument))
    assert low < value <= high
    assert "dilute a sample" in str(job)
    assert "−68" not in " ".join(job.steps)


def test_a_hot_figure_is_refused_without_a_limit_that_reads_as_leave_to_work():
    with pytest.raises(cc.CoolcalcError, match="temp: 50 °C is not the temperature") as refused:
        yard(temp="50 °C")
    assert "40" not in str(refused.value)


def test_in_band_and_low_with_a_shelf_that_would_spoil_it():
    tool = cc.Refractometer(made_for="ethylene glycol", error="1 K")
    job = yard(found=tool.read("-37 °C"), low="0.8 L", pour=[cc.WATER])
    assert job.drain is None
    assert job.steps[0].startswith("Engine off and cold to the hand: make up the 0.80 L")
    assert "near enough to the target" in " ".join(job.notes)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"pour": 5}, "pour: nothing is listed"),
        ({"pour": [CAN, CAN]}, "pour: .* is listed twice"),
        ({"show_in": []}, "show_in: "),
        ({"target": cc.Product.generic("propylene glycol concentrate").mix("50 % product")},
         "target: .* can read a mixture of glycols"),
        ({"system": cc.WATER}, "system: Product is not a cooling system"),
    ],
)  # fmt: skip
def test_things_of_the_wrong_kind_are_refused_in_a_sentence(given, says):
    with pytest.raises(cc.CoolcalcError, match=says):
        yard(**given)


def test_ready_mixed_a_hair_weaker_than_the_target_is_not_refused():
    ready = cc.Product.generic("ethylene glycol ready-mixed 50 %")
    tool = cc.Refractometer(made_for="ethylene glycol", error="1 K")
    job = yard(found=tool.read("-30 °C"), pour=[ready])
    assert job.drain.m_as("L") > 5
    assert "no stronger than the target, so the litres aim at" in job.notes[0]
    assert job.after.freeze_temp.m_as("degC") == pytest.approx(-36, abs=0.3)


def test_a_quantity_is_a_freezing_point_in_found_as_in_target():
    job = yard(found=cc.Q(-16, "degC"), target=cc.Q(-37, "degC"))
    assert job.drain == yard().drain


# Stronger than 60 mass %: nothing is promised of it


@pytest.mark.parametrize(
    "found", ["85 % vol glycol", "90 % product", "95 % product", "100 % product"]
)
@pytest.mark.parametrize("drainable", ["0.3 L", "0.8 L", "1.5 L", "2.2 L"])
def test_what_is_left_too_strong_is_promised_no_protection(found, drainable):
    """On the glycol side stronger is warmer, so "that or colder" would be false."""
    van = cc.CoolingSystem(capacity="10 L", capacity_error="1 L", drainable=drainable)
    can = cc.Product.generic("ethylene glycol concentrate")
    tool = cc.Refractometer(made_for="ethylene glycol", error="1 K")
    job = cc.correct_mix(system=van, found=found, target="50 % product", pour=[can, cc.WATER])
    text = str(job)
    assert "too strong" in text
    if job.after.frac_mass > 0.60:
        low, value, high = job.expect(tool)
        assert "about −" not in job.freezing_words(job.after)
        assert job.freezing_words(job.after).startswith("not settled: between")
        assert low <= value <= high
        assert "or colder" not in text
        assert "nothing to count on; dilute a sample" in text
        assert "freezing point of past" not in text
        # what is expected is no narrower than the band of the freezing point
        bare = job.expect()
        for end in (-1.0, 0.0, 1.0):
            share = job.after.frac_mass + end * job.half_width
            if 0.60 < share <= 1.0:
                cold, warm, _ = cc.fluids.band("freeze_temp_k", "ethylene glycol", share)
                assert bare.low.m_as("kelvin") <= cold + 0.01
                assert bare.high.m_as("kelvin") >= warm - 0.01
        # the band that is printed reaches the warm end of what is expected
        assert job.after.freeze_band[1] >= value - cc.Q(0.01, "delta_degC")


def test_freezing_point_of_a_concentrate_is_no_protection():
    van = cc.CoolingSystem(capacity="10 L", drainable="3 L")
    ready = cc.Product.generic("ethylene glycol ready-mixed 50 %")
    job = cc.correct_mix(system=van, found="100 % product", target="50 % product", pour=[ready])
    assert job.drain is None
    assert "Within reach" in str(job) or "within reach" in str(job)
    assert "freezing point about −40" not in str(job)
    assert "not settled: between" in str(job)
