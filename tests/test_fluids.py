"""The properties of glycol and water: ends, shape, round trips, refusals, agreement of paths."""

import math
import re
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coolcalc import fluids
from coolcalc.errors import (
    CoolcalcError,
    NoGlycolSideError,
    NotNumericError,
    NotSettledError,
    OutOfRangeError,
    UnknownChoiceError,
)
from coolcalc.sources import SOURCES

NAMES = ("ethylene glycol", "propylene glycol", "glycerol")
ZERO = 273.15
each_fluid = pytest.mark.parametrize("fluid", NAMES)
#: Where the glycol side begins.
STRONG = {"ethylene glycol": 0.80, "glycerol": 0.70}
each_strong = pytest.mark.parametrize("fluid", STRONG)


def test_the_fluids_are_these():
    assert tuple(fluids.FLUIDS) == NAMES
    assert fluids.FRAC_MASS_SETTLED_MAX == 0.60


# Ends


@each_fluid
def test_water_freezes_at_zero_with_the_slope_of_dilute_solutions(fluid):
    # 1.86 K kg/mol over the molar mass, per unit of mass fraction (textbook constant)
    slope = {"ethylene glycol": 29.97, "propylene glycol": 24.44, "glycerol": 20.20}[fluid]
    assert fluids.freeze_temp_k(fluid, 0.0) == ZERO
    assert fluids.frac_mass_from_freeze_temp_k(fluid, ZERO) == 0.0
    assert (ZERO - fluids.freeze_temp_k(fluid, 1e-6)) / 1e-6 == pytest.approx(slope, abs=0.01)


@each_fluid
def test_exact_bounds_work_and_one_step_beyond_refuses(fluid):
    end = fluids.freeze_temp_k(fluid, 0.60)
    assert fluids.frac_mass_from_freeze_temp_k(fluid, end) == pytest.approx(0.60, abs=1e-12)
    with pytest.raises(NotSettledError, match="not settled"):
        fluids.freeze_temp_k(fluid, 0.60 + 2e-7)
    assert fluids.settled(fluid, 0.60) and not fluids.settled(fluid, 0.60 + 2e-7)
    # the roundings of 0.60 pass
    assert fluids.freeze_temp_k(fluid, 0.1 * 6) == pytest.approx(end, abs=1e-9)
    assert fluids.freeze_temp_k(fluid, np.float32(0.60)) == pytest.approx(end, abs=1e-4)
    with pytest.raises(OutOfRangeError, match="freezing temperature"):
        fluids.frac_mass_from_freeze_temp_k(fluid, end - 1e-5)
    with pytest.raises(OutOfRangeError, match=r"freezing temperature = 273\.151"):
        fluids.frac_mass_from_freeze_temp_k(fluid, 273.151)


@each_strong
def test_exact_bounds_of_the_glycol_side(fluid):
    start = STRONG[fluid]
    below = start - 2e-7
    assert fluids.settled(fluid, start) and not fluids.settled(fluid, below)
    cold, melts = fluids.freeze_temp_k(fluid, start), fluids.freeze_temp_k(fluid, 1.0)
    read = [fluids.frac_mass_from_freeze_temp_k(fluid, t, side="glycol") for t in (cold, melts)]
    assert read == pytest.approx([start, 1.0], abs=1e-12)
    with pytest.raises(NotSettledError, match=rf"ask at 0 to 60 or {100 * start:g} to 100 mass %"):
        fluids.freeze_temp_k(fluid, below)
    for outside in (cold - 1e-5, melts + 1e-5):
        with pytest.raises(OutOfRangeError, match=f"the glycol side of {fluid} and water"):
            fluids.frac_mass_from_freeze_temp_k(fluid, outside, side="glycol")


@each_fluid
def test_fractions_meet_at_the_ends(fluid):
    assert fluids.frac_mass_from_frac_vol(fluid, 0.0) == 0.0
    assert fluids.frac_mass_from_frac_vol(fluid, 1.0) == 1.0
    # by hand: equal volumes weigh as the densities of the pure liquids at 20 °C
    glycol = fluids.density_kg_m3(fluid, 1.0, 293.15)
    by_hand = glycol / (glycol + 998.204)
    assert fluids.frac_mass_from_frac_vol(fluid, 0.5) == pytest.approx(by_hand, abs=1e-6)


