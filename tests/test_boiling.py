"""Vapour pressure and boiling point: ends, shape, seams, round trips, refusals, known figures."""

import math
import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coolcalc import fluids
from coolcalc.errors import CoolcalcError, OutOfRangeError, UnknownChoiceError
from coolcalc.fluids import boiling
from coolcalc.fluids.fluid import CHUNK, in_chunks
from coolcalc.fluids.freezing import liquid_from_k
from coolcalc.sources import SOURCES

NAMES = ("ethylene glycol", "propylene glycol", "glycerol")
ZERO = 273.15
ATM = 101325.0
CAP = ATM + 103.4e3  # 15 psi over the air
each_fluid = pytest.mark.parametrize("fluid", NAMES)


# Water, against others


def test_water_is_the_published_equation():
    # wagner-1993, Table 1: its own check values (the last is the critical point, out of range)
    assert fluids.water_vapor_pressure_pa(273.16) == pytest.approx(611.657, abs=5e-4)
    assert fluids.water_vapor_pressure_pa(373.1243) == pytest.approx(0.101325e6, abs=0.5)
    step = fluids.water_vapor_pressure_pa(273.17) - fluids.water_vapor_pressure_pa(273.16)
    assert step / 0.01 == pytest.approx(44.436693, rel=1e-3)  # dp/dT of the same table


def test_water_agrees_with_the_equation_of_state():
    from CoolProp.CoolProp import PropsSI

    temps = np.linspace(273.16, 473.15, 201)
    theirs = PropsSI("P", "T", temps, "Q", 0, "Water")
    assert fluids.water_vapor_pressure_pa(temps) == pytest.approx(theirs, rel=1e-4)


@pytest.mark.parametrize(("pressure_pa", "boils"), [(ATM, 99.9743), (CAP, 120.95)])
def test_water_boils_where_the_tables_say_open_and_under_a_15_psi_cap(pressure_pa, boils):
    # wagner-1993 Table 1: 373.1243 K at 0.101325 MPa; iapws-95: 120.95 °C at 103.4 kPa gauge
    for fluid in NAMES:
        assert fluids.boil_temp_k(fluid, 0.0, pressure_pa) - ZERO == pytest.approx(boils, abs=0.01)


# Fifty per cent by volume, beside what is published


#: Fluid, pressure, and the figure of a chart or specification of a whole product, in whole °F.
#: Of propylene glycol under a cap nothing published was found.
FIFTY = [
    ("ethylene glycol", ATM, 107.8),  # astm-d4985, 226 F; army-tm-5-3895 prints the same
    ("propylene glycol", ATM, 106.1),  # army-tm-5-3895, 223 F
    ("ethylene glycol", CAP, 129.2),  # zhang-2016 carried to 204.7 kPa, at 50 mass %
]


@pytest.mark.parametrize(("fluid", "pressure_pa", "printed"), FIFTY)
def test_half_pure_glycol_by_volume(fluid, pressure_pa, printed):
    frac = fluids.frac_mass_from_frac_vol(fluid, 0.5)
    low, high = fluids.boil_bound_k(fluid, frac, pressure_pa)
    assert low - 0.3 <= printed + ZERO <= high + 0.3  # half a °F of rounding


# Bounds


@each_fluid
def test_bounds_enclose_the_boiling_point_and_close_at_the_ends(fluid):
    frac = np.linspace(0, 0.9, 91)
    for pressure in (2e4, ATM, CAP):
        low, high = fluids.boil_bound_k(fluid, frac, pressure)
        middle = fluids.boil_temp_k(fluid, frac, pressure)
        assert np.all((low < middle) & (middle < high))
        assert high[0] - low[0] < 0.3
    assert all(type(bound) is float for bound in fluids.boil_bound_k(fluid, 0.5, ATM))


# Ends


@each_fluid
def test_without_glycol_it_is_water_exactly(fluid):
    temps = np.linspace(273.15, 473.15, 101)
    water = fluids.water_vapor_pressure_pa(temps)
    assert np.array_equal(fluids.vapor_pressure_pa(fluid, 0.0, temps), water)
    inside = (water >= 1e4) & (water <= 5e5)
    back = fluids.boil_temp_k(fluid, 0.0, water[inside])
    assert back == pytest.approx(temps[inside], abs=1e-9)


