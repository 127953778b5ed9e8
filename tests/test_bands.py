"""The band of every property: it holds the value, it is honest, and it refuses what it should."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coolcalc import evidence, fluids
from coolcalc.errors import CoolcalcError, InputError, OutOfRangeError, UnknownChoiceError
from coolcalc.fluids import bands
from coolcalc.fluids._coefficients import COEFFICIENTS
from coolcalc.fluids.fluid import Fluid
from coolcalc.sources import SOURCES

from . import published

NAMES = tuple(fluids.FLUIDS)
AT = {
    "freeze_temp_k": (),
    "boil_temp_k": (101325.0,),
    "density_kg_m3": (293.15,),
    "specific_gravity": (293.15,),
    "vapor_pressure_pa": (333.15,),
    "refractive_index": (293.15,),
    "heat_capacity_j_kg_k": (293.15,),
    "conductivity_w_m_k": (293.15,),
    "viscosity_pa_s": (293.15,),
}
each_fluid = pytest.mark.parametrize("fluid", NAMES)
each_property = pytest.mark.parametrize("name", AT)


@pytest.fixture(scope="module")
def left_out():
    return published.left_out_rows()


@pytest.fixture(scope="module")
def scoring():
    return published.script("band_scores")


def test_bands_hold_95_of_100_rows_that_the_fit_has_not_seen(scoring, left_out):
    assert (scoring.ROWS_AT_LEAST, scoring.INSIDE_AT_LEAST) == (12, 0.95)
    for key, rows in left_out.items():
        score = scoring.score(rows)
        if key in scoring.JUDGED:
            assert scoring.verdict(key, score) == f"judged: {scoring.JUDGED[key]}", (key, score)
            assert score.rows <= 12, (key, score)
        else:
            assert scoring.verdict(key, score) == "holds", (key, score)


def test_what_is_judged_is_few_and_said_so(scoring, left_out):
    assert len(scoring.JUDGED) < len(left_out) / 4
    text = scoring.score_lines(left_out)
    assert sum(line.endswith(" holds") for line in text) == len(left_out) - len(scoring.JUDGED)
    assert not any("nan" in line or len(line) > 100 for line in text)
    assert "not proved" in text[-1]


def test_a_band_that_fails_and_is_not_judged_is_said_to(scoring):
    few = scoring.Score(11, 1.0, 0.5, 0)
    assert scoring.verdict(("density", "glycerol"), few) == "does not hold"
    for bad in ({"coverage": 0.94}, {"narrower": 1.0}, {"rows": 0, "coverage": None}):
        worse = few._replace(**{"rows": 12, **bad})
        assert scoring.verdict(("density", "glycerol"), worse) == "does not hold"
    assert scoring.verdict(("density", "glycerol"), few._replace(rows=12)) == "holds"


def test_a_row_left_out_reaches_no_refit(left_out):
    """The model that answers a row has not seen it: its distance differs from the consensus."""
    key = ("freezing", "propylene glycol")
    moved = [
        abs(each.off - (evidence.model_value(each.row) - float(each.row["value"])))
        for each in left_out[key]
        if each.row["source"] in ("lange-15", "melinder-iir")
    ]
    assert len(moved) >= 15 and min(moved) > 0 and max(moved) > 0.1
    # and the fluids are put back
    for name, parts in COEFFICIENTS.items():
        assert fluids.FLUIDS[name] == Fluid(name=name, **parts)


def test_every_property_has_a_band_and_sources():
    assert set(bands.BANDS) == set(AT)
    for name in AT:
        for fluid in NAMES:
            assert set(fluids.band(name, fluid, 0.3, *AT[name])[2]) <= set(SOURCES)


@each_fluid
@each_property
@given(frac=st.floats(0, 0.60))
def test_band_holds_the_value(name, fluid, frac):
    value = getattr(fluids, name)(fluid, frac, *AT[name])
    low, high, sources = fluids.band(name, fluid, frac, *AT[name])
    assert type(low) is type(high) is float
    assert math.isfinite(low) and math.isfinite(high)
    assert low <= value <= high
    assert sources


@each_fluid
@each_property
def test_floats_and_arrays(name, fluid):
    frac = np.array([[0.1, 0.3], [0.5, 0.6]])
    low, high, _ = fluids.band(name, fluid, frac, *AT[name])
    assert low.shape == high.shape == frac.shape
    for at in np.ndindex(frac.shape):
        alone = fluids.band(name, fluid, float(frac[at]), *AT[name])
        assert (low[at], high[at]) == pytest.approx(alone[:2], rel=1e-12)


@each_fluid
def test_water_alone_is_known(fluid):
    low, high, _ = fluids.band("freeze_temp_k", fluid, 0.0)
    assert low == high == 273.15
    low, high, _ = fluids.band("density_kg_m3", fluid, 0.0, 293.15)
    assert high - low < 0.2
    low, high, _ = fluids.band("viscosity_pa_s", fluid, 0.0, 293.15)
    assert high / low < 1.01


@each_fluid
def test_where_nothing_is_settled_the_band_is_the_bound_and_says_who(fluid):
    low, high, sources = fluids.band("freeze_temp_k", fluid, 0.65)
    assert (low, high) == fluids.freeze_bound_k(fluid, 0.65)
    assert sources == bands.freezing.BOUND_SOURCES[fluid]


@pytest.mark.parametrize("name", ["density_kg_m3", "viscosity_pa_s", "conductivity_w_m_k"])
def test_bands_widen_away_from_what_is_measured(name):
    def width(temp_k):
        low, high, _ = fluids.band(name, "ethylene glycol", 0.5, temp_k)
        return (high - low) / (high + low)

    assert width(243.15) > 1.5 * width(293.15)
    assert width(403.15) > width(293.15)


def test_refusals():
    with pytest.raises(InputError, match=r"density_kg_m3: .*fraction and temperature .* 1 given"):
        fluids.band("density_kg_m3", "glycerol", 0.3)
    with pytest.raises(InputError, match=r"freeze_temp_k: .* 2 given"):
        fluids.band("freeze_temp_k", "glycerol", 0.3, 300.0)
    low, high, _ = fluids.band("density_kg_m3", "glycerol", 0.3, [300, 310])
    assert low.shape == high.shape == (2,)
    with pytest.raises(UnknownChoiceError, match=r'property: "density".*"density_kg_m3"'):
        fluids.band("density", "glycerol", 0.3, 293.15)
    with pytest.raises(UnknownChoiceError, match=r'fluid: "EG"'):
        fluids.band("density_kg_m3", "EG", 0.3, 293.15)
    with pytest.raises(OutOfRangeError, match=r"fraction \(element 1\)"):
        fluids.band("density_kg_m3", "glycerol", np.array([0.3, 1.3]), 293.15)
    with pytest.raises(OutOfRangeError, match=r"temperature = 500"):
        fluids.band("viscosity_pa_s", "glycerol", 0.3, 500.0)
    with pytest.raises(CoolcalcError):
        fluids.band("freeze_temp_k", "glycerol", math.nan)