# Shape


@each_fluid
def test_more_glycol_freezes_colder_up_to_60_percent(fluid):
    curve = fluids.freeze_temp_k(fluid, np.linspace(0, 0.60, 2001))
    assert np.all(np.diff(curve) < 0)


@each_strong
def test_more_glycol_freezes_sooner_on_the_glycol_side(fluid):
    curve = fluids.freeze_temp_k(fluid, np.linspace(STRONG[fluid], 1.0, 2001))
    assert np.all(np.diff(curve) > 0)


@each_fluid
def test_every_reading_from_zero_to_the_end_has_a_root(fluid):
    end = fluids.freeze_temp_k(fluid, 0.60)
    temps = np.concatenate([np.linspace(end, ZERO, 5001), ZERO - np.logspace(-9, -1, 50)])
    found = fluids.frac_mass_from_freeze_temp_k(fluid, temps)
    assert np.all((found >= 0) & (found <= 0.60))
    assert fluids.freeze_temp_k(fluid, found) == pytest.approx(temps, abs=1e-9)


@each_fluid
def test_bounds_hold_the_curve_and_never_cross(fluid):
    every = np.linspace(0, 1, 20001)
    low, high = fluids.freeze_bound_k(fluid, every)
    known = fluids.settled(fluid, every)
    assert np.array_equal(low[known], high[known])
    assert low[known] == pytest.approx(fluids.freeze_temp_k(fluid, every[known]), abs=1e-12)
    assert np.all(low[~known] < high[~known])
    # no jump but at the seams, where the bounds take up the band of the curve: the band has none;
    # 16 K per mass % is the steepest
    for ends in (fluids.band("freeze_temp_k", fluid, every)[:2],):
        assert np.all(ends[0] <= low + 1e-9) and np.all(high - 1e-9 <= ends[1])
        assert all(np.max(np.abs(np.diff(end))) < 0.1 for end in ends)
    assert fluids.liquid_from_k(fluid, 0.3) == fluids.freeze_temp_k(fluid, 0.3)
    assert fluids.liquid_from_k(fluid, 0.65) == fluids.freeze_bound_k(fluid, 0.65)[1]


def test_settled_in_the_shape_that_is_asked():
    found = fluids.settled("glycerol", [[0.1, 0.65], [0.7, 1.0]])
    assert found.tolist() == [[True, False], [True, True]]
    assert fluids.settled("propylene glycol", 1.0) is False
    assert fluids.settled("glycerol", 1) is True
    assert not fluids.settled_unchecked("glycerol", math.nan)


def test_propylene_glycol_has_a_densest_strength():
    # nakanishi-1967 at 25 °C: 1036.61 at 54 %, 1040.18 at 70 %, 1032.41 pure
    w = np.linspace(0, 1, 1001)
    rho = fluids.density_kg_m3("propylene glycol", w, 298.15)
    assert 0.68 < w[np.argmax(rho)] < 0.78


@each_fluid
@pytest.mark.parametrize("temp_k", [273.15, 293.15, 333.15])
def test_index_rises_with_glycol_and_reads_back(fluid, temp_k):
    w = np.linspace(0, 1, 501)
    index = fluids.refractive_index(fluid, w, temp_k)
    assert np.all(np.diff(index) > 0)
    assert fluids.frac_mass_from_refractive_index(fluid, index, temp_k) == pytest.approx(
        w, abs=1e-9
    )


# Round trips, and no NaN or inf in or out


@each_fluid
@given(frac=st.floats(0, 0.60))
def test_freezing_round_trip(fluid, frac):
    temp = fluids.freeze_temp_k(fluid, frac)
    assert math.isfinite(temp)
    assert fluids.frac_mass_from_freeze_temp_k(fluid, temp) == pytest.approx(frac, abs=1e-8)