@each_fluid
def test_pure_glycol_is_its_own_curve_exactly(fluid):
    temps = np.linspace(300.0, 473.15, 51)
    terms = fluids.FLUIDS[fluid].glycol_vapor
    own = np.exp(np.polynomial.Polynomial(terms)(373.15 / temps - 1))
    assert fluids.vapor_pressure_pa(fluid, 1.0, temps) == pytest.approx(own, rel=1e-13)


@pytest.mark.parametrize(
    ("fluid", "boils", "tolerance"),
    [("ethylene glycol", 197.3, 0.3), ("propylene glycol", 187.3, 0.5), ("glycerol", 289.0, 0.5)],
)
def test_pure_glycol_boils_where_the_handbook_says(fluid, boils, tolerance):
    # crc-vaporization and crc-constants: 470.45, 460.45, 562.15 K
    found = fluids.boil_temp_k_unchecked(fluid, 1.0, ATM) - ZERO
    assert found == pytest.approx(boils, abs=tolerance)


@each_fluid
def test_exact_bounds_work_and_one_step_beyond_refuses(fluid):
    low = liquid_from_k(fluid, 0.3)
    assert fluids.vapor_pressure_pa(fluid, 0.3, low) > 0
    assert fluids.vapor_pressure_pa(fluid, 0.3, 473.15) > 0
    with pytest.raises(OutOfRangeError, match=r"temperature = 473\.16 K is outside"):
        fluids.vapor_pressure_pa(fluid, 0.3, 473.16)
    with pytest.raises(OutOfRangeError, match="temperature"):
        fluids.vapor_pressure_pa(fluid, 0.3, low - 1e-3)
    for pressure in boiling.PRESSURE_RANGE_PA:
        assert fluids.boil_temp_k(fluid, 0.3, pressure) > 0
    with pytest.raises(OutOfRangeError, match="pressure = 9999 Pa is outside 10000 to 500000 Pa"):
        fluids.boil_temp_k(fluid, 0.3, 9999.0)
    with pytest.raises(OutOfRangeError, match="pressure = 500001 Pa"):
        fluids.boil_temp_k(fluid, 0.3, 500001.0)


# Shape


@each_fluid
def test_pressure_rises_with_temperature_and_falls_with_glycol(fluid):
    frac = np.linspace(0, 1, 1001)
    for temp_k in np.linspace(293.15, 473.15, 19):
        assert np.all(np.diff(fluids.vapor_pressure_pa(fluid, frac, temp_k)) < 0)
    for strength in np.linspace(0, 1, 21):
        temps = np.linspace(liquid_from_k(fluid, strength), 473.15, 1001)
        assert np.all(np.diff(fluids.vapor_pressure_pa(fluid, strength, temps)) > 0)


@each_fluid
def test_boiling_point_rises_with_glycol_and_with_pressure(fluid):
    frac = np.linspace(0, 1, 2001)
    for pressure in (1e4, 3e4, ATM, CAP, 4e5, 5e5):
        temps = fluids.boil_temp_k_unchecked(fluid, frac, pressure)
        assert np.all(np.diff(temps) > 0)
    pressures = np.linspace(*boiling.PRESSURE_RANGE_PA, 2001)
    for strength in np.linspace(0, 1, 21):
        assert np.all(np.diff(fluids.boil_temp_k_unchecked(fluid, strength, pressures)) > 0)


@each_fluid
@pytest.mark.parametrize("temp_k", [273.15, 293.15, 373.15])
def test_no_seam_where_other_things_change(fluid, temp_k):
    # at 0 °C water freezes, above 20 °C nothing is asked of freezing, 100 °C is the unit of theta
    for frac in (0.5, 0.6):
        temps = temp_k + np.array([-2e-3, -1e-3, 0.0, 1e-3, 2e-3])
        logs = np.log(fluids.vapor_pressure_pa(fluid, frac, temps))
        assert np.ptp(np.diff(logs)) < 1e-8  # no jump, no kink: 0.04 to 0.08 a kelvin
    fracs = 0.6 + np.array([-2e-6, -1e-6, 0.0, 1e-6, 2e-6])
    steps = np.diff(fluids.vapor_pressure_pa(fluid, fracs, max(temp_k, 293.15)))
    assert steps == pytest.approx(np.full(4, steps.mean()), rel=1e-4)


