"""What instruments refuse, say, and promise of themselves; odd figures never break them.

Published values are in `test_instruments`; a figure here without a source is only an example.
"""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

import coolcalc as cc
from coolcalc import fluids, units
from coolcalc.errors import InputError, TwoAnswersError, UnclearInputError, UnknownChoiceError
from coolcalc.instruments import MIXED, SCALES, Hydrometer, Refractometer, TestStrip
from coolcalc.instruments.scales import as_names

EG, PG, GLYCEROL = "ethylene glycol", "propylene glycol", "glycerol"
CAN = {fluid: cc.Product.generic(f"{fluid} concentrate") for fluid in (EG, PG)}
METRIC = units.SYSTEMS["metric"]
Q = cc.Q


def every_tool(fluid=EG):
    """One instrument of each scale, and how its sample is told where it does not compensate."""
    kinds = ((Refractometer, {}), (Hydrometer, {"sample_temp": "20 °C"}))
    return [
        (kind(scale=each, made_for=fluid), at) for kind, at in kinds for each in SCALES[kind.kind]
    ]


# --- what is asked back ---------------------------------------------------------------------------


def test_two_lines_are_asked_about():
    tool = Refractometer(made_for=(EG, PG))
    with pytest.raises(InputError, match=r"line: .*ethylene glycol and propylene glycol; say whi"):
        tool.read("-16 °C")
    assert tool.read("-16 °C", line=PG).inside == PG


def test_line_that_does_not_exist_is_refused():
    with pytest.raises(UnknownChoiceError, match='line: "propylene glycol" is not one of'):
        Refractometer(made_for=EG).read("-16 °C", line=PG)
    with pytest.raises(InputError, match=r"line: this hydrometer has no lines: .*\(inside\)"):
        Hydrometer().read("1.05", line=EG, sample_temp="20 °C")
    with pytest.raises(InputError, match="line: what product the glycerol line was laid out for"):
        Refractometer(scale="volume %", made_for=GLYCEROL).read("20 %", inside=EG)


@pytest.mark.parametrize("inside", [(EG, PG), MIXED, [EG, GLYCEROL]])
def test_mixed_glycols_are_refused_with_the_next_step(inside):
    for tool, at in every_tool():
        value = "-16 °C" if tool.spec.kind == "freezing point" else 0.3
        with pytest.raises(InputError, match=r"inside: .*Drain, flush, and fill with one glycol"):
            tool.read(value, inside=inside, **at)
    strip = TestStrip(made_for=EG, steps=["20 %", "40 %"])
    with pytest.raises(InputError, match="no instrument in the hand can tell how strong"):
        strip.read("20 %", inside=inside)


@pytest.mark.parametrize("inside", [(), 5, None, "water", ["water"], ([EG],), {"a": 1}])
def test_glycol_inside_that_is_none_is_refused_or_left_open(inside):
    tool = Refractometer(scale="Brix")
    if inside is None:
        reading = tool.read("20")
        with pytest.raises(InputError, match="say which glycol is in the sample"):
            reading.mixture()
        assert reading.mixture(CAN[PG]).fluid == reading.of(PG).mixture().fluid == PG
        assert "crc-sucrose" in reading.source_keys
    else:
        with pytest.raises(UnknownChoiceError, match="inside"):
            tool.read("20", inside=inside)


def test_product_of_another_glycol_is_refused():
    reading = Refractometer(made_for=EG).read("-16 °C")
    with pytest.raises(InputError, match="ethylene glycol is in the sample, and propylene glycol"):
        reading.mixture(CAN[PG])
    with pytest.raises(InputError, match="'a can' is not a product"):
        reading.mixture("a can")
    assert reading.mixture(cc.WATER) == reading.mixture()


@pytest.mark.parametrize("made_for", [5, "water", [EG, "water"], ([EG],), Q(1, "L")])
def test_made_for_is_a_glycol_or_several(made_for):
    with pytest.raises(UnknownChoiceError, match="made_for"):
        Refractometer(made_for=made_for)


