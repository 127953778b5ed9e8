"""What people type is read as they mean it, asked about, or refused in a sentence."""

import math
import re
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coolcalc import units
from coolcalc.errors import CoolcalcError, InputError, UnclearInputError, UnknownChoiceError
from coolcalc.units import KINDS, STRENGTH_BASES, StrengthValue, read


class Ask(str):
    """A cell that is asked about; part of the question."""


# --- fields against inputs ------------------------------------------------------------------------

NO = "is not a unit of"
WHAT = Ask("per cent of what? Write '")
OF_PRODUCT = STRENGTH_BASES[0]

# What every field says to what is no plain number at all.
ALWAYS = {
    "some": '"some" does not begin with a plain number; write e.g.',
    "": "nothing was entered; write e.g.",
    " \t": "nothing was entered; write e.g.",
    "NaN": '"NaN" does not begin with a plain number',
    "inf": '"inf" does not begin with a plain number',
    "1,234": Ask("has a comma before exactly three digits; write 1.234 for a decimal or 1234"),
    "1 000": "groups its digits or has more than one number; write one number without spaces",
    "9**9**9": "is a sum, a range or a power; work it out and write one plain number",
}

INPUTS = ("-3", "0", "100 %", "150 %", "99999999999999", "12,5", "37", "-34 F", "6 gal")

# Field (kind, unit on the page): what becomes of each of INPUTS. A number is accepted as that SI
# value, worked out by hand; an Ask is a question; other text is part of the refusal.
# fmt: off
FIELDS = {
    ("volume", "L"): (
        "−3 L is below 0 L, the limit here. A volume is never below 0.",
        0.0,
        '"%" is not a unit of volume known here; write e.g. 10 L (units: L, mL,',
        NO,
        "99999999999999 L is above 10000000 L, the limit here. Check the number and its unit.",
        0.0125,
        0.037,
        '"F" is not a unit of volume',
        Ask('"6 gal" could mean 6 US gal or 6 imp gal; write which.'),
    ),
    ("mass", "kg"): (
        "below 0 kg", 0.0, NO, NO, "above 10000000 kg", 12.5, 37.0, NO, NO
    ),
    ("length", "m"): (
        "below 0 m", 0.0, NO, NO, "above 100000 m", 12.5, 37.0, NO, NO
    ),
    ("bore", "mm"): (
        "−3 mm is below 0 mm, the limit here. A bore is never below 0.",
        0.0, NO, NO, "above 2000 mm", 0.0125, 0.037, NO, NO,
    ),
    ("altitude", "m"): (
        -3.0, 0.0, NO, NO, "above 6000 m, the limit here. No road leads higher", 12.5, 37.0, NO, NO
    ),
    ("volume expansion", "ppm/K"): (
        "−3 ppm/K is below 0 ppm/K, the limit here. Liquids and metals here grow with heat.",
        0.0, NO, NO, "above 2000 ppm/K", 12.5e-6, 37e-6, NO, NO,
    ),
    ("count", None): ("−3 is below 0", 0.0, NO, NO, "above 10000", 12.5, 37.0, NO, NO),
    ("temperature", "°C"): (
        270.15, 273.15, NO, NO, "is above 500 °C", 285.65, 310.15, 236.4833333,
        '"gal" is not a unit of temperature',
    ),
    ("freezing point", "°C"): (
        270.15, 273.15, NO, NO,
        "is above 0 °C, the limit here. A coolant freezes at 0 °C or below.",
        Ask("12,5 °C: coolant freezes below zero; did you mean −12,5 °C?"),
        Ask("37 °C: coolant freezes below zero; did you mean −37 °C?"),
        236.4833333, NO,
    ),
    ("temperature difference", "K"): (
        -3.0, 0.0, NO, NO, "above 1000 K", 12.5, 37.0, -18.8888889, NO
    ),
    ("gauge pressure", "kPa"): (
        -3e3, 0.0, NO, NO, "above 10000 kPa gauge", 12.5e3, 37e3, NO, NO
    ),
    ("absolute pressure", "kPa"): (
        "−3 kPa absolute is below 0 kPa absolute, the limit here. A perfect vacuum is 0 kPa",
        0.0, NO, NO, "above 10000 kPa absolute", 12.5e3, 37e3, NO, NO,
    ),
    ("density", "kg/L"): (
        "−3 kg/L is below 0.5 kg/L", "0 kg/L is below 0.5 kg/L", NO, NO, "above 2 kg/L",
        "12,5 kg/L is above 2 kg/L", "37 kg/L is above 2 kg/L", NO, NO,
    ),
    ("strength", None): (WHAT, WHAT, WHAT, WHAT, WHAT, WHAT, WHAT, NO, NO),
    ("strength", OF_PRODUCT): (
        "−3 volume % of product is below 0 volume % of product, the limit here. A strength is "
        "from 0 to 100 %.",
        StrengthValue(0.0, OF_PRODUCT),
        StrengthValue(1.0, OF_PRODUCT),
        "150 volume % of product is above 100 volume % of product",
        "above 100 volume % of product",
        StrengthValue(0.125, OF_PRODUCT),
        StrengthValue(0.37, OF_PRODUCT),
        NO, NO,
    ),
    ("share", None): (
        "−3 is below 0, the limit here. A share is from 0 to 1, or from 0 to 100 % with the sign.",
        0.0, 1.0, "150 % is above 100 %", "above 1,", "12,5 is above 1,", "37 is above 1,", NO, NO,
    ),
    ("refractive index", None): (
        "below 1.3,", "below 1.3,", NO, NO, "above 1.5,", "above 1.5,", "above 1.5,", NO, NO
    ),
    ("Brix", None): (
        "below 0 °Bx", 0.0, "100 °Bx is above 95 °Bx", "150 °Bx is above 95 °Bx", "above 95 °Bx",
        12.5, 37.0, NO, NO,
    ),
    ("specific gravity", None): (
        "below 0.5,", "below 0.5,", NO, NO, "above 2,", "above 2,", "above 2,", NO, NO
    ),
    ("parts of water", None): (
        "−3 is below 0", 0.0, NO, NO, "above 1000", 12.5, 37.0, NO, NO
    ),
    ("hours", None): (
        "−3 h is below 0 h", 0.0, NO, NO, "above 10000000 h", 12.5, 37.0, NO, NO
    ),
    ("winters", None): (
        "−3 winters is below 0 winters", 0.0, NO, NO, "above 1000000 winters", 12.5, 37.0, NO, NO
    ),
    ("concentration in water", None): (
        "below 0 mg/L", 0.0, NO, NO, "above 1000000 mg/L", 12.5, 37.0, NO, NO
    ),
    ("hardness", "mg/L"): (
        "−3 mg/L is below 0 mg/L", 0.0, NO, NO, "above 100000 mg/L", 12.5, 37.0, NO, NO
    ),
    ("pH", None): (
        "−3 is below 0, the limit here. pH runs from 0 to 14.", 0.0, NO, NO, "above 14",
        12.5, "37 is above 14, the limit here. pH runs from 0 to 14.", NO, NO,
    ),
    ("money", None): (
        "−3 is below 0,", 0.0, NO, NO, "above 1000000000,", 12.5, 37.0, NO, NO
    ),
}
# fmt: on
CELLS = [
    pytest.param(kind, unit, text, cell, id=f"{kind}[{unit}]-{text}")
    for (kind, unit), row in FIELDS.items()
    for text, cell in (*zip(INPUTS, row, strict=True), *ALWAYS.items())
]


