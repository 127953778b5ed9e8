"""Conversion factors, quantities, display, unit systems and measuring steps."""

import math
import re
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coolcalc import units
from coolcalc.errors import InputError, UnclearInputError
from coolcalc.units import KINDS, Q, StrengthValue, read

# --- conversion factors against the outside -------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "label", "unit"),
    [
        pytest.param(kind, label, unit, id=f"{kind}-{label}")
        for kind, spec in KINDS.items()
        for label, unit in spec.units.items()
        if unit.pint
    ],
)
def test_factors_against_pint(kind, label, unit):
    for number in (0.0, 1.0, -40.0, 98.6):
        expected = Q(number, unit.pint).m_as(KINDS[kind].si)
        found = (number - unit.zero) * unit.factor + unit.base
        assert found == pytest.approx(expected, rel=1e-13, abs=1e-12)
        assert units.to_display(expected, kind, label) == pytest.approx(number, abs=1e-11)


INCH3 = Fraction(254, 10000) ** 3  # 1 in = 25.4 mm, international yard and pound agreement, 1959


@pytest.mark.parametrize(
    ("text", "kind", "value", "rel"),
    [
        # 1 US gal = 231 in³; quart, pint and fluid ounce are 1/4, 1/8 and 1/128 of it:
        # NIST Handbook 44, appendix C.
        ("1 US gal", "volume", float(231 * INCH3), 1e-15),
        ("1 US qt", "volume", float(231 * INCH3 / 4), 1e-15),
        ("1 US pt", "volume", float(231 * INCH3 / 8), 1e-15),
        ("1 US fl oz", "volume", float(231 * INCH3 / 128), 1e-15),
        # NIST SP 811 (2008), appendix B, to the printed digits.
        ("1 US gal", "volume", 3.785412e-3, 1e-7),
        ("1 psi", "gauge pressure", 6.894757e3, 1e-7),
        # Gallon of 4.54609 dm³ and its parts in mL: Weights and Measures Act 1985 (UK).
        ("1 imp gal", "volume", 4.54609e-3, 1e-15),
        ("1 imp qt", "volume", 1136.5225e-6, 1e-15),
        ("1 imp pt", "volume", 568.26125e-6, 1e-15),
        ("1 imp fl oz", "volume", 28.4130625e-6, 1e-15),
        # 1 lb = 0.45359237 kg: international yard and pound agreement, 1959.
        ("1 lb", "mass", 0.45359237, 1e-15),
        ("16 oz", "mass", 0.45359237, 1e-15),
        ("9 lb/US gal", "density", float(9 * Fraction(45359237, 10**8) / (231 * INCH3)), 1e-15),
        # Standard gravity 9.80665 m/s²: 3rd General Conference on Weights and Measures, 1901.
        ("1 kgf/cm²", "gauge pressure", 98066.5, 1e-15),
        # 1 grain = 1/7000 lb. ASTM D4985's recommendation on water, as reprinted in 1999, has
        # 100 ppm of sulphate beside 5.8 grains per gallon.
        ("1 gpg", "hardness", 17.118, 3e-5),
        ("5.8 gr/US gal", "hardness", 100.0, 0.01),
        ("1 gr/imp gal", "hardness", 14.254, 3e-5),  # a degree Clark, to its usual digits
        # 1 °dH is 10 mg of CaO in a litre; 17.848 mg of CaCO3: the usual conversion of tables.
        ("1 °dH", "hardness", 17.848, 3e-5),
        ("1 ppm", "concentration in water", 1.0, 1e-15),
        # Fixed points: the two scales meet at −40; water freezes at 32 °F and boils at 212 °F.
        ("-40 °F", "temperature", 233.15, 1e-15),
        ("212 °F", "temperature", 373.15, 1e-15),
    ],
)
def test_factors_against_published(text, kind, value, rel):
    assert read("it", text, kind) == pytest.approx(value, rel=rel)