def test_made_for_may_be_a_list_and_repeat_itself():
    assert Refractometer(made_for=[EG]) == Refractometer(made_for=(EG, EG))
    assert Refractometer(made_for=[EG, PG]).lines == (EG, PG)
    hash(Refractometer(made_for=[EG, PG]))
    for nothing in (None, (), []):
        with pytest.raises(InputError, match=r"made_for: a scale in .* is made for one glycol"):
            Refractometer(made_for=nothing)
        assert Hydrometer(made_for=nothing).lines == ()
    assert as_names(5) == (5,)


@pytest.mark.parametrize("kind", [Refractometer, Hydrometer])
@pytest.mark.parametrize(
    ("field", "value"),
    [("scale", "pH"), ("scale", ["Brix"]), ("compensated", "no"), ("compensated", None)],
)
def test_odd_choices_are_refused_by_name(kind, field, value):
    with pytest.raises(UnknownChoiceError, match=f"{field}: .*is not one of the choices"):
        kind(made_for=EG, **{field: value})
    with pytest.raises(UnknownChoiceError, match="zeroed"):
        Refractometer(made_for=EG, zeroed="no")


# --- temperature of the sample --------------------------------------------------------------------


def test_sample_temperature_is_asked_for_where_nothing_compensates():
    with pytest.raises(InputError, match=r"sample_temp: a hot sample is lighter .* at 15\.6 °C"):
        Hydrometer().read("1.05", inside=EG)
    with pytest.raises(InputError, match="sample_temp: this refractometer does not compensate"):
        Refractometer(made_for=EG, compensated=False).read("-16 °C")
    assert Hydrometer(compensated=True).read("1.05", inside=EG).sample_temp_k is None


@pytest.mark.parametrize("temp", ["20", 20, "-5 °C", "95 °C", Q(5, "delta_degC"), "20 K", None])
def test_odd_sample_temperatures_are_refused(temp):
    with pytest.raises(InputError, match="sample_temp"):
        Hydrometer().read("1.05", inside=EG, sample_temp=temp)


def test_compensation_that_does_not_reach_is_refused():
    with pytest.raises(InputError, match=r"sample_temp: 35 °C: most .* from 10 to 30 °C only"):
        Refractometer(made_for=EG).read("-16 °C", sample_temp="35 °C")
    reading = Refractometer(made_for=EG).read("-16 °C", sample_temp="25 °C")
    assert reading.told(METRIC) == "−16.0 °C on the refractometer, sample at 25 °C"


# --- off the scale --------------------------------------------------------------------------------


def test_colder_than_settled_is_refused_with_the_advice_to_dilute():
    """Laboratories disagree beyond 60 mass %: bowles-sae. crc-concentrative: -51.23 °C there."""
    for tool, at in every_tool():
        if tool.scale == "freeze point":
            with pytest.raises(InputError, match=r"colder than −51\.. °C.*with as much water"):
                tool.read("-60 °C", **at)


@pytest.mark.parametrize(
    "value",
    ["-16", -16, "16 °C", "20 %", "0.5 °C", None, True, "–16 °C", Q(3, "delta_degC"), "-16 K"],
)
def test_odd_freezing_points_are_refused(value):
    with pytest.raises(InputError, match="reading") as error:
        Refractometer(made_for=EG).read(value)
    if value in ("16 °C", "–16 °C"):
        assert isinstance(error.value, UnclearInputError)


def test_freezing_points_may_be_fahrenheit_or_quantities():
    """By definition 3.2 °F is -16 °C."""
    read = Refractometer(made_for=EG).read
    same = [read(each).frac_mass for each in ("-16 °C", "3.2 °F", Q(-16, "degC"), Q(257.15, "K"))]
    assert same == pytest.approx([same[0]] * 4, abs=1e-12)


@pytest.mark.parametrize(
    ("scale", "value"),
    [
        *(("refractive index", each) for each in ("1.33", "1.4335", "138", "1.38 %", "1,380")),
        *(("Brix", each) for each in ("-1", "65", "84.5", "96", Q(20, "degC"))),
    ],
)
def test_light_that_no_mix_shows_is_refused(scale, value):
    """Water 1.3330 (schiebener-1990), pure ethylene glycol 1.4318 (crc-constants); 56 °Brix."""
    with pytest.raises(InputError, match="reading"):
        Refractometer(scale=scale).read(value, inside=EG)