@pytest.mark.parametrize(("kind", "unit", "text", "cell"), CELLS)
def test_fields_against_inputs(kind, unit, text, cell):
    if isinstance(cell, str):
        with pytest.raises(InputError, match=re.escape(cell)) as refused:
            read("the field", text, kind, unit=unit)
        assert str(refused.value).startswith("the field: ")
        assert isinstance(refused.value, UnclearInputError) == isinstance(cell, Ask)
    elif isinstance(cell, StrengthValue):
        assert read("the field", text, kind, unit=unit) == cell
    else:
        assert read("the field", text, kind, unit=unit) == pytest.approx(cell, rel=1e-9)


def test_the_table_has_every_kind():
    assert {kind for kind, _ in FIELDS} == set(KINDS)


# --- numbers --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("1.000", 1.0),
        ("1.234", 1.234),
        ("0,5", 0.5),
        (".5", 0.5),
        ("12,3456", 12.3456),
        ("+12.5", 12.5),
        ("007", 7.0),
        (" 12 ", 12.0),
        ("-0", 0.0),
    ],
)
def test_numbers_taken(text, number):
    value = read("price", text, "money")
    assert value == number
    assert math.copysign(1, value) == 1


@pytest.mark.parametrize("minus", ["-", "−", "- ", "− "])
@pytest.mark.parametrize("gap", ["", " ", "\u00a0", "\u2009", "\u202f", "\u2007", "  "])
def test_minus_signs_and_gaps(minus, gap):
    assert read("night", f"{minus}37{gap}°C", "temperature") == pytest.approx(236.15)