@each_fluid
def test_a_long_array_has_no_seams_between_its_pieces(fluid):
    size = 3 * CHUNK + 5
    frac = np.linspace(0.0, 0.8, size)
    temps = np.linspace(300.0, 400.0, size)[::-1].copy()
    together = fluids.vapor_pressure_pa(fluid, frac, temps)
    back = fluids.boil_temp_k(fluid, frac, np.full(size, ATM))
    for at in (0, CHUNK - 1, CHUNK, 2 * CHUNK, 3 * CHUNK, size - 1):
        alone = fluids.vapor_pressure_pa(fluid, float(frac[at]), float(temps[at]))
        assert together[at] == pytest.approx(alone, rel=1e-12)
        assert back[at] == pytest.approx(fluids.boil_temp_k(fluid, float(frac[at]), ATM), abs=1e-9)
    assert fluids.boil_temp_k(fluid, frac, ATM) == pytest.approx(back, abs=1e-9)
    square = fluids.vapor_pressure_pa(fluid, frac[:200, None], temps[None, :200])
    assert square.shape == (200, 200)  # long only when broadcast
    assert square[7, 9] == pytest.approx(
        fluids.vapor_pressure_pa(fluid, frac[7], temps[9]), rel=1e-12
    )


def test_pieces_leave_their_arguments_alone_and_keep_shapes():
    values = np.arange(3.0 * CHUNK).reshape(3, CHUNK)
    before = values.copy()
    assert np.array_equal(in_chunks(lambda a, b: a * b, values, 2.0), values * 2)
    assert np.array_equal(values, before)
    assert in_chunks(np.sqrt, np.array([])).shape == (0,)
    assert in_chunks(lambda a: a + 1, 1.0) == 2.0


# Round trips, and no NaN or inf in or out


@each_fluid
@given(frac=st.floats(0, 1), temp_k=st.floats(325.0, 473.15))
def test_round_trip(fluid, frac, temp_k):
    # 1e-9 K; a boiling point rises by at least 3 K per unit of mass fraction
    # anywhere (next test), so this is 4e-10 in mass fraction
    pressure = fluids.vapor_pressure_pa(fluid, frac, temp_k)
    assert math.isfinite(pressure)
    if boiling.PRESSURE_RANGE_PA[0] <= pressure <= boiling.PRESSURE_RANGE_PA[1]:
        assert fluids.boil_temp_k(fluid, frac, pressure) == pytest.approx(temp_k, abs=1e-9)


@each_fluid
def test_the_slope_that_the_round_trip_leans_on(fluid):
    frac = np.linspace(0, 1, 2001)
    for pressure in (1e4, ATM, 5e5):
        temps = fluids.boil_temp_k_unchecked(fluid, frac, pressure)
        assert np.min(np.diff(temps) / np.diff(frac)) > 3.0


@each_fluid
@given(value=st.floats(allow_nan=True, allow_infinity=True))
def test_any_float_gives_a_finite_answer_or_a_refusal(fluid, value):
    calls = (
        lambda: fluids.water_vapor_pressure_pa(value),
        lambda: fluids.vapor_pressure_pa(fluid, value, 373.15),
        lambda: fluids.vapor_pressure_pa(fluid, 0.5, value),
        lambda: fluids.boil_temp_k(fluid, value, ATM),
        lambda: fluids.boil_temp_k(fluid, 0.5, value),
    )
    for call in calls:
        try:
            answer = call()
        except CoolcalcError:
            continue
        assert math.isfinite(answer)


@each_fluid
@given(frac=st.floats(0, 1), pressure=st.floats(*boiling.PRESSURE_RANGE_PA))
def test_every_strength_and_pressure_boils_or_is_refused(fluid, frac, pressure):
    if fluids.vapor_pressure_pa_unchecked(fluid, frac, 473.15) < pressure * (1 - 1e-9):
        with pytest.raises(OutOfRangeError, match="boiling point"):
            fluids.boil_temp_k(fluid, frac, pressure)
        return
    temp_k = fluids.boil_temp_k(fluid, frac, pressure)
    assert 315.0 < temp_k <= 473.151
    assert fluids.vapor_pressure_pa_unchecked(fluid, frac, temp_k) == pytest.approx(
        pressure, rel=1e-10
    )