@each_strong
@given(share=st.floats(0, 1))
def test_freezing_round_trip_on_the_glycol_side(fluid, share):
    frac = STRONG[fluid] + share * (1 - STRONG[fluid])
    frac = min(max(frac, STRONG[fluid]), 1.0)
    temp = fluids.freeze_temp_k(fluid, frac)
    assert math.isfinite(temp)
    back = fluids.frac_mass_from_freeze_temp_k(fluid, temp, side="glycol")
    assert back == pytest.approx(frac, abs=1e-8)


@each_fluid
@given(frac=st.floats(0, 1))
def test_volume_round_trip(fluid, frac):
    there = fluids.frac_vol_from_frac_mass(fluid, frac)
    assert 0 <= there <= 1
    assert fluids.frac_mass_from_frac_vol(fluid, there) == pytest.approx(frac, abs=1e-12)


@each_fluid
@given(frac=st.floats(0, 1), temp_k=st.floats(273.15, 403.15))
def test_density_is_finite_everywhere(fluid, frac, temp_k):
    assert 900 < fluids.density_kg_m3(fluid, frac, temp_k) < 1300


@each_fluid
@given(frac=st.floats(0, 1), temp_k=st.floats(273.15, 333.15))
def test_index_round_trip(fluid, frac, temp_k):
    index = fluids.refractive_index(fluid, frac, temp_k)
    found = fluids.frac_mass_from_refractive_index(fluid, index, temp_k)
    assert found == pytest.approx(frac, abs=1e-9)


@each_fluid
@given(value=st.floats(allow_nan=True, allow_infinity=True))
def test_any_float_gives_a_finite_answer_or_a_refusal(fluid, value):
    calls = (
        lambda: fluids.freeze_temp_k(fluid, value),
        lambda: fluids.frac_mass_from_freeze_temp_k(fluid, value),
        lambda: fluids.frac_mass_from_freeze_temp_k(fluid, value, side="glycol"),
        lambda: fluids.settled(fluid, value),
        lambda: fluids.freeze_bound_k(fluid, value),
        lambda: fluids.density_kg_m3(fluid, value, 293.15),
        lambda: fluids.density_kg_m3(fluid, 0.3, value),
        lambda: fluids.specific_gravity(fluid, 0.3, value),
        lambda: fluids.specific_gravity(fluid, 0.3, 293.15, value),
        lambda: fluids.refractive_index(fluid, value, 293.15),
        lambda: fluids.refractive_index(fluid, 0.3, value),
        lambda: fluids.frac_mass_from_refractive_index(fluid, value, 293.15),
        lambda: fluids.frac_mass_from_frac_vol(fluid, value),
        lambda: fluids.frac_vol_from_frac_mass(fluid, value),
    )
    for call in calls:
        try:
            answer = call()
        except CoolcalcError:
            continue
        assert np.all(np.isfinite(answer))


# Floats and arrays, checked and unchecked, are one formula

CALLS = {
    "freeze_temp_k": (0.1, 0.3, 0.55),
    "frac_mass_from_freeze_temp_k": (270.0, 260.0, 245.0),
    "freeze_bound_k": (0.1, 0.6, 0.8),
    "frac_mass_from_frac_vol": (0.1, 0.5, 0.9),
    "frac_vol_from_frac_mass": (0.1, 0.5, 0.9),
}
CALLS_AT = {
    "density_kg_m3": (0.1, 0.5, 0.9),
    "specific_gravity": (0.1, 0.5, 0.9),
    "refractive_index": (0.1, 0.5, 0.9),
    "frac_mass_from_refractive_index": (1.34, 1.37, 1.42),
}


@each_fluid
@pytest.mark.parametrize("function", [*CALLS, *CALLS_AT])
def test_element_of_an_array_is_the_float(fluid, function):
    values = {**CALLS, **CALLS_AT}[function]
    at = (300.0,) if function in CALLS_AT else ()
    call = getattr(fluids, function)
    together = np.atleast_2d(call(fluid, np.array(values), *at))
    for i, value in enumerate(values):
        alone = call(fluid, value, *at)
        parts = alone if isinstance(alone, tuple) else (alone,)
        assert all(type(part) is float for part in parts)
        assert together[:, i] == pytest.approx(parts, rel=1e-12)


