"""The sugar scale of instruments, and how an index drifts with temperature."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coolcalc import fluids
from coolcalc.errors import NotNumericError, OutOfRangeError
from coolcalc.fluids import refraction
from coolcalc.sources import SOURCES

from .test_published_rows import model_value, rows_of

SUCROSE = [row for row in rows_of("published") if row["property"] == "refractive_index_sucrose"]
NAMES = tuple(fluids.FLUIDS)


def test_brix_begins_at_water():
    water = fluids.refractive_index("glycerol", 0.0, 293.15)
    assert fluids.refractive_index_from_brix(0.0) == water
    assert fluids.brix_from_refractive_index(water) == pytest.approx(0.0, abs=1e-9)
    # schiebener-1990 at 20 °C against vacuum, over the index of air
    assert water == pytest.approx(1.33336 / 1.000272, abs=1e-5)


def test_brix_rises_over_the_whole_scale():
    index = fluids.refractive_index_from_brix(np.linspace(0.0, refraction.BRIX_MAX, 8401))
    assert np.all(np.diff(index) > 0)


@given(brix=st.floats(0.0, refraction.BRIX_MAX))
def test_brix_round_trip(brix):
    index = fluids.refractive_index_from_brix(brix)
    found = fluids.brix_from_refractive_index(index)
    assert type(index) is type(found) is float
    assert found == pytest.approx(brix, abs=1e-8)


@pytest.mark.parametrize("row", SUCROSE[::9], ids=lambda row: row["concentration"])
def test_brix_is_read_off_the_printed_index(row):
    """A step of the printed index is worth 0.006 °Brix (5 digits) or 0.06 (4 digits)."""
    brix = fluids.brix_from_refractive_index(float(row["value"]))
    assert brix == pytest.approx(float(row["concentration"]), abs=700 * float(row["tolerance"]))


def test_brix_keeps_shapes_and_names_the_first_bad_element():
    brix = np.array([[0.0, 10.0], [50.0, 84.0]])
    index = fluids.refractive_index_from_brix(brix)
    assert index.shape == (2, 2)
    assert fluids.brix_from_refractive_index(index) == pytest.approx(brix, abs=1e-9)
    assert fluids.brix_from_refractive_index_unchecked(index) == pytest.approx(brix, abs=1e-9)
    assert np.array_equal(fluids.refractive_index_from_brix_unchecked(brix), index)
    with pytest.raises(OutOfRangeError, match=r"Brix \(element 1\) = 85 °Brix is outside 0 to 84"):
        fluids.refractive_index_from_brix([10.0, 85.0, -1.0])
    with pytest.raises(OutOfRangeError, match=r"refractive index = 1\.3 nD is outside 1\.333"):
        fluids.brix_from_refractive_index(1.3)
    with pytest.raises(OutOfRangeError, match="nan"):
        fluids.brix_from_refractive_index(float("nan"))
    with pytest.raises(NotNumericError, match="Brix"):
        fluids.refractive_index_from_brix("thirty")


def met():
    return {
        row["concentration"]
        for row in SUCROSE
        if abs(model_value(row) - float(row["value"])) <= float(row["tolerance"])
    }


def test_one_per_cent_on_a_coefficient_of_the_sugar_scale_fails_a_row(monkeypatch):
    assert met() == {row["concentration"] for row in SUCROSE}
    rise, idle = refraction.SUCROSE_RISE, []
    for at in range(len(rise)):
        moved = tuple(c * 1.01 if i == at else c for i, c in enumerate(rise))
        monkeypatch.setattr(refraction, "SUCROSE_RISE", moved)
        if met() == {row["concentration"] for row in SUCROSE}:
            idle.append(at)
    assert idle == [5]  # the last of six: 1 % of it is 9e-5 at the end of the scale


@pytest.mark.parametrize("fluid", NAMES)
def test_index_falls_as_it_warms(fluid):
    temps = np.linspace(*refraction.TEMP_RANGE_K, 121)[:, None]
    index = fluids.refractive_index(fluid, np.linspace(0.1, 1.0, 10), temps)
    assert np.all(np.diff(index, axis=0) < 0)


@pytest.mark.parametrize("fluid", NAMES)
def test_many_temperatures_at_once_are_each_alone(fluid):
    w, temps = np.array([0.2, 0.5, 1.0]), np.array([[275.0], [300.0]])
    index = fluids.refractive_index(fluid, w, temps)
    back = fluids.frac_mass_from_refractive_index(fluid, index, temps)
    assert index.shape == back.shape == (2, 3)
    for i, temp in enumerate(temps[:, 0]):
        for j, frac in enumerate(w):
            assert index[i, j] == pytest.approx(
                fluids.refractive_index(fluid, frac, temp), rel=1e-14
            )
            assert back[i, j] == pytest.approx(frac, abs=1e-9)


def test_ethylene_and_propylene_glycol_read_alike():
    """crc-constants 1.4318 (ethylene), macbeth-1951 1.4316 (propylene, 25 °C): an index does not
    tell which glycol is inside."""
    pure = [fluids.refractive_index(fluid, 1.0, 293.15) for fluid in NAMES[:2]]
    assert pure[0] == pytest.approx(pure[1], abs=2e-3)


def test_brix_sources_are_known():
    assert set(refraction.BRIX_SOURCES) <= set(SOURCES)