@pytest.mark.parametrize(
    ("text", "phrase"),
    [
        ("1'000 L", "groups its digits"),
        ("1’000 L", "groups its digits"),
        ("1_000 L", "groups its digits"),
        ("1\u202f000 L", "groups its digits"),
        ("1.000,5 L", "groups its digits"),
        ("1,000.5 L", "groups its digits"),
        ("1,234,567 L", "groups its digits"),
        ("1.2.3 L", "groups its digits"),
        ("1 1/2 L", "groups its digits"),
        ("5. L", "groups its digits"),
        (",5 L", "does not begin with a plain number"),
        ("1e3 L", "is a sum, a range or a power"),
        ("1E-3 L", "is a sum, a range or a power"),
        ("2+3", "is a sum, a range or a power"),
        ("1/2 L", "is a sum, a range or a power"),
        ("2^3 L", "is a sum, a range or a power"),
        ("10-12 L", "is a sum, a range or a power"),
        ("10–12 L", "is a sum, a range or a power"),
        ("(2) L", "does not begin with a plain number"),
        ("about 10 L", "does not begin with a plain number"),
        ("NaN L", "does not begin with a plain number"),
        ("\uff15 L", "has other digits than 0 to 9"),
        ("٥ L", "has other digits than 0 to 9"),
        ("½ L", "does not begin with a plain number"),
        ("0x10 L", '"x10 L" is not a unit of volume'),
        ("10 furlongs", '"furlongs" is not a unit of volume known here; write e.g. 10 L (units: L'),
        ("10", "10 has no unit; write e.g. '10 L' or '10 US qt' or '10 imp pt'."),
        ("9" * 61, "has 61 characters; at most 60 are read"),
        ("10 \x00\ud800", r'"\x00\ud800" is not a unit'),
    ],
)
def test_numbers_refused(text, phrase):
    with pytest.raises(InputError, match=re.escape(phrase)) as refused:
        read("capacity", text, "volume")
    assert not isinstance(refused.value, UnclearInputError)
    str(refused.value).encode()


def test_a_long_text_is_quoted_short():
    with pytest.raises(InputError, match=r'"9{20}…" has 1000000 characters') as refused:
        read("capacity", "9" * 1_000_000, "volume")
    assert len(str(refused.value)) < 150


@pytest.mark.parametrize(
    ("text", "kind", "choices"),
    [
        ("1,234 L", "volume", ("1.234 L", "1234 L")),
        ("-0,234 °C", "temperature", ("−0.234 °C", "−234 °C")),
        ("0,500 L", "volume", ("0.500 L", "500 L")),
        ("–34 F", "temperature", ("−34 F", "34 F")),
        ("6 gal", "volume", ("6 US gal", "6 imp gal")),
        ("6 Quarts", "volume", ("6 US qt", "6 imp qt")),
        ("6 pt", "volume", ("6 US pt", "6 imp pt")),
        ("6 fl oz", "volume", ("6 US fl oz", "6 imp fl oz")),
        ("9.4 lb/gal", "density", ("9.4 lb/US gal", "9.4 lb/imp gal")),
        ("50 %", "strength", ("50 % product", "50 % vol glycol", "50 % mass glycol")),
        ("50 % glycol", "strength", ("50 volume % of glycol", "50 mass % of glycol")),
        ("50 vol%", "strength", ("50 volume % of product", "50 volume % of glycol")),
        ("34 F", "freezing point", ("−34 °F",)),
    ],
)
def test_every_choice_offered_is_understood(text, kind, choices):
    with pytest.raises(UnclearInputError, match=r"write|did you mean|per cent of what") as asked:
        read("found", text, kind)
    assert asked.value.choices == choices
    for choice in choices:
        read("found", choice, kind)


def test_only_text_numbers_and_quantities_are_read():
    for value, phrase in (
        (None, "nothing was entered; write e.g. 10 L"),
        (True, "is a yes or no"),
        (np.True_, "of type bool"),
        ([10], "of type list; give one value"),
        (np.array([1.0, 2.0]), "of type ndarray; give one value"),
        (b"10 L", "of type bytes"),
        (10j, "of type complex"),
        (math.nan, "not a finite number"),
        (-math.inf, "not a finite number"),
        (10**400, "not a finite number"),
        (-1, "−1 L is below 0 L"),
    ):
        with pytest.raises(InputError, match=phrase):
            read("capacity", value, "volume", unit="L")