@each_fluid
@pytest.mark.parametrize("function", sorted({*CALLS, *CALLS_AT} - {"freeze_bound_k"}))
def test_unchecked_twin_is_the_same_formula(fluid, function):
    values = np.array({**CALLS, **CALLS_AT}[function])
    at = (300.0,) if function in CALLS_AT else ()
    checked = getattr(fluids, function)(fluid, values, *at)
    unchecked = getattr(fluids, f"{function}_unchecked")(fluid, values, *at)
    assert unchecked == pytest.approx(checked, rel=1e-15)


@each_fluid
def test_shapes_are_kept_and_arguments_untouched(fluid):
    w = np.array([[0.1, 0.2, 0.3], [0.4, 0.5, 0.6]])
    t = np.array([[283.15], [293.15]])
    before = w.copy(), t.copy()
    assert fluids.freeze_temp_k(fluid, w).shape == (2, 3)
    assert fluids.frac_mass_from_freeze_temp_k(fluid, fluids.freeze_temp_k(fluid, w)).shape == (
        2,
        3,
    )
    assert fluids.density_kg_m3(fluid, w, t).shape == (2, 3)
    assert fluids.density_kg_m3(fluid, 0.3, t).shape == (2, 1)
    assert fluids.refractive_index(fluid, w, t).shape == (2, 3)
    assert fluids.freeze_temp_k(fluid, [0.1, 0.2]).shape == (2,)
    assert fluids.freeze_temp_k(fluid, np.array([])).shape == (0,)
    assert fluids.freeze_temp_k(fluid, np.float64(0.1)) == fluids.freeze_temp_k(fluid, 0.1)
    assert fluids.freeze_temp_k(fluid, 0) == ZERO
    assert np.array_equal(w, before[0]) and np.array_equal(t, before[1])


# Refusals: a sentence with the value, the limit and the first bad element


@pytest.mark.parametrize("bad", [-0.001, 1.001, math.nan, math.inf, -math.inf])
@pytest.mark.parametrize(
    "function",
    [
        *("freeze_temp_k", "freeze_bound_k", "settled"),
        *("frac_vol_from_frac_mass", "frac_mass_from_frac_vol"),
    ],
)
def test_fractions_outside_0_to_1_are_refused(function, bad):
    call = getattr(fluids, function)
    with pytest.raises(OutOfRangeError, match=re.escape(f"fraction = {bad:.6g}")) as caught:
        call("ethylene glycol", bad)
    assert caught.value.index is None
    with pytest.raises(OutOfRangeError, match=r"fraction \(element 2\)") as caught:
        call("ethylene glycol", np.array([0.1, 0.2, bad, bad]))
    assert caught.value.index == 2


def test_first_bad_element_is_named_across_broadcast_arguments():
    # two rows of two: element 2 is the first of the second row
    with pytest.raises(OutOfRangeError, match=r"temperature \(element 2\) = 205 K") as caught:
        fluids.density_kg_m3("glycerol", [0.1, 0.3], [[305.0, 300.0], [205.0, 200.0]])
    assert caught.value.index == 2
    with pytest.raises(OutOfRangeError, match=r"refractive index \(element 1\) = 1\.6 nD"):
        fluids.frac_mass_from_refractive_index("glycerol", [1.4, 1.6], 293.15)


def test_strong_mix_is_not_settled_and_says_its_bounds():
    with pytest.raises(NotSettledError, match=r"ethylene glycol at 0\.7 kg/kg is not") as caught:
        fluids.freeze_temp_k("ethylene glycol", 0.7)
    assert (caught.value.low, caught.value.high) == fluids.freeze_bound_k("ethylene glycol", 0.7)
    assert set(caught.value.sources) <= set(SOURCES)
    assert caught.value.settled == ((0.0, 0.6), (0.8, 1.0))
    assert (
        "Use the bounds (freeze_bound_k), or ask at 0 to 60 or 80 to 100 mass % of glycol."
        in str(caught.value)
    )
    with pytest.raises(NotSettledError, match=r"ask at 0 to 60 mass % of glycol\."):
        fluids.freeze_temp_k("propylene glycol", 1.0)
    with pytest.raises(NotSettledError, match=r"element 1") as caught:
        fluids.freeze_temp_k("ethylene glycol", [0.5, 0.7, 0.8])
    assert caught.value.index == 1
    with pytest.raises(NotSettledError, match=r"0\.7"):
        fluids.freeze_temp_k("ethylene glycol", 0.7, model="coolprop")