@pytest.mark.parametrize("value", ["0.99", "1.2", "1070", "1.07 kg/L", Q(1.07, "kg/L")])
def test_weight_that_no_mix_has_is_refused(value):
    with pytest.raises(InputError, match="reading"):
        Hydrometer().read(value, inside=EG, sample_temp="20 °C")


def test_what_no_mix_shows_is_refused_with_what_to_check():
    for tool, value in ((Hydrometer(compensated=True), "1.2"), (Refractometer(scale="Brix"), "65")):
        with pytest.raises(InputError, match=r"no mix of ethylene .*Check the reading on water, t"):
            tool.read(value, inside=EG)
    with pytest.raises(InputError, match="no mix of glycerol with water shows"):
        Hydrometer(compensated=True).read("1.3", inside=GLYCEROL)


def test_stronger_than_the_can_is_refused():
    with pytest.raises(InputError, match="stronger than ethylene glycol concentrate itself can be"):
        Refractometer(made_for=EG).read("-48 °C", diluted=1)
    # A reading near pure glycol is kept for a product that may be that strong.
    reading = Refractometer(scale="refractive index").read("1.4315", inside=EG)
    with pytest.raises(InputError, match="itself can be"):
        reading.mixture()


@pytest.mark.parametrize("parts", ["2:1", "much", math.nan, -1, 5, True, None, [1], Q(1, "L")])
def test_odd_dilutions_are_refused(parts):
    with pytest.raises(InputError, match=r"diluted: "):
        Refractometer(made_for=EG).read("-16 °C", diluted=parts)


@pytest.mark.parametrize("parts", ["1:1", "1", 1, 1.0])
def test_a_dilution_may_be_told_in_many_ways(parts):
    assert Refractometer(made_for=EG).read("-16 °C", diluted=parts).diluted == 1.0


# --- two answers ----------------------------------------------------------------------------------


def test_gravity_of_propylene_glycol_beyond_its_limit_names_both():
    reading = Hydrometer(reference_temp="20 °C").read("1.041", inside=PG, sample_temp="20 °C")
    weak, strong = reading.answers()
    assert weak.frac_mass < strong.frac_mass
    with pytest.raises(TwoAnswersError, match="cannot tell them apart") as error:
        reading.mixture()
    assert error.value.answers == (weak, strong)
    for each in (weak, strong):
        assert f"{100 * each.strength().share:.0f} % of concentrate" in str(error.value)
    assert "Read a refractometer; or dilute a sample" in str(error.value)


def test_undiluted_can_is_an_answer_only_within_the_error():
    """By hand: the generic can floats at 1.050/0.9982 = 1.052, 0.005 above -49 °C; 8 °F: 0.002."""
    line = Hydrometer(made_for=PG, scale="freeze point", reference_temp="20 °C", compensated=True)
    assert len(line.read("-49 °C").answers()) == 1
    weight = Hydrometer(reference_temp="20 °C", compensated=True)
    assert [len(weight.read(each, inside=PG).answers()) for each in ("1.048", "1.046")] == [2, 1]


def test_scale_that_hardly_moves_gives_no_guess():
    """The generic concentrate of propylene glycol is densest near 80 mass % (common practice, no
    source); within the error of that mark a hydrometer tells nothing."""
    tool = Hydrometer(reference_temp="20 °C", compensated=True)
    densest = max(tool.shown(each, None, CAN[PG], 293.15) for each in np.linspace(0.5, 0.97, 95))
    for shown in (densest - 1e-4, densest + 0.004):
        reading = tool.read(shown, inside=PG)
        with pytest.raises(InputError, match=r"two mixes|hardly moves with the strength"):
            reading.mixture()
    with pytest.raises(InputError, match="no mix of propylene glycol"):
        tool.read(densest + 0.006, inside=PG)


# --- give or take ---------------------------------------------------------------------------------


