"""A product with water: what it promises, and how far its additives may move that.

The displayed freezing point ignores additives; the far end of its band counts them as glycol.
Charts, specifications and inhibited tables, read as per cent of product, are held to the curve
alone, without its band.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import coolcalc as cc
from coolcalc import evidence, fluids
from coolcalc.balance.composition import Composition, frac_mass_counted
from coolcalc.product import GENERIC

from .test_product import CANS, EG, PG, ZERO_C, freeze_c, mixture, name, pure_frac_mass, rows, share

FREEZING = rows("freezing_point")


def band_c(mixed):
    return tuple(bound.m_as("degC") for bound in mixed.freeze_band)


def bracket_c(mixed):
    """The curve itself, additives counted and ignored."""
    return tuple(end - ZERO_C for end in evidence.additive_bracket_k(mixed))


# --- published rows -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "row", [row for row in FREEZING if row["fluid"] == EG and row["source"] != "sae-j814"], ids=name
)
def test_ethylene_glycol_tables_lie_between_additives_ignored_and_counted(row):
    """As it stands, without the band of the curve: charts, and ASHRAE's tables on both bases."""
    low, high = bracket_c(mixture(row))
    tolerance = float(row["tolerance"])
    assert low - tolerance <= float(row["value"]) <= high + tolerance


def test_half_concentrate_is_displayed_as_charts_say():
    """Between the specification's limit (ASTM D4985, 2010) and 1 K beyond the charts' -37."""
    (limit,) = (row for row in rows("freezing_point_limit") if row["source"] == "astm-d4985")
    assert -38.0 <= freeze_c(CANS[EG].mix("50 % product")) <= float(limit["value"])
    # The figure of pure-glycol tables, which the can does not keep.
    assert freeze_c(CANS[EG].mix("50 % vol glycol")) < -39.0


@pytest.mark.parametrize(
    "row", [row for row in FREEZING if row["basis"].endswith("inhibited")], ids=name
)
def test_inhibited_tables_are_nearer_to_the_product_than_to_pure_glycol(row):
    own = freeze_c(mixture(row)) - float(row["value"])
    assert own >= -0.2  # the weaker promise: never colder than the printed digit allows
    if row["fluid"] == EG and share(row) >= 0.37:
        pure = fluids.freeze_bound_k(EG, pure_frac_mass(row))[0] - ZERO_C - float(row["value"])
        assert abs(own) < abs(pure)


# --- counted and ignored --------------------------------------------------------------------------


def test_counted_as_glycol_by_hand():
    # A kilogram of generic concentrate: 0.94 glycol, 0.03 water, 0.03 additives.
    assert frac_mass_counted(Composition(0.94, 0.03, 0.03)) == pytest.approx(0.97)
    assert frac_mass_counted(Composition(0.0, 1.0, 0.0)) == 0.0
    arrays = Composition(np.array([0.5, 0.2]), np.array([0.5, 0.7]), np.array([0.0, 0.1]))
    assert frac_mass_counted(arrays) == pytest.approx([0.5, 0.3])


@pytest.mark.parametrize("fluid", [EG, PG])
def test_band_of_half_product_by_hand(fluid):
    """A litre of concentrate and one of water, 0.9982 kg: shares by hand, then the curve."""
    kilograms = {EG: 1.128, PG: 1.050}[fluid]
    ignored = 0.94 * kilograms / (0.97 * kilograms + 0.9982)
    counted = 0.97 * kilograms / (kilograms + 0.9982)
    mixed = CANS[fluid].mix("50 % product")
    low, high = bracket_c(mixed)
    assert high == pytest.approx(fluids.freeze_temp_k(fluid, ignored) - ZERO_C, abs=0.02)
    assert low == pytest.approx(fluids.freeze_temp_k(fluid, counted) - ZERO_C, abs=0.02)
    assert 0.8 < high - low < 1.6
    # The band is wider on both sides, by the band of the curve there.
    cold, warm = band_c(mixed)
    assert cold == pytest.approx(fluids.band("freeze_temp_k", fluid, counted)[0] - ZERO_C, abs=0.05)
    assert warm == pytest.approx(fluids.band("freeze_temp_k", fluid, ignored)[1] - ZERO_C, abs=0.05)
    assert cold < low < high < warm


