"""Products: what charts, standards and inhibited tables print, and what a label may say.

Rows of a product or an inhibited fluid are in data/published/. A product of unknown make is
not ours, so its tables are met within a stated distance, not within their printed digit.
"""

import dataclasses

import numpy as np
import pytest

import coolcalc as cc
from coolcalc import fluids
from coolcalc.errors import InputError, NotSettledError, UnclearInputError, UnknownChoiceError
from coolcalc.product import GENERIC
from coolcalc.strength import BASIS_WORDS, GLYCOL_BY_MASS, OF_PRODUCT

from . import published

ROWS = [row for row in published.ROWS if row["kind"] == "published"]

EG, PG = "ethylene glycol", "propylene glycol"
CANS = {fluid: cc.Product.generic(f"{fluid} concentrate") for fluid in (EG, PG)}
ZERO_C = 273.15
#: The manual's antifreeze is lighter than glycol with additives: its rows are those of pure
#: glycol and water. Held as a distance, so that it is not mended by accident. [-]
LIGHTER_ANTIFREEZE = {"40.6": 0.0078, "43.75": 0.0055, "53.1": 0.0077}


def rows(*properties, basis=None):
    return [
        row
        for row in ROWS
        if row["property"] in properties
        and (
            row["basis"] == basis if basis else row["basis"].split()[-1] in ("product", "inhibited")
        )
    ]


def name(row):
    at = f" at {row['temp_c']} C" if row["temp_c"] else ""
    return f"{row['source']} {row['fluid']} {row['concentration']} {row['basis']}{at}"


def share(row):
    return float(row["concentration"]) / 100


def mixture(row):
    """Mix of the generic product that a row describes, from its own basis."""
    can = CANS[row["fluid"]]
    if row["basis"] == "mass % inhibited":
        glycol, water, additive = 0.94, 0.03, 0.03  # by hand, as the generic concentrates state
        assert can.share == pytest.approx((glycol, water, additive))
        x = share(row)
        return cc.Mixture(product=can, frac_mass=x * glycol / (x * (glycol + water) + 1 - x))
    return can.mix(f"{row['concentration']} % product")


def pure_frac_mass(row):
    """What the row would be if it meant pure glycol."""
    if row["basis"] == "mass % inhibited":
        return share(row)
    return fluids.frac_mass_from_frac_vol(row["fluid"], share(row))


def freeze_c(mixture):
    return mixture.freeze_temp.m_as("degC")


# --- published rows -------------------------------------------------------------------------------


def product_density(row):
    """What the generic product has at a row's strength and temperature, additives counted."""
    return mixture(row).density(f"{row['temp_c']} °C").m_as("kg/m^3")


@pytest.mark.parametrize(
    "row",
    [row for row in rows("density") if 20 <= float(row["temp_c"]) <= 80 and share(row) >= 0.3],
    ids=name,
)
def test_inhibited_densities_are_nearer_to_the_product_than_to_pure_glycol(row):
    temp_k = float(row["temp_c"]) + ZERO_C
    pure = fluids.density_kg_m3(row["fluid"], pure_frac_mass(row), temp_k) - float(row["value"])
    assert abs(product_density(row) - float(row["value"])) < abs(pure)