def test_repeatability_is_part_of_the_error():
    with pytest.raises(InputError, match=r"repeatability: 3 °F is more than the whole .*\(2 °F\)"):
        Refractometer(made_for=EG, repeatability="3 °F")
    tool = Refractometer(made_for=EG, error="1 K", repeatability="0.6 K")
    assert (tool.offset_si, tool.repeat_si) == pytest.approx((0.8, 0.6))  # by squares
    assert Refractometer(made_for=EG, error="1 K", repeatability="1 K").offset_si == 0.0


@pytest.mark.parametrize(("tool", "at"), every_tool())
def test_error_is_split_evenly_unless_told(tool, at):
    assert tool.offset_si == pytest.approx(tool.repeat_si)
    assert np.hypot(tool.offset_si, tool.repeat_si) == pytest.approx(tool.error_si)
    shown = tool.shown(0.3, EG, CAN[EG], 293.15)
    reading = tool.read(tool.quantity(shown), inside=EG, **at)
    assert np.hypot(*reading.half_widths()) == pytest.approx(reading.mixture().half_width)
    assert reading.offset_share() == pytest.approx(0.5**0.5)


@pytest.mark.parametrize(
    "error", ["1", 1, "-1 K", "20 K", Q(1, "degC"), "2 %", None, True, "nan K"]
)
def test_odd_errors_are_refused_and_none_takes_the_usual_one(error):
    if error is None:
        assert Refractometer(made_for=EG, error=None).error_si == pytest.approx(2 / 1.8)
    else:
        with pytest.raises(InputError, match="error"):
            Refractometer(made_for=EG, error=error)


def test_no_error_at_all_is_allowed():
    reading = Refractometer(made_for=EG, error="0 K").read("-16 °C")
    assert reading.half_widths() == (0.0, 0.0)
    assert reading.offset_share() == reading.bend() == reading.mixture().half_width == 0.0


def test_zero_that_was_not_set_widens_what_a_second_reading_does_not_share():
    """By 1 mass % of glycol: common practice, no source. The second one is on a set zero."""
    set_, unset = (Refractometer(made_for=EG, zeroed=each).read("-16 °C") for each in (True, False))
    offset, repeat = set_.half_widths()
    assert unset.half_widths() == pytest.approx((offset, np.hypot(repeat, 0.01)))
    assert set_.remarks(CAN[EG], METRIC) == ()
    (remark,) = unset.remarks(CAN[EG], METRIC)
    assert "was not set to zero on water: set it, and read again" in remark
    # What water showed takes the place of that.
    told = Refractometer(made_for=EG, zeroed=False).read("-16 °C", water="0 °C")
    assert told.half_widths() == pytest.approx((offset, repeat))
    assert told.remarks(CAN[EG], METRIC) == ()
    with pytest.raises(InputError, match="no mix of"):
        Refractometer(made_for=EG).read("-2 °C", water="-8 °C")


# --- test strips ----------------------------------------------------------------------------------

STEPS = ("0 %", "20 %", "33 %", "40 %", "50 %", "60 %")


def test_strip_reads_half_way_to_its_neighbours():
    strip = TestStrip(made_for=EG, steps=STEPS)
    half_widths = {}
    for step in STEPS:
        found = strip.read(step).mixture()
        assert found.strength().share == pytest.approx(float(step[:-2]) / 100, abs=1e-9)
        ends = [
            cc.Mixture(product=CAN[EG], frac_mass=found.frac_mass + sign * found.half_width)
            for sign in ((1,) if step == "0 %" else (-1, 1))
        ]
        half_widths[step] = [each.strength().share for each in ends]
    # By hand: half of the larger gap, within the bend of volume to mass.
    assert half_widths["0 %"] == pytest.approx([0.10], abs=0.006)
    assert half_widths["33 %"] == pytest.approx([0.265, 0.395], abs=0.006)
    assert half_widths["50 %"] == pytest.approx([0.45, 0.55], abs=0.006)
    assert strip.read("50 %").offset_share() == 0.0  # no two colours share an offset