def test_bare_numbers_take_the_unit_shown():
    assert read("capacity", 12.5, "volume", unit="L") == 0.0125
    assert read("capacity", np.float32(12.5), "volume", unit="L") == 0.0125
    assert read("capacity", np.int64(12), "volume", unit="L") == 0.012
    assert read("capacity", Fraction(25, 2), "volume", unit="litres") == 0.0125
    assert read("capacity", "2 imp gal", "volume", unit="L") == pytest.approx(2 * 4.54609e-3)
    assert read("night", "-40°", "temperature", unit="F") == pytest.approx(233.15)
    with pytest.raises(InputError, match=r"12\.5 has no unit; write e\.g\. '12\.5 L'"):
        read("capacity", 12.5, "volume")


def test_the_unit_shown_must_be_one():
    with pytest.raises(InputError, match='"furlong" is not a unit of volume'):
        read("capacity", "10", "volume", unit="furlong")
    with pytest.raises(UnclearInputError, match='"gal" could mean US gal or imp gal; write which'):
        read("capacity", "10", "volume", unit="gal")
    with pytest.raises(UnclearInputError, match='"%" could mean volume % of product or'):
        read("found", "50", "strength", unit="%")
    with pytest.raises(UnknownChoiceError, match='"area" is not one of the choices'):
        read("radiator", "1", "area")


# --- limits ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "low", "high", "phrase"),
    [
        ("100 mL", 0.2e-3, 10.0, "100 mL is below 200 mL, the limit here. Check the number"),
        ("0.2 US qt", 0.2e-3, 10.0, "0.2 US qt is below 0.211338 US qt, the limit here"),
        ("12000 L", 0.2e-3, 10.0, "12000 L is above 10000 L, the limit here"),
        ("-0 L", 0.2e-3, 10.0, "0 L is below 0.2 L"),
        ("-1 L", -5.0, None, "−1 L is below 0 L, the limit here. A volume is never below 0."),
    ],
)
def test_limits_are_told_in_the_unit_typed(text, low, high, phrase):
    with pytest.raises(InputError, match=re.escape(phrase)):
        read("capacity", text, "volume", low=low, high=high)


def test_a_limit_as_printed_is_accepted():
    assert read("capacity", "0.211338 US qt", "volume", low=0.2e-3) == pytest.approx(
        0.2e-3, rel=1e-5
    )
    assert read("capacity", "0.2 L", "volume", low=0.2e-3) == 0.2e-3


def test_a_value_close_to_a_limit_is_not_moved_to_it():
    assert read("tank", "9999999999.991 mL", "volume") == pytest.approx(9999.999999991, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "kind", "kelvin"),
    [
        ("-459.67 °F", "temperature", 0.0),
        ("−273.15 °C", "temperature", 0.0),
        ("0 K", "temperature", 0.0),
        ("32 °F", "freezing point", 273.15),
        ("0 °C", "freezing point", 273.15),
        ("20 °F", "freezing point", 266.4833333333),
    ],
)
def test_limits_are_inclusive(text, kind, kelvin):
    assert read("night", text, kind) == pytest.approx(kelvin, abs=1e-9)


def test_no_minus_is_suggested_where_it_makes_no_sense():
    for text, low in (("300 K", None), ("200 °C", None), ("90 °C", 223.15)):
        with pytest.raises(InputError, match="A coolant freezes at 0 °C or below") as refused:
            read("found", text, "freezing point", low=low)
        assert not isinstance(refused.value, UnclearInputError)


# --- units and words ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("spellings", "kind", "value"),
    [
        ("10 L,10 l,10 Litres,10 liter,10000 mL,10000 ml,0.01 m3,1000 cL", "volume", 0.01),
        ("0.01 m³,100 dL,10000 cc,10000 cm3", "volume", 0.01),
        ("1 US gal,4 US qt,8 US pints,128 US fl oz,1 U.S. gallon", "volume", 3.785411784e-3),
        ("1 imp gal,4 imperial quarts,8 imp pt,160 imp fl oz,1 UK gal", "volume", 4.54609e-3),
        ("20 °C,20°C,20 C,20 degC,20 deg C,20 ºC,293.15 K", "temperature", 293.15),
        ("68 °F,68F,68 degF,68 f,68 ℉", "temperature", 293.15),
        ("5 K,5 °C,5 C,9 °F,9 F,5 delta_degC,9 delta_degF", "temperature difference", 5.0),
        ("1.128 kg/L,1128 kg/m3,1128 kg/m³,1.128 g/mL,1.128 g/cm3,1.128 g/cm³", "density", 1128.0),
        ("100 kPa,100 kPa gauge,1 bar gauge,1 barg,100000 Pa,1000 hPa", "gauge pressure", 1e5),
        ("120 kPa absolute,1.2 bar abs,1.2 bara,1200 mbar,120 kPa", "absolute pressure", 1.2e5),
        ("1 t,1000 kg,1000000 g", "mass", 1000.0),
        ("1 ft,12 in,0.3048 m,30.48 cm,304.8 mm", "length", 0.3048),
        ("1.25 in,31.75 mm,3.175 cm,0.03175 m", "bore", 0.03175),
        ("3500 ft,3500 feet,1066.8 m,1066.8 metres", "altitude", 1066.8),
        ("69 ppm/K,69 ppm/°C,69 ppm per K,69 parts per million per K", "volume expansion", 69e-6),
        ("5 %,5%,0.05,5 per cent", "share", 0.05),
    ],
)
def test_spellings(spellings, kind, value):
    for spelling in spellings.split(","):
        assert read("it", spelling, kind) == pytest.approx(value), spelling