# --- quantities -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("quantity", "kind", "value"),
    [
        (Q(10, "liter"), "volume", 0.01),
        (Q(1, "imperial_pint"), "volume", 568.26125e-6),
        (Q(1, "cubic_inch"), "volume", float(INCH3)),  # not one of our spellings, still a volume
        (Q(-37, "degC"), "temperature", 236.15),
        (Q(-40, "degF"), "freezing point", 233.15),
        (Q(300, "kelvin"), "temperature", 300.0),
        (Q(9, "delta_degF"), "temperature difference", 5.0),
        (Q(2, "kelvin"), "temperature difference", 2.0),
        (Q(15, "psi"), "gauge pressure", 103421.359),
        (Q(1.128, "g/mL"), "density", 1128.0),
        (Q(5, "percent"), "share", 0.05),
        (Q(1.385, ""), "refractive index", 1.385),
        (Q(30, "percent"), "Brix", 30.0),
        (Q(2, "day"), "hours", 48.0),
        (Q(2, "g/L"), "hardness", 2000.0),
        (Q(np.float64(10), "liter"), "volume", 0.01),
    ],
)
def test_quantities_taken(quantity, kind, value):
    assert read("it", quantity, kind) == pytest.approx(value)


@pytest.mark.parametrize(
    ("quantity", "kind", "phrase"),
    [
        (Q(10, "kg"), "volume", "10 kilogram is not a volume; give it in a unit such as L, US qt"),
        (Q(10, ""), "volume", "is not a volume; give it in a unit such as L"),
        (
            Q(10, "liter"),
            "money",
            "10 liter is not a plain number; money takes one without a unit, e.g. 12.50",
        ),
        (Q(math.nan, "liter"), "volume", "is not a finite number"),
        (Q(math.inf, "liter"), "volume", "is not a finite number"),
        (Q(np.array([1.0, 2.0]), "liter"), "volume", "type ndarray is not one single number"),
        (Q(np.array(1.0), "liter"), "volume", "type ndarray is not one single number"),
        (Q(-1, "quart"), "volume", "−1 US qt is below 0 US qt"),
        (Q(-1, "cubic_inch"), "volume", "−1 cubic_inch is below 0 cubic_inch"),
        (Q(5, "delta_degC"), "temperature", "is a difference of temperatures; give e.g. 20 °C"),
        (Q(5, "delta_degF"), "freezing point", "is a difference of temperatures"),
        (Q(5, "degC"), "temperature difference", "is a temperature, not a difference"),
        (Q(5, "degF"), "temperature difference", "is a temperature, not a difference"),
        (Q(-1, "kelvin"), "temperature", "−1 K is below 0 K"),
        (Q(150, "percent"), "share", "150 % is above 100 %"),
    ],
)
def test_quantities_refused(quantity, kind, phrase):
    with pytest.raises(InputError, match=re.escape(phrase)):
        read("it", quantity, kind)


def test_quantities_asked_about():
    with pytest.raises(UnclearInputError, match="37 °C: coolant freezes below zero; did you mean"):
        read("found", Q(37, "degC"), "freezing point")
    with pytest.raises(UnclearInputError, match="50 %: per cent of what"):
        read("found", Q(50, "percent"), "strength")
    found = read("found", Q(50, "percent"), "strength", unit="% product")
    assert found == StrengthValue(0.5, "volume % of product")


def test_a_quantity_of_another_registry_is_read():
    other = pint.UnitRegistry()
    assert read("capacity", other.Quantity(10, "liter"), "volume") == pytest.approx(0.01)


def test_the_registry_is_the_application_s_own():
    assert units.ureg is pint.get_application_registry()
    assert not units.ureg.autoconvert_offset_to_baseunit


# --- display --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "kind", "unit", "digits", "text"),
    [
        (236.25, "temperature", "°C", 1, "−36.9 °C"),
        (273.149, "temperature", "°C", 1, "0.0 °C"),
        (233.15, "temperature", "F", 0, "−40 °F"),
        (0.010, "volume", "L", 2, "10.00 L"),
        (0.010, "volume", "US qt", 1, "10.6 US qt"),
        (5.0, "temperature difference", "°F", 0, "9 °F"),
        (1e5, "gauge pressure", "kPa", 0, "100 kPa gauge"),
        (0.5, "strength", "% product", 0, "50 volume % of product"),
        (0.05, "share", "%", 0, "5 %"),
        (1.38512, "refractive index", "", 4, "1.3851"),
    ],
)
def test_show(value, kind, unit, digits, text):
    assert units.show(value, kind, unit, digits) == text


def test_only_finite_values_are_shown():
    for value in (math.nan, math.inf):
        with pytest.raises(InputError, match="volume: the value is not a finite number"):
            units.show(value, "volume", "L", 1)
        with pytest.raises(InputError, match="volume: the value is not a finite number"):
            units.write(value, "volume", "L")