def test_strip_in_degrees():
    """crc-concentrative: -10.28 °C at 24, -19.82 at 36 and -33.30 at 48 % (to 0.7 K, 0.6 %)."""
    strip = TestStrip(made_for=EG, steps=["-10.28 °C", "-19.82 °C", "-33.3 °C"])
    found = strip.read("-19.82 °C").mixture()
    assert found.frac_mass == pytest.approx(0.36, abs=0.004)
    assert found.half_width == pytest.approx(0.06, abs=0.004)
    in_fahrenheit = TestStrip(made_for=EG, steps=["20 °F", "0 °F", "-34 °F"])
    assert in_fahrenheit.read(Q(0, "degF")).words() == "−18 °C"


def test_strip_refuses_what_is_no_step():
    strip = TestStrip(made_for=EG, steps=STEPS)
    with pytest.raises(InputError, match=r"45 % is not a step .* of 0 %, 20 %, 33 %, 40 %, 50 %,"):
        strip.read("45 %")
    for odd in (["0 %"], None, -1, "-16 °C"):
        with pytest.raises(InputError, match="reading"):
            strip.read(odd)
    with pytest.raises(InputError, match="a strip for ethylene glycol says nothing of propylene"):
        strip.read("40 %", inside=PG)
    mix = CAN[PG].mix("40 % product")
    with pytest.raises(InputError, match="made for ethylene glycol, not propylene glycol"):
        strip.expect(mix)


@pytest.mark.parametrize(
    ("steps", "why"),
    [
        (["20 %", "0 %"], "do not rise"),
        (["0 %", "0 %"], "do not rise"),
        (["-20 °C", "-10 °C"], "do not rise"),
        (["0 %", "-20 °C"], "are mixed"),
        (["0 %"], "at least two"),
        ("0 %", "at least two"),
        (None, "at least two"),
        (5, "at least two"),
        (Q([1, 2], "percent"), "at least two"),
        ([None, None], "nothing was entered"),
        ([20, 30], "above 1"),
        (["-10", "-20"], "has no unit"),
        (["-10 °C", "-70 °C"], "colder than"),
    ],
)
def test_strip_steps_that_are_none(steps, why):
    with pytest.raises(InputError, match=f"steps: .*{why}"):
        TestStrip(made_for=EG, steps=steps)


def test_strip_steps_may_be_quantities():
    strip = TestStrip(made_for=EG, steps=[Q(20, "percent"), Q(40, "percent")])
    assert strip.read("40 %").value == strip.read(Q(40, "percent")).value == 0.4
    hash(TestStrip(made_for=EG, steps=list(STEPS)))


def test_strip_says_between_which_steps_to_expect():
    strip = TestStrip(made_for=EG, steps=STEPS)
    near = dataclasses.replace(CAN[EG].mix("46 % product"), half_width=0.0)
    assert [each.m for each in strip.expect(near)] == pytest.approx([50, 50, 50])
    unsure = dataclasses.replace(near, half_width=0.05)
    assert [each.m for each in strip.expect(unsure)] == pytest.approx([40, 50, 50])


# --- what to expect -------------------------------------------------------------------------------


@pytest.mark.parametrize("fluid", [EG, PG])
@pytest.mark.parametrize("frac_mass", [0.0, 0.02, 0.2, 0.41, 0.55])
def test_what_was_read_is_what_to_expect(fluid, frac_mass):
    for tool, at in every_tool(fluid):
        home = getattr(tool, "reference_temp_k", 293.15)
        shown = tool.quantity(tool.shown(frac_mass, fluid, CAN[fluid], home))
        at = at and {"sample_temp": Q(home, "kelvin")}
        reading = tool.read(shown, inside=fluid, **at)
        mixture = reading.answers()[0]
        low, value, high = tool.expect(mixture)
        near = 1e-6 * abs(shown.to_base_units().m)
        assert value.to_base_units().m == pytest.approx(shown.to_base_units().m, abs=near + 1e-9)
        assert low <= value <= high
        assert low < high