@each_fluid
@pytest.mark.parametrize("bad", [0.65, 1.5, math.nan, -math.inf])
def test_one_bad_element_among_a_million_is_named(fluid, bad):
    w = np.full(1_000_000, 0.3)
    w[765_432] = bad
    with pytest.raises((NotSettledError, OutOfRangeError), match=r"\(element 765432\)") as caught:
        fluids.freeze_temp_k(fluid, w)
    assert caught.value.index == 765_432


def test_propylene_glycol_has_no_glycol_side():
    says = "side: propylene glycol has no glycol side: above 60 mass % it stiffens to a glass"
    with pytest.raises(NoGlycolSideError, match=says):
        fluids.frac_mass_from_freeze_temp_k("propylene glycol", 230.0, side="glycol")


def test_unknown_names_list_the_choices():
    with pytest.raises(UnknownChoiceError, match=r'fluid: "EG".*"ethylene glycol".*"glycerol"'):
        fluids.freeze_temp_k("EG", 0.3)
    with pytest.raises(UnknownChoiceError, match=r'side: "strong".*"water", "glycol"'):
        fluids.frac_mass_from_freeze_temp_k("glycerol", 260.0, side="strong")
    with pytest.raises(UnknownChoiceError, match=r'model: "best".*"consensus", "coolprop"'):
        fluids.freeze_temp_k("glycerol", 0.3, model="best")
    with pytest.raises(UnknownChoiceError, match="model"):
        fluids.density_kg_m3("glycerol", 0.3, 293.15, model="best")
    with pytest.raises(UnknownChoiceError, match="fluid"):
        fluids.refractive_index(["glycerol"], 0.3, 293.15)
    with pytest.raises(NotNumericError, match="glycol mass fraction: 'half'"):
        fluids.freeze_temp_k("glycerol", "half")


def test_sources_named_by_the_properties_are_known():
    from coolcalc.fluids import density, freezing, refraction

    for table in (density.SOURCES, freezing.SOURCES, freezing.BOUND_SOURCES, refraction.SOURCES):
        assert set(table) == set(NAMES)
        for keys in table.values():
            assert set(keys) <= set(SOURCES)