# Floats and arrays, checked and unchecked, are one formula


@each_fluid
@pytest.mark.parametrize(
    ("function", "values"),
    [("vapor_pressure_pa", (300.0, 373.15, 470.0)), ("boil_temp_k", (2e4, 1e5, 2e5))],
)
def test_element_of_an_array_is_the_float_and_the_twin_is_the_same(fluid, function, values):
    call, twin = getattr(fluids, function), getattr(fluids, f"{function}_unchecked")
    for frac in (0.0, 0.5, 0.85):
        together = call(fluid, frac, np.array(values))
        assert np.array_equal(together, twin(fluid, frac, np.array(values)))
        for value, among in zip(values, together, strict=True):
            alone = call(fluid, frac, value)
            assert type(alone) is float
            assert alone == pytest.approx(among, rel=1e-12)
    shaped = call(fluid, np.array([[0.1], [0.2]]), np.array(values))
    assert shaped.shape == (2, 3)
    assert call(fluid, np.array([]), values[0]).shape == (0,)


# Refusals: a sentence with the value, the limit and the first bad element


def test_one_bad_element_among_a_million_is_named():
    frac = np.full(1_000_000, 0.5)
    temps, pressures = np.full(1_000_000, 350.0), np.full(1_000_000, ATM)
    cases = (
        (fluids.vapor_pressure_pa, frac, temps, 1, 500.0, "temperature"),
        (fluids.vapor_pressure_pa, frac, temps, 1, 200.0, "temperature"),
        (fluids.vapor_pressure_pa, frac, temps, 0, 1.5, "glycol mass fraction"),
        (fluids.boil_temp_k, frac, pressures, 0, math.nan, "glycol mass fraction"),
        (fluids.boil_temp_k, frac, pressures, 1, math.inf, "pressure"),
        (fluids.water_vapor_pressure_pa, None, temps, 1, math.nan, "temperature"),
    )
    for call, first, second, which, bad, what in cases:
        arrays = [None if first is None else first.copy(), second.copy()]
        arrays[which][765_432] = bad
        arrays[which][900_000] = bad
        arguments = arrays[1:] if first is None else ["ethylene glycol", *arrays]
        with pytest.raises(OutOfRangeError, match=rf"{what} \(element 765432\)") as caught:
            call(*arguments)
        assert caught.value.index == 765_432


def test_a_mix_that_boils_too_hot_is_refused_with_what_to_do():
    with pytest.raises(OutOfRangeError, match=r"boiling point = 562") as caught:
        fluids.boil_temp_k("glycerol", 1.0, ATM)
    assert "473.15" in str(caught.value)
    assert str(caught.value).endswith("hotter than 200 °C is not covered.")
    frac = np.full(1_000_000, 0.5)
    frac[123_456] = 0.99
    with pytest.raises(OutOfRangeError, match=r"boiling point \(element 123456\)"):
        fluids.boil_temp_k("glycerol", frac, ATM)
    assert fluids.boil_temp_k("ethylene glycol", 1.0, ATM) < 473.15


def test_bad_names_and_values_are_refused():
    with pytest.raises(UnknownChoiceError, match=r'fluid: "water".*"ethylene glycol"'):
        fluids.boil_temp_k("water", 0.0, ATM)
    with pytest.raises(UnknownChoiceError, match="fluid"):
        fluids.vapor_pressure_pa(None, 0.0, 300.0)
    with pytest.raises(CoolcalcError, match="temperature: 'hot'"):
        fluids.vapor_pressure_pa("glycerol", 0.3, "hot")
    with pytest.raises(OutOfRangeError, match=re.escape("temperature = 273 K")):
        fluids.water_vapor_pressure_pa(273.0)


def test_sources_are_known():
    assert set(boiling.SOURCES) == set(NAMES)
    for keys in boiling.SOURCES.values():
        assert set(keys) <= set(SOURCES)