@pytest.mark.parametrize("frac_mass", [0.55, 0.7, 0.8, 0.95])
@pytest.mark.parametrize("half_width", [0.0, 0.05, 0.3])
def test_what_to_expect_holds_the_value_where_a_scale_turns(frac_mass, half_width):
    for fluid in (EG, PG):
        mixture = cc.Mixture(product=CAN[fluid], frac_mass=frac_mass, half_width=half_width)
        for line in (EG, PG):
            for tool, _ in every_tool(line):
                low, value, high = (each.to_base_units().m for each in tool.expect(mixture))
                assert low <= value <= high
                assert all(math.isfinite(each) for each in (low, value, high))


# --- anything at all ------------------------------------------------------------------------------

KINDS = st.sampled_from(
    [(tool, bool(at)) for fluid in (EG, PG, GLYCEROL) for tool, at in every_tool(fluid)]
)
WIDE = {
    "freezing point": st.floats(200.0, 280.0).map(lambda each: Q(each, "kelvin")),
    "share": st.floats(-0.1, 1.1),
    "Brix": st.floats(-1.0, 97.0),
    "refractive index": st.floats(1.29, 1.51),
    "specific gravity": st.floats(0.9, 1.3),
}


@settings(deadline=None)
@given(
    data=st.data(), kind=KINDS, temp_c=st.floats(0.0, 60.0), diluted=st.sampled_from([0, 1, 2.5])
)
def test_any_reading_gives_an_answer_or_a_refusal(data, kind, temp_c, diluted):
    tool, needs_temp = kind
    tool = dataclasses.replace(tool, compensated=data.draw(st.booleans()))
    value = data.draw(WIDE[tool.spec.kind])
    inside = data.draw(st.sampled_from([None, EG, PG, GLYCEROL]))
    at = {"sample_temp": Q(temp_c + 273.15, "kelvin")}
    if not needs_temp and data.draw(st.booleans()):
        at["water"] = data.draw(WIDE[tool.spec.kind])
    try:
        reading = tool.read(value, inside=inside, diluted=diluted, **at)
        found = reading.answers()
    except cc.CoolcalcError:
        return
    for mixture in found:
        assert 0.0 <= mixture.frac_mass <= 1.0
        assert 0.0 <= mixture.half_width < math.inf
    assert all(math.isfinite(each) for each in (reading.bend(), *reading.half_widths()))
    assert 0.0 <= reading.offset_share() <= 1.0
    assert reading.told(METRIC) and reading.told(units.SYSTEMS["US"])
    if len(found) == 2 or found[0].half_width > 0.2:
        with pytest.raises(TwoAnswersError if len(found) == 2 else InputError):
            reading.mixture()
        return
    mixture = reading.mixture()
    low, value, high = (each.to_base_units().m for each in tool.expect(mixture))
    assert low <= value <= high
    for remark in reading.remarks(CAN[mixture.fluid], METRIC):
        assert "nan" not in remark


@settings(deadline=None)
@given(
    kind=KINDS,
    frac_mass=st.floats(0.0, 0.95),
    temp_c=st.floats(5.0, 50.0),
    fluid=st.sampled_from([EG, PG]),
)
def test_what_is_shown_reads_back(kind, frac_mass, temp_c, fluid):
    tool, _ = kind
    tool = dataclasses.replace(tool, compensated=False, error=None)
    assume(tool.scale != "freeze point" or frac_mass < 0.5)
    temp = Q(temp_c + 273.15, "kelvin")
    try:
        shown = tool.shown(frac_mass, tool.made_for, CAN[fluid], temp.m)
        reading = tool.read(tool.quantity(shown), inside=fluid, sample_temp=temp)
        answers = reading.answers()
    except cc.CoolcalcError:
        assume(False)
    assume(len(answers) == 1 and not on_the_end(tool, shown))
    assert answers[0].frac_mass == pytest.approx(frac_mass, abs=1e-6)


def on_the_end(tool, shown):
    """Whether a line stands at one of its ends, where other mixes show the same."""
    coldest = fluids.freeze_temp_k(tool.made_for, fluids.FRAC_MASS_SETTLED_MAX)
    ends = {"freezing point": (273.15, coldest), "share": (0.0, 1.0)}.get(tool.spec.kind, ())
    return any(abs(shown - each) < 1e-9 for each in ends)
