"""Every published row; a failure means that we are wrong.

Tolerances stand in data/published/ beside the rows: half the last printed digit or the
source's stated accuracy, whichever is larger. A row that cannot be met keeps its tolerance and
is named in data/disagreements.csv with how far, which way and why; the test then holds the
distance, so that a stale entry fails too. Memory rows never assert. Computed rows (a published
formula, evaluated) are held apart from the published ones.
"""

from collections import Counter

import pytest

from coolcalc import evidence, fluids
from coolcalc.evidence import MODELS, frac_mass, is_held, is_product, model_value, name
from coolcalc.sources import SOURCES

from .published import DISAGREEMENTS, ROWS, ZERO_C


def rows_of(kind):
    """Return the rows of a kind that a value can be held to."""
    return [row for row in ROWS if row["kind"] == kind and is_held(row)]


#: Rows of pure glycol and water beyond the library's range, so that none gets lost unseen.
BEYOND = {
    ("melinder-iir", "freezing_point", "glycerol"): 1,  # 63 mass %, near the eutectic
    ("crc-constants", "melting_point", "propylene glycol"): 1,  # a glass
    ("schiebener-1990", "refractive_index_vacuum", "water"): 1,  # at 80 °C
    ("sun-teja-2003", "viscosity", "ethylene glycol"): 3,  # to 177 °C
}


def hold(row):
    """Assert that the row is met, or that it is missed by the distance that is written down."""
    off = model_value(row) - float(row["value"])
    tolerance = evidence.tolerance(row)
    where = f"{SOURCES[row['source']].title}; {row['where']}: {row['value']} {row['unit']}"
    if name(row) in DISAGREEMENTS:
        distance, why = DISAGREEMENTS[name(row)]
        assert abs(off) > tolerance, f"{where}: is met now, take it off the table ({why})"
        assert off == pytest.approx(distance, abs=max(tolerance / 5, 0.005)), f"{where}: {why}"
    else:
        assert abs(off) <= tolerance, f"{where}: off by {off:+.4g}, tolerance {tolerance:g}"


@pytest.mark.parametrize("row", rows_of("published"), ids=name)
def test_published(row):
    hold(row)


@pytest.mark.parametrize("row", rows_of("computed"), ids=name)
def test_computed(row):
    hold(row)


def test_rows_beyond_the_range_are_these():
    beyond = [
        (row["source"], row["property"], row["fluid"])
        for row in ROWS
        if row["kind"] != "memory"
        and row["property"] in MODELS
        and not is_product(row)
        and not is_held(row)
    ]
    assert Counter(beyond) == BEYOND


def test_disagreements_name_rows_and_say_why():
    held = {name(row) for kind in ("published", "computed") for row in rows_of(kind)}
    assert set(DISAGREEMENTS) <= held
    assert all(len(why) > 20 for _, why in DISAGREEMENTS.values())


@pytest.mark.parametrize(
    "row",
    [
        row
        for row in ROWS
        if row["kind"] != "memory"
        and row["basis"] == "mass %"
        and row["property"] in {"melting_point", "freezing_point"}
        and not fluids.settled(row["fluid"], frac_mass(row))
    ],
    ids=name,
)
def test_bounds_enclose_rows_where_nothing_is_settled(row):
    low, high = fluids.freeze_bound_k(row["fluid"], frac_mass(row))
    assert low <= float(row["value"]) + ZERO_C <= high, row["where"]


@pytest.mark.parametrize("fluid", ["ethylene glycol", "glycerol"])
def test_the_glycol_side_ends_at_the_published_melting_point(fluid):
    (row,) = (r for r in ROWS if (r["property"], r["fluid"]) == ("melting_point", fluid))
    melts = float(row["value"]) + ZERO_C
    assert fluids.freeze_temp_k(fluid, 1.0) == pytest.approx(melts, abs=1e-12)
    # Raoult: R T2 / heat of fusion, per mole of water over moles of glycol; heats published.
    heat, mass = {"ethylene glycol": (9960, 62.068), "glycerol": (18300, 92.094)}[fluid]
    slope = 8.314463 * melts**2 / heat * mass / 18.01528
    below = melts - fluids.freeze_temp_k(fluid, 1 - 1e-6)
    assert below / 1e-6 == pytest.approx(slope, rel=1e-4)


@pytest.mark.parametrize(
    "row",
    [r for r in ROWS if r["property"] == "eutectic_temperature" and r["kind"] == "published"],
    ids=lambda row: f"{row['value']} C",
)
def test_eutectics_lie_between_the_bounds_where_hydrates_form(row):
    low, high = fluids.freeze_bound_k(row["fluid"], 0.65)
    assert low <= float(row["value"]) + ZERO_C <= high, row["where"]


def test_agreement_limit_is_the_published_one():
    (row,) = (row for row in ROWS if row["property"] == "freezing_agreement_limit")
    assert float(row["value"]) / 100 == fluids.FRAC_MASS_SETTLED_MAX


def test_generic_concentrate_at_half_volume_reads_what_its_charts_say():
    # 94 % glycol, 3 % water, 3 % additives, 1.128 kg/L (common practice, no source); charts:
    # sae-j814 and army-tm-5-3895 -37 °C, astm-d4985 -36.4 °C or colder. Hand computed: 564.0 g
    # concentrate and 499.1 g water in a litre before mixing; 530.2 g glycol of 1046.2 g.
    glycol, water = 0.94 * 564.0, 0.03 * 564.0 + 499.1
    temp = fluids.freeze_temp_k("ethylene glycol", glycol / (glycol + water)) - ZERO_C
    assert -38.0 <= temp <= -36.4


def test_rows_are_complete():
    kinds, roles = {"published", "computed", "memory"}, {"fit", "check"}
    for row in ROWS:
        assert row["source"] in SOURCES, row
        assert row["kind"] in kinds and row["role"] in roles and row["lineage"], row
        if not row["property"].endswith("_limit"):
            assert float(row["tolerance"]) > 0, row
    assert not [row for row in ROWS if row["kind"] == "memory" and row["role"] == "fit"]
    assert not [r for r in ROWS if is_product(r) and r["role"] == "fit"]
    names = [name(row) for row in rows_of("published")]
    assert len(names) == len(set(names))


def test_a_good_share_of_the_published_rows_is_kept_from_the_fit():
    for prop in ("freezing_point", "density", "refractive_index", "viscosity"):
        rows = [row for row in rows_of("published") if row["property"] == prop]
        checks = [row for row in rows if row["role"] == "check"]
        assert len(checks) >= len(rows) / 4, prop


#: A whole lineage that no fit has seen, for each property.
@pytest.mark.parametrize(
    ("prop", "fluid", "lineage"),
    [
        ("freezing_point", "ethylene glycol", "melinder"),
        ("density", "propylene glycol", "macbeth"),
        ("refractive_index", "glycerol", "hoyt"),
        ("heat_capacity", "ethylene glycol", "conde"),
        ("viscosity", "ethylene glycol", "jct-2018"),
        ("viscosity", "propylene glycol", "tanaka"),
        ("viscosity", "glycerol", "sheely"),
    ],
)
def test_one_lineage_is_kept_from_the_fit(prop, fluid, lineage):
    rows = [
        row
        for row in ROWS
        if (row["property"], row["fluid"], row["lineage"]) == (prop, fluid, lineage)
    ]
    assert len(rows) >= 5
    assert {row["role"] for row in rows} == {"check"}
