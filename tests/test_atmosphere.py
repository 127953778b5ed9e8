"""The outside air by altitude, against printed tables."""

import numpy as np
import pytest

from coolcalc import fluids
from coolcalc.balance.atmosphere import air_pressure_pa

PSI, FOOT = 6894.757, 0.3048

#: U.S. Standard Atmosphere 1976, table in feet and psi as reprinted by a public engineering
#: handbook on the web; printed to 0.001 psi.
BY_FOOT = {-5000: 17.554, 0: 14.696, 5000: 12.228, 10000: 10.108, 15000: 8.297, 20000: 6.759}

#: The table of the ASHRAE Handbook (Fundamentals, Psychrometrics) after NASA 1976, as reprinted;
#: its 4,000 ft is left out: 12.682 psi breaks its own series by 0.010 and is a slip of a digit.
ASHRAE = {
    -1000: 15.236, -500: 14.966, 500: 14.430, 1000: 14.175, 2000: 13.664, 3000: 13.173,
    5000: 12.230, 6000: 11.778, 7000: 11.341, 8000: 10.914, 9000: 10.506, 10000: 10.108,
}  # fmt: skip


@pytest.mark.parametrize("feet", BY_FOOT)
def test_rows_of_the_standard_atmosphere(feet):
    # The table's heights are geopotential: up to 20,000 ft that is 0.1 % of the height.
    assert air_pressure_pa(feet * FOOT) / PSI == pytest.approx(BY_FOOT[feet], abs=0.007)


@pytest.mark.parametrize("feet", ASHRAE)
def test_rows_of_a_handbook(feet):
    assert air_pressure_pa(feet * FOOT) / PSI == pytest.approx(ASHRAE[feet], abs=0.004)


def test_a_geopotential_height_is_a_little_less():
    """89,874.6 Pa stand at a geopotential 1,000 m: 1000.157 m up (U.S. Standard Atmosphere)."""
    assert air_pressure_pa(1000.157) == pytest.approx(89874.6, abs=0.5)


def test_water_boils_as_hikers_are_told():
    """5,000 ft 203 °F, 10,000 ft 194 °F, to the whole degree: published for travellers."""
    for feet, fahrenheit in ((0, 212), (5000, 203), (10000, 194)):
        boils = fluids.boil_temp_k("ethylene glycol", 0.0, air_pressure_pa(feet * FOOT))
        assert (boils - 273.15) * 1.8 + 32 == pytest.approx(fahrenheit, abs=0.6)


def test_arrays_are_as_single_heights():
    heights = np.array([-400.0, 0.0, 1234.0, 5999.0])
    single = [air_pressure_pa(float(each)) for each in heights]
    np.testing.assert_allclose(air_pressure_pa(heights), single, rtol=1e-15)
    assert np.all(np.diff(air_pressure_pa(np.linspace(-500, 6000, 200))) < 0)