@pytest.mark.parametrize("fluid", [EG, PG])
def test_half_and_half_against_the_inhibited_tables(fluid):
    """Within 5 kg/m3 from 0 to 100 °C; pure glycol and water is 5 to 10 off in the middle.

    The tables' volume % is read as per cent of product; read as volume % of pure glycol, with the
    product's additives beside it, the generic product is further off at 20 °C and below.
    """
    half = [row for row in rows("density") if row["fluid"] == fluid and share(row) == 0.5]
    half.sort(key=lambda row: float(row["temp_c"]))
    print(f"\n{fluid}, 50 volume %: model minus row, kg/m3")
    print("  °C      product  as glycol  pure glycol")
    off = []
    for row in half:
        temp_c, value = float(row["temp_c"]), float(row["value"])
        as_glycol = CANS[fluid].mix("50 % vol glycol").density(f"{temp_c} °C").m_as("kg/m^3")
        pure = fluids.density_kg_m3(fluid, pure_frac_mass(row), temp_c + ZERO_C)
        off.append([temp_c, *(each - value for each in (product_density(row), as_glycol, pure))])
        print("{:7.2f} {:8.1f} {:8.1f} {:10.1f}".format(*off[-1]))
    temps, own, as_glycol, pure = (np.array(column) for column in zip(*off, strict=True))
    assert temps[0] < -17 and temps[-1] >= 120
    normal = (temps >= -2) & (temps <= 100)
    assert np.count_nonzero(normal) >= 5
    assert np.abs(own[normal]).max() <= 4.0
    assert np.abs(own[temps <= 121.2]).max() <= 5.5
    assert np.sqrt(np.mean(own[normal] ** 2)) < 0.6 * np.sqrt(np.mean(pure[normal] ** 2))
    cold = temps < 25
    assert np.abs(own[cold]).max() < np.abs(as_glycol[cold]).max()


@pytest.mark.parametrize("row", rows("specific_gravity_product"), ids=name)
def test_specific_gravity_of_a_lighter_antifreeze(row):
    water = 998.2  # kg/m3 at 20 °C, CRC
    off = mixture(row).density().m_as("kg/m^3") / water - float(row["value"])
    assert off > float(row["tolerance"])
    assert off == pytest.approx(LIGHTER_ANTIFREEZE[row["concentration"]], abs=0.0005)


# --- generic products -----------------------------------------------------------------------------


@pytest.mark.parametrize(("fluid", "density"), [(EG, 1128.0), (PG, 1050.0)])
def test_generic_concentrates(fluid, density):
    can = CANS[fluid]
    assert can.density_kg_m3 == pytest.approx(density, abs=1e-9)
    assert can.share == pytest.approx((0.94, 0.03, 0.03))
    assert can.mix("100 % product").density().m_as("kg/m^3") == pytest.approx(density, abs=1e-9)


@pytest.mark.parametrize(("fluid", "kg_per_litre"), [(EG, 1.128), (PG, 1.050)])
def test_generic_ready_mixed(fluid, kg_per_litre):
    """Half and half by volume: shares by hand from a litre of each, water 0.9982 kg/L."""
    ready = GENERIC[f"{fluid} ready-mixed 50 %"]
    total = kg_per_litre + 0.9982
    by_hand = (0.94 * kg_per_litre, 0.03 * kg_per_litre + 0.9982, 0.03 * kg_per_litre)
    assert ready.share == pytest.approx([each / total for each in by_hand], abs=2e-5)
    # Two litres poured together are less than two litres.
    assert 1e3 * total / 2 < ready.density_kg_m3 < 1.02 * 1e3 * total / 2
    assert ready.mix("100 % product").freeze_temp == CANS[fluid].mix("50 % product").freeze_temp


def test_unknown_generic():
    with pytest.raises(UnknownChoiceError, match=r'product: "blue stuff" .* "water"'):
        cc.Product.generic("blue stuff")


# --- labels ---------------------------------------------------------------------------------------


def label(**more):
    given = {
        "name": "can",
        "fluid": EG,
        "freezing_point": "-37 °C",
        "dilution": "50 %",
        "density": "1.128 kg/L",
    }
    return cc.Product.from_label(**given | more)


@pytest.mark.parametrize("fluid", [EG, PG])
@pytest.mark.parametrize("dilution", [20, 33.3, 50])
def test_label_gives_back_its_share(fluid, dilution):
    can = CANS[fluid]
    frozen = can.mix(f"{dilution} % product").freeze_temp
    read = label(
        fluid=fluid,
        freezing_point=frozen,
        dilution=f"{dilution} %",
        density=f"{can.density_kg_m3 / 1000} kg/L",
    )
    assert read.share == pytest.approx(can.share, abs=1e-6)
    assert read.density_kg_m3 == pytest.approx(can.density_kg_m3)
    assert read.remark == ""