@pytest.mark.parametrize(
    ("value", "kind", "unit", "text"),
    [
        (0.010, "volume", "US qt", "10.567"),  # 10 L / 0.946352946 L
        (0.010, "volume", "L", "10"),
        (0.0, "volume", "L", "0"),
        (123.456789, "volume", "L", "123457"),
        (236.15, "temperature", "°F", "−34.6"),
        (273.15 - 1e-14, "temperature", "°C", "0"),
    ],
)
def test_write(value, kind, unit, text):
    assert units.write(value, kind, unit) == text


@given(st.data())
def test_what_is_shown_can_be_read_back(data):
    kind = data.draw(st.sampled_from(list(KINDS)))
    unit = data.draw(st.sampled_from(list(KINDS[kind].units)))
    low, high = (
        Decimal(units.to_display(limit, kind, unit)).quantize(Decimal("0.001")) * 1000 + margin
        for limit, margin in ((KINDS[kind].low, 1), (KINDS[kind].high, -1))
    )
    typed = Decimal(data.draw(st.integers(int(low), int(high)))) / 1000
    value = read("it", f"{typed:.3f}", kind, unit=unit)
    value = value.share if kind == "strength" else value
    shown = units.show(value, kind, unit, 3)
    again = read("it", shown, kind)
    again = again.share if kind == "strength" else again
    assert again == pytest.approx(value, rel=1e-12, abs=1e-12)
    assert Decimal(shown.split(" ")[0].replace("−", "-")) == typed


# --- headers, systems, steps ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "name", "unit"),
    [
        ("capacity [L]", "capacity", "L"),
        ("strength [vol% product]", "strength", "vol% product"),
        ("  cap   [kPa  gauge] ", "cap", "kPa gauge"),
        ("vehicle", "vehicle", None),
        ("coldest[°C]", "coldest", "°C"),
    ],
)
def test_read_header(text, name, unit):
    assert units.read_header(text) == (name, unit)


@pytest.mark.parametrize(
    "text", ["", "[L]", "cap [", "cap ]", "a [L] b", "a []", "a [L] [m]", None]
)
def test_headers_refused(text):
    with pytest.raises(InputError, match=r'write e\.g\. "capacity \[L\]"'):
        units.read_header(text)


def test_a_header_s_unit_is_taken_by_bare_numbers():
    _, unit = units.read_header("strength [vol% product]")
    assert read("strength", "50", "strength", unit=unit) == (0.5, "volume % of product")


def test_unit_systems():
    assert list(units.SYSTEMS) == ["metric", "US", "imperial"]
    for system in units.SYSTEMS.values():
        by_kind = system.by_kind()
        assert by_kind["freezing point"] == system.temperature
        for kind, unit in by_kind.items():
            assert KINDS[kind].spellings[unit.casefold()] == unit
    assert units.SYSTEMS["US"][:4] == ("US", "US qt", "°F", "°F")
    assert units.SYSTEMS["imperial"][1:4] == ("imp pt", "°C", "K")


@pytest.mark.parametrize(
    ("litres", "step", "decimals"),
    [(0.5, 0.01, 2), (2, 0.01, 2), (10, 0.05, 2), (45, 0.2, 1), (200, 1.0, 0), (1000, 5.0, 0)],
)
def test_measuring_step(litres, step, decimals):
    assert units.measuring_step(litres / 1000, "L") == (step, pytest.approx(step / 1000), decimals)


@given(st.floats(1e-4, 10.0), st.sampled_from(list(KINDS["volume"].units)))
def test_a_step_is_near_half_a_per_cent(capacity, unit):
    step, step_m3, decimals = units.measuring_step(capacity, unit)
    assert f"{step:.{decimals}f}".strip("0.") in ("1", "2", "5")
    assert float(f"{step:.{decimals}f}") == step
    ratio = step_m3 / (0.005 * capacity)
    assert 1 / 1.6 < ratio < 1.6 or (step == 0.01 and ratio > 1)


def test_a_step_needs_a_capacity():
    for capacity, phrase in ((0.0, "must be above 0"), (math.nan, "not a finite number")):
        with pytest.raises(InputError, match=f"capacity: .*{phrase}"):
            units.measuring_step(capacity, "L")