@pytest.mark.parametrize(
    ("basis", "spellings"),
    [
        (
            "volume % of product",
            "% product,% of product,vol% product,vol % product,% of concentrate,% Concentrate,"
            "volume % of product,% vol product,% by volume of product",
        ),
        ("volume % of glycol", "vol% glycol,% vol glycol,% by volume of glycol,volume % of glycol"),
        ("mass % of glycol", "mass% glycol,% mass glycol,% by mass of glycol,wt % glycol"),
    ],
)
def test_strength_spellings(basis, spellings):
    for spelling in (*spellings.split(","), basis):
        assert read("found", f"37.5 {spelling}", "strength") == StrengthValue(0.375, basis)
        assert read("found", "37.5", "strength", unit=spelling) == StrengthValue(0.375, basis)
        assert read("found", "37,5 %", "strength", unit=spelling) == StrengthValue(0.375, basis)


def test_gauge_and_absolute_are_not_mixed():
    with pytest.raises(
        InputError, match=r'"1\.2 bar absolute" is absolute; this field takes the p'
    ):
        read("cap", "1.2 bar absolute", "gauge pressure")
    with pytest.raises(InputError, match='"15 psig" is gauge, above the outside air; this field'):
        read("air", "15 psig", "absolute pressure")
    with pytest.raises(InputError, match=r"−102 kPa gauge is below −101.325 kPa gauge"):
        read("cap", "-102 kPa", "gauge pressure")


def test_mega_is_no_milli():
    with pytest.raises(InputError, match='"MPa" is not a unit of gauge pressure'):
        read("cap", "0.1 MPa", "gauge pressure")


def test_a_temperature_is_no_difference():
    with pytest.raises(InputError, match='"5 delta_degC" is a difference of temperatures'):
        read("night", "5 delta_degC", "temperature")


@pytest.mark.parametrize("kind", KINDS)
def test_tables_agree_with_themselves(kind):
    spec = KINDS[kind]
    assert not set(spec.spellings) & (set(spec.unclear) | set(spec.wrong))
    assert set(spec.spellings.values()) == set(spec.units)
    assert {label for labels in spec.unclear.values() for label in labels} <= set(spec.units)
    read("it", spec.example, kind)


# --- anything at all ------------------------------------------------------------------------------


@given(st.sampled_from(list(KINDS)), st.text(max_size=70) | st.text("0123456789.,-+−eE*/' _%LC"))
def test_any_text_is_a_value_or_a_sentence(kind, text):
    try:
        value = read("it", text, kind)
    except CoolcalcError as error:
        told = str(error)
    else:
        told = f"it: {value}"
        assert math.isfinite(value.share if kind == "strength" else value)
    assert told.startswith("it: ")


@given(st.text("0123456789.,-−+ ", max_size=12))
def test_an_accepted_number_is_the_number_typed(text):
    try:
        value = read("it", text, "temperature difference", unit="K")
    except InputError:
        return
    assert sum(text.count(mark) for mark in ".,") <= 1
    assert " " not in re.sub(r"^ *[-−+]? *| *$", "", text)
    typed = text.replace(",", ".").replace("−", "-").replace(" ", "")
    assert value == float(Decimal(typed))


@given(st.floats() | st.integers() | st.booleans() | st.none(), st.sampled_from(list(KINDS)))
def test_any_number_is_itself_or_a_sentence(number, kind):
    unit = KINDS[kind].offer[0]
    try:
        value = read("it", number, kind, unit=unit)
    except InputError as error:
        told = str(error)
    else:
        told = ""
        value = value.share if kind == "strength" else value
        assert units.to_display(value, kind, unit) == pytest.approx(number, rel=1e-9, abs=1e-9)
    assert not re.search(r"\bnan\b|\binf\b|[−-]0 ", told)