def test_label_of_a_ready_mixed_coolant():
    ready = label(freezing_point="-37 °C", dilution="100 %", density="1.07 kg/L", additive="1.5 %")
    assert freeze_c(ready.mix("100 % product")) == pytest.approx(-37.0, abs=1e-6)
    assert ready.share.glycol < 0.52


def test_density_is_taken_to_20():
    warm = label(density="1.120 kg/L", density_temp="35 °C")
    assert 1128.0 < warm.density_kg_m3 < 1134.0


def test_claim_beyond_pure_glycol_is_kept_and_named():
    can = label(freezing_point="-45 °C")
    assert can.claim.freeze_k == pytest.approx(228.15)
    assert can.claim.share_vol == 0.5
    assert can.share == pytest.approx((0.97, 0.0, 0.03))
    assert "−45.0 °C at 50 % of product" in can.remark
    job = cc.correct_mix(
        system=cc.CoolingSystem(capacity="10 L"),
        found="30 % product",
        target="50 % product",
        pour=[can, cc.WATER],
    )
    assert job.drain.m_as("L") == pytest.approx(2.85, abs=0.05)
    assert f"can: {can.remark}" in job.notes
    assert "The label promises −45.0 °C" in str(job)


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"density": "2 kg/L"}, r"density: 2 kg/L is above 1.4 kg/L"),
        ({"density": "0.8 kg/L"}, r"density: 0.8 kg/L is below 0.9 kg/L"),
        ({"density": "1.20 kg/L"}, r"density: 1200 kg/m³ does not go with .* glycol"),
        ({"density": "1.05 kg/L"}, r"density: 1050 kg/m³ does not go with .* glycol"),
        ({"density": "1.128"}, r"density: 1.128 has no unit"),
        ({"density_temp": "90 °C"}, r"density_temp: 90 °C is above 40 °C"),
        ({"freezing_point": "37 °C"}, r"freezing point: 37 °C: .* did you mean −37 °C"),
        ({"freezing_point": "-80 °C"}, r"freezing point: −80 °C is below −5"),
        ({"dilution": "0 %"}, r"dilution: 0 % is below 1 %"),
        ({"dilution": "150 %"}, r"dilution: 150 % is above 100 %"),
        ({"additive": "30 %"}, r"additive: 30 % is above 20 %"),
        ({"fluid": "methanol"}, r'fluid: "methanol" .* "ethylene glycol"'),
    ],
)
def test_label_that_cannot_be_true(more, says):
    with pytest.raises(InputError, match=says):
        label(**more)


@pytest.mark.parametrize(
    ("glycol", "additive", "says"),
    [
        ("99 %", "3 %", r"glycol: 99.0 % of glycol and 3.0 % of additives .* at most 100 %"),
        ("0 %", "3 %", r"glycol: 0.0 % of glycol"),
        ("150 %", "3 %", r"glycol: 150 % is above 100 %"),
        ("nan %", "3 %", r"glycol: "),
    ],
)
def test_shares_that_cannot_be_true(glycol, additive, says):
    with pytest.raises(InputError, match=says):
        cc.Product.from_shares(
            name="can", fluid=EG, glycol=glycol, additive=additive, density="1.128 kg/L"
        )


def test_pure_glycol_is_a_product():
    pure = cc.Product.from_shares(
        name="pure", fluid=EG, glycol="100 %", additive="0 %", density="1.1135 kg/L"
    )
    assert pure.additive_volume_m3_kg == 0.0
    with pytest.raises(InputError, match=r"density: 1128 kg/m³ does not go with 100.0 % glycol"):
        cc.Product.from_shares(
            name="pure", fluid=EG, glycol="100 %", additive="0 %", density="1.128 kg/L"
        )


# --- strengths ------------------------------------------------------------------------------------


@pytest.mark.parametrize("fluid", [EG, PG])
@pytest.mark.parametrize("basis", BASIS_WORDS)
@pytest.mark.parametrize("percent", [0.0, 12.5, 30.0, 50.0, 65.0, 95.0])
def test_strength_goes_both_ways(fluid, basis, percent):
    told = cc.Strength(percent / 100, basis)
    mixed = CANS[fluid].mix(told)
    assert mixed.strength(basis).share == pytest.approx(percent / 100, abs=1e-9)