@pytest.mark.parametrize("product", [p for p in GENERIC.values() if not p.is_water], ids=str)
@given(frac=st.floats(0.0, 0.97))
def test_band_holds_what_is_displayed(product, frac):
    mixed = cc.Mixture(product=product, frac_mass=frac)
    low, high = band_c(mixed)
    bound = [each.m_as("degC") for each in mixed.freeze_bound]
    assert -200.0 < low <= bound[0] + 1e-9 and bound[1] - 1e-9 <= high <= 0.0
    if mixed.settled:
        assert high == pytest.approx(freeze_c(mixed), abs=1e-9) or high > freeze_c(mixed)


def test_band_of_plain_water_and_of_pure_glycol_has_no_width():
    assert bracket_c(CANS[EG].mix("0 % product")) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert band_c(CANS[EG].mix("0 % product")) == pytest.approx((0.0, 0.0), abs=1e-9)
    pure = cc.Product.from_shares(
        name="pure", fluid=EG, glycol="100 %", additive="0 %", density="1.1135 kg/L"
    )
    low, high = bracket_c(pure.mix("40 % mass glycol"))
    assert low == pytest.approx(high, abs=1e-9)


def test_refraction_sees_the_additives_too():
    """crc-concentrative, 20 °C: 1.3728 at 40 % and 1.3811 at 48 % of glycol by mass."""
    mixed = CANS[EG].mix("40 % mass glycol")
    low, high = mixed.refractive_index_band()
    assert mixed.refractive_index() == pytest.approx(1.3728, abs=3e-4)
    # By hand: 0.40 glycol carries 0.01277 additives; (0.41277)/1.01277 = 0.4076. And the band of
    # the curve on both sides.
    counted = 1.3728 + (1.3811 - 1.3728) * 0.76 / 8
    assert low < 1.3728 - 2e-4 and counted + 2e-4 < high < counted + 1e-3
    assert mixed.refractive_index("40 °C") < low
    with pytest.raises(cc.CoolcalcError, match="temperature"):
        mixed.refractive_index("80 °C")
    with pytest.raises(cc.CoolcalcError, match="temp: 20 has no unit"):
        mixed.refractive_index_band("20")


# --- boiling --------------------------------------------------------------------------------------


def boil_c(mixed, pressure="0 kPa gauge"):
    return tuple(bound.m_as("degC") for bound in mixed.boil_band(pressure))


def test_specified_boiling_point_lies_in_the_band_of_half_product():
    """ASTM D4985 asks for 226 °F (107.8 °C) or more of 50 % product.

    What is displayed misses it by half a kelvin (``data/disagreements.csv``): additives, which
    raise it, are ignored; or the concentrate holds more glycol; or the reflux of the test leaves
    the liquid stronger. The band reaches it.
    """
    low, high = boil_c(CANS[EG].mix("50 % product"))
    assert low < (226.0 - 32.0) / 1.8 < high


@pytest.mark.parametrize("row", rows("boiling_point", basis="volume % product"), ids=name)
def test_printed_boiling_points_lie_in_the_band(row):
    low, high = boil_c(mixture(row))
    # Half a degree of rounding; the last of a chart in steps of several degrees.
    slack = 0.5 if float(row["concentration"]) < 70 else 1.5
    assert low - slack <= float(row["value"]) <= high + slack


def test_boiling_of_half_product_in_the_open_and_under_a_cap():
    """By hand for a lower bound: water boils at 100.0 °C at 101.325 kPa (IAPWS)."""
    for can in CANS.values():
        mixed = can.mix("50 % product")
        low, high = boil_c(mixed)
        boils = mixed.boil_temp().m_as("degC")
        assert 100.0 < low < boils < high < low + 3.0
        capped = mixed.boil_temp("103 kPa gauge")
        assert 15.0 < capped.m_as("degC") - boils < 30.0
        assert capped == mixed.boil_temp(cc.Q(103.0, "kPa"))
        assert mixed.boil_temp("15 psi").m == pytest.approx(capped.m, abs=0.2)
    plain = CANS[EG].mix("0 % product")
    assert boil_c(plain) == pytest.approx((100.0, 100.0), abs=0.1)
    assert boil_c(plain, "103 kPa gauge")[0] == pytest.approx(121.0, abs=0.5)


def test_boiling_refuses_what_is_no_gauge_pressure():
    mixed = CANS[EG].mix("50 % product")
    with pytest.raises(cc.CoolcalcError, match=r"pressure: .*absolute"):
        mixed.boil_temp("200 kPa absolute")
    with pytest.raises(cc.CoolcalcError, match="pressure: 110 has no unit"):
        mixed.boil_band("110")
    with pytest.raises(cc.CoolcalcError, match="pressure"):
        mixed.boil_temp("-101 kPa gauge")