def test_properties_load_no_coolprop():
    code = (
        "import sys, coolcalc.fluids as f; f.freeze_temp_k('glycerol', 0.3); "
        "print({'CoolProp', 'pandas', 'ipywidgets'} & set(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "set()"


#: One range for all that is asked at a temperature.
AT_A_TEMPERATURE = (
    *("density_kg_m3", "specific_gravity", "vapor_pressure_pa"),
    *("heat_capacity_j_kg_k", "conductivity_w_m_k", "viscosity_pa_s"),
)


@each_fluid
@pytest.mark.parametrize("function", AT_A_TEMPERATURE)
@pytest.mark.parametrize("frac", [0.0, 0.3, 0.6, 0.65, 0.85, 1.0])
def test_all_properties_share_one_range_of_temperatures(fluid, function, frac):
    call, low = getattr(fluids, function), fluids.covered_from_k(fluid, frac)
    assert fluids.TEMP_MIN_K <= low <= ZERO
    for temp_k in (low, ZERO, fluids.TEMP_MAX_K):
        assert math.isfinite(call(fluid, frac, temp_k))
        together = call(fluid, np.full(3, frac), np.array([temp_k, 300.0, 320.0]))
        assert together[0] == pytest.approx(call(fluid, frac, temp_k), rel=1e-12)
    with pytest.raises(OutOfRangeError, match="temperature"):
        call(fluid, frac, low - 0.01)
    with pytest.raises(OutOfRangeError, match=r"temperature \(element 2\)"):
        call(fluid, frac, np.array([300.0, 290.0, low - 0.01, 100.0]))
    with pytest.raises(OutOfRangeError, match=r"temperature \(element 1\) = nan"):
        call(fluid, np.array([frac, frac]), np.array([300.0, math.nan]))


@each_fluid
@pytest.mark.parametrize("function", AT_A_TEMPERATURE)
def test_one_bad_temperature_among_a_million_is_named(fluid, function):
    temps = np.full(1_000_000, 300.0)
    temps[765_432] = math.nan
    with pytest.raises(OutOfRangeError, match="temperature") as caught:
        getattr(fluids, function)(fluid, 0.4, temps)
    assert caught.value.index == 765_432


# What is not a number in SI units is refused, and the usual slips are named


@pytest.mark.parametrize(
    "wrong",
    ["0.5", b"0.5", True, None, [True, False], [None, 0.5], 0.5 + 0j, [0.1, [0.2]], [True, 0.5]],
    ids=repr,
)
def test_only_plain_numbers_pass(wrong):
    with pytest.raises(NotNumericError, match="is not a number or an array of numbers; give plain"):
        fluids.density_kg_m3("glycerol", wrong, 300.0)
    with pytest.raises(NotNumericError, match=r"temperature: .* is not a number"):
        fluids.density_kg_m3("glycerol", 0.3, wrong)


def test_quantities_and_masks_are_not_stripped():
    import coolcalc as cc

    with pytest.raises(NotNumericError, match="units of their own"):
        fluids.density_kg_m3("glycerol", 0.3, cc.Q(20.0, "degC"))
    with pytest.raises(NotNumericError, match="units of their own"):
        fluids.density_kg_m3("glycerol", [cc.Q(50.0, "percent")], 300.0)
    with pytest.raises(NotNumericError, match="masks"):
        fluids.density_kg_m3("glycerol", [np.ma.masked, 0.1], 300.0)
    masked = np.ma.array([0.1, 0.2], mask=[False, True])
    with pytest.raises(NotNumericError, match="masks"):
        fluids.freeze_temp_k("glycerol", masked)
    assert fluids.freeze_temp_k("glycerol", np.ma.array([0.1, 0.2])).shape == (2,)


def test_shapes_that_do_not_go_together_are_named():
    with pytest.raises(
        CoolcalcError, match=r"shape \(2,\) does not go with .* temperature, \(3,\)"
    ):
        fluids.viscosity_pa_s("glycerol", [0.1, 0.2], [300.0, 310.0, 320.0])
    with pytest.raises(CoolcalcError, match=r"does not go with that of pressure"):
        fluids.boil_temp_k("glycerol", np.zeros((2, 2)), np.full(3, 1e5))
    with pytest.raises(CoolcalcError, match=r"that of reference temperature, \(3,\)"):
        fluids.specific_gravity("glycerol", [0.1, 0.2], 300.0, [288.0, 289.0, 290.0])


@pytest.mark.parametrize(
    ("call", "hint"),
    [
        (
            lambda: fluids.freeze_temp_k("glycerol", 50),
            r"A share of one is asked for: 0\.5 for 50 %",
        ),
        (lambda: fluids.density_kg_m3("glycerol", 0.3, 20), r"Kelvin .*: 293\.15 for 20 °C"),
        (lambda: fluids.boil_temp_k("glycerol", 0.3, 101.3), r"Pascal.*: 101300 for 101\.3 kPa"),
        (
            lambda: fluids.density_kg_m3("glycerol", 0.3, 200.0),
            r"ice or crystals of the glycol form",
        ),
        (
            lambda: fluids.boil_temp_k("glycerol", 0.99, 1e5),
            r"Ask for less glycol or less pressure",
        ),
    ],
)
def test_usual_slips_are_named(call, hint):
    with pytest.raises(OutOfRangeError, match=hint):
        call()


def test_a_long_wrong_name_is_cut_short():
    with pytest.raises(UnknownChoiceError) as caught:
        fluids.freeze_temp_k(fluids.FLUIDS["glycerol"], 0.3)
    assert len(str(caught.value)) < 220