def test_the_three_meanings_of_fifty():
    """By hand for ethylene glycol at 20 °C: 1.128, 0.9982 and 1.1135 kg/L."""
    can = CANS[EG]
    of_product = 1.128 * 0.94 / (1.128 * 0.97 + 0.9982)
    by_volume = 1.1135 / (1.1135 + 0.9982)
    assert can.mix("50 % product").frac_mass == pytest.approx(of_product, abs=1e-4)
    assert can.mix("50 % vol glycol").frac_mass == pytest.approx(by_volume, abs=2e-4)
    assert can.mix("50 % mass glycol").frac_mass == 0.5


def test_strength_refuses():
    with pytest.raises(InputError, match=r"found: 150 volume % of product is above 100"):
        cc.Strength.of("found", "150 % product")
    with pytest.raises(UnclearInputError, match="found: 50 %: per cent of what") as caught:
        cc.Strength.of("found", "50 %")
    assert caught.value.choices[0] == "50 % product"
    with pytest.raises(InputError, match=r"found error: 60 % is above"):
        cc.Strength.of("found", "50 % product", error="60 %")


def test_strength_give_or_take():
    told = cc.Strength.of("found", "50 % mass glycol", error="2 %")
    assert told.half_width_frac_mass(CANS[EG]) == pytest.approx(0.02)
    assert str(told) == "50 % glycol by mass"
    assert cc.Strength.of("found", told) is told


def test_mixture_says_what_is_not_settled():
    assert CANS[EG].mix("100 % product").settled  # crystals of the glycol are the first
    strong = CANS[EG].mix("80 % product")
    assert not strong.settled
    with pytest.raises(NotSettledError, match="not settled"):
        _ = strong.freeze_temp
    low, high = strong.freeze_bound
    assert low < high
    assert CANS[EG].mix("100 % product").strength(OF_PRODUCT).share == pytest.approx(1.0)
    too_strong = cc.Mixture(product=GENERIC[f"{EG} ready-mixed 50 %"], frac_mass=0.6)
    assert too_strong.strength().share > 1.0
    assert too_strong.strength(GLYCOL_BY_MASS).share == 0.6


def test_water_makes_no_mix():
    with pytest.raises(InputError, match="product: water makes no mix"):
        cc.WATER.mix("50 % product")


def test_products_are_told_apart_as_keys():
    twin = dataclasses.replace(CANS[EG], name="another name")
    assert len({CANS[EG], twin, cc.WATER, CANS[PG]}) == 4


@pytest.mark.parametrize("text", ["30 % product", "30 % vol glycol", "30 % mass glycol"])
def test_a_strength_can_be_read_as_it_is_printed(text):
    strength = cc.Strength.of("found", text)
    assert cc.Strength.of("found", str(strength)) == strength


@pytest.mark.parametrize(
    ("density", "at"), [("1.113 kg/L", "40 °C"), ("1.128 kg/L", "20 °C"), ("1.141 kg/L", "0 °C")]
)
def test_a_label_is_met_whatever_temperature_its_density_is_stated_at(density, at):
    can = cc.Product.from_label(
        name="yard blue",
        fluid="ethylene glycol",
        freezing_point="-37 °C",
        dilution="50 %",
        density=density,
        density_temp=at,
    )
    assert can.mix("50 % product").freeze_temp.m_as("degC") == pytest.approx(-37.0, abs=1e-3)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: cc.Strength(0.5, "percent"), "basis: "),
        (lambda: cc.Strength(float("nan"), OF_PRODUCT), "strength share: nan is not a number"),
        (lambda: cc.Strength("50 %", OF_PRODUCT), "strength share: '50 %' is not a number"),
        (lambda: cc.Mixture(product="can", frac_mass=0.5), "product: 'can' is not a product"),
        (lambda: cc.Refractometer(made_for=[]), "made_for: "),
    ],
)
def test_things_made_by_hand_are_checked(make, says):
    with pytest.raises(cc.CoolcalcError, match=says):
        make()
