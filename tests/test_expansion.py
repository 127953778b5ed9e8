"""Growth of hot coolant: published tables, a tank heated kelvin by kelvin, sums by hand."""

import csv
import itertools

import numpy as np
import pytest

import coolcalc as cc
from coolcalc import fluids
from coolcalc.balance import atmosphere, expansion
from coolcalc.fluids.bands import growth_widths
from coolcalc.jobs.expansion_plan import Closed, Heating

from . import published
from .heated_tank import ZERO_C, Tank, ideal_vapor_pa, published_density, run

EG, PG = "ethylene glycol", "propylene glycol"
LITRE = 1e-3
CAN = cc.Product.generic(f"{EG} concentrate")
TEN = cc.CoolingSystem(capacity="10 L")
SEA_PA = 101325.0
TABLES = ("melinder-2010", "ashrae-2001", "ashrae-ip", "dtu-solar", "perry-8", "vdi-atlas")


def job_of(**more):
    told = {
        "system": TEN,
        "found": CAN.mix("50 % product"),
        "temp": "15 °C",
        "hottest": "105 °C",
        "metal": "69 ppm/K",
    }
    return cc.expansion(**(told | more))


def heating(mixture, volume=10 * LITRE, metal=69e-6, cold_k=ZERO_C + 15):
    return Heating(mixture, volume, 0.0, cold_k, metal, SEA_PA)


# --- growth against published tables --------------------------------------------------------------


def published_growths():
    """Yield source, mix, ends in K, and growth by each table, from each cold row up to 40 °C."""
    lines = {}
    for row in published.ROWS:
        if row["property"] == "density" and row["source"] in TABLES and row["unit"] == "kg/m3":
            key = (row["fluid"], row["basis"], float(row["concentration"]), row["source"])
            lines.setdefault(key, {})[float(row["temp_c"]) + ZERO_C] = float(row["value"])
    for (fluid, basis, strength, source), line in sorted(lines.items()):
        if fluid not in (EG, PG) or strength > 70.0:
            continue
        product = cc.Product.generic(f"{fluid} concentrate")
        word = "% product" if basis == "volume % inhibited" else "% mass glycol"
        mixture = product.mix(f"{strength} {word}")
        for cold_k, cold in line.items():
            for hot_k, hot in line.items():
                if hot_k - cold_k > 30 and cold_k <= ZERO_C + 40:
                    yield source, mixture, cold_k, hot_k, cold / hot - 1


GROWTHS = list(published_growths())


def test_growth_band_holds_published_tables():
    """Pure (melinder-2010, dtu-solar) and inhibited (ashrae-2001, ashrae-ip) alike."""
    held, widths = {EG: [], PG: []}, []
    for _, mixture, cold_k, hot_k, growth in GROWTHS:
        value = heating(mixture, cold_k=cold_k).liquid_share(hot_k)[0]
        below, above = growth_widths(mixture.fluid, mixture.frac_mass, cold_k, hot_k)
        held[mixture.fluid].append(value - below <= growth <= value + above)
        if cold_k > ZERO_C + 15:
            widths.append(above + below)
    for inside in held.values():
        assert len(inside) > 150
        assert np.mean(inside) >= 0.95
    assert max(widths) <= 0.0085  # of the volume: the tables lie that far apart


@pytest.mark.parametrize(
    ("fluid", "row"),
    [
        # 50 volume % of an inhibited product: ratio of two densities, 20 to 100 °C, of ASHRAE
        # Handbook Fundamentals (2001), section Inhibited Glycols.
        (EG, 0.04927),
        (PG, 0.06091),
    ],
)
def test_inhibited_and_pure_stand_in_one_span(fluid, row):
    product = cc.Product.generic(f"{fluid} concentrate")

    def spans(strength):
        here = heating(product.mix(strength), metal=0.0, cold_k=ZERO_C + 20)
        return [each / (10 * LITRE) for each in here.rise_span(ZERO_C + 100)]

    inhibited = spans("50 % product")
    assert inhibited[0] <= row <= inhibited[2]
    mixture = product.mix("50 % vol glycol")
    low, value, high = spans("50 % vol glycol")
    pure = {
        strength: published_density(fluid, strength, "melinder-2010") for strength in (40.0, 60.0)
    }
    share = 100 * mixture.frac_mass
    ends = [each(ZERO_C + 20) / each(ZERO_C + 100) - 1 for each in pure.values()]
    of_pure = np.interp(share, (40.0, 60.0), ends)
    assert low <= of_pure <= high
    if fluid == EG:  # they differ by 0.4 percentage points: both are shown, by the span
        assert of_pure - row == pytest.approx(0.004, abs=0.001)
        assert high - low > 0.004
    assert value == pytest.approx(of_pure, abs=0.001)


def test_water_grows_as_the_equation_of_state_says():
    """IAPWS-95: 2.718 % from 20 to 80 °C, 4.149 % to 100 °C under pressure (published rows)."""
    here = heating(CAN.mix("0 % product"), metal=0.0, cold_k=ZERO_C + 20)
    for row in published.ROWS:
        if row["property"] == "volume_expansion_from_20" and row["fluid"] == "water":
            grown = here.liquid_share(ZERO_C + float(row["temp_c"]))[0]
            assert 100 * grown == pytest.approx(float(row["value"]), abs=float(row["tolerance"]))


def test_ten_litres():
    """10 L, 50 %, 15 to 105 °C, 69e-6 per K: 0.49 to 0.56 L between the tables."""
    low, value, high = (each.m_as("L") for each in job_of().growth)
    assert 0.49 <= low < value < high <= 0.56
    # By hand, from Melinder's rows at 50 mass %: 6.0 % of growth less 0.062 L.
    rows = published_density(EG, 50.0, "melinder-2010")
    by_hand = 10 * (rows(ZERO_C + 15) / rows(ZERO_C + 100) - 1) - 10 * 69e-6 * 85
    assert job_of(hottest="100 °C").growth.value.m_as("L") == pytest.approx(by_hand, abs=0.02)


def test_the_metal_takes_what_it_grows():
    plain = job_of(metal="0 ppm/K").growth.value.m_as("L")
    assert plain - job_of().growth.value.m_as("L") == pytest.approx(10 * 69e-6 * 90, rel=1e-9)


#: Volume, both temperatures, and both coefficients, from the column `given`.
OVERFLOWS = {
    "overflow-1": (15, 6, 92, 410e-6, 51e-6),
    "overflow-2": (16, 10, 95, 400e-6, 51e-6),
    "overflow-3": (14, 93, 105, 410e-6, 72e-6),
    "overflow-4": (60, 15, 35, 950e-6, 35e-6),
    "overflow-5": (200, 20, 100, 180e-6, 12e-6),
    "overflow-6": (1000, 0, 100, 182e-6, 30e-6),
    "overflow-7": (50, 18, 38, 180e-6, 27e-6),
    "overflow-8": (51, 5, 25, 950e-6, 36e-6),
    "overflow-9": (430, 6, 22, 1090e-6, 27.6e-6),
    "wrong-9": (16, 10, 95, 400e-6, 51e-6),
    "wrong-10": (500, 5, 22, 1100e-6, 27e-6),
    "wrong-11": (16, 0, 40, 950e-6, 36e-6),
    "wrong-12": (100, 22, 28, 510e-6, 69e-6),
}
with (published.DATA / "worked_problems.csv").open(encoding="utf-8", newline="") as file:
    PROBLEMS = {row["id"]: row for row in csv.DictReader(file)}


@pytest.mark.parametrize("name", OVERFLOWS)
def test_overflow_problems_of_physics_textbooks(name):
    """Their constant coefficients fed to the kernel give their answers, and not the wrong one."""
    volume, cold, hot, liquid, metal = OVERFLOWS[name]
    over = expansion.level_rise_m3(volume, liquid * (hot - cold), metal, hot - cold)
    row = PROBLEMS[name]
    assert over == pytest.approx(float(row["right_answer"]), abs=6e-4)
    printed = row["published_answer"]
    if printed:
        last_digit = 10.0 ** -len(printed.partition(".")[2])
        agrees = over == pytest.approx(
            float(printed), abs=1.2 * last_digit
        )  # steps are rounded too
        assert agrees == name.startswith("overflow")


def test_every_overflow_problem_is_asked():
    assert {name for name in PROBLEMS if name.startswith("overflow")} <= set(OVERFLOWS)


def test_a_constant_coefficient_understates_hot_coolant():
    """overflow-1 with a real 50 % mix and copper: between these temperatures 5.4 %, not 3.5 %."""
    rise = cc.expansion(
        system=cc.CoolingSystem(capacity="15 US qt"), found=CAN.mix("50 % product"), temp="6 °C",
        hottest="92 °C", metal="copper",
    ).growth.value.m_as("quart")  # fmt: skip
    # melinder-2010, 50 mass %, rows interpolated: density over density, less the copper.
    rows = published_density(EG, 50.0, "melinder-2010")
    by_hand = 15 * (rows(ZERO_C + 6) / rows(ZERO_C + 92) - 1 - 51e-6 * 86)
    assert rise == pytest.approx(by_hand, abs=0.02)
    assert rise > 1.4 * float(PROBLEMS["overflow-1"]["published_answer"])


# --- the air space --------------------------------------------------------------------------------


def test_pressure_between_the_bounds_of_gas():
    """1.5 L of air, gas at 80 to 105 °C: 120 to 200 kPa gauge."""
    low, high = (
        each.m_as("kPa") for each in job_of(room="1.5 L", gas=("80 °C", "105 °C")).pressure
    )
    assert low == pytest.approx(120, abs=5) and high == pytest.approx(200, abs=5)


def closed_of(tank, mixture):
    here = heating(mixture, tank.volume, tank.metal, tank.cold)
    return Closed(here, tank.room, tank.cap, tank.gas_share)


def tank_of(room, gas_share, *, cap=100e3, coolant_at_cap=True, hot=105):
    return Tank(
        10 * LITRE, room * LITRE, ZERO_C + 15, ZERO_C + hot, 69e-6, SEA_PA, cap, gas_share,
        coolant_at_cap,
    )  # fmt: skip


def own_properties(mixture):
    """Return density and vapour of the package, so that only the algebra is compared."""
    here = heating(mixture)

    def density(temp_k):
        return 1.0 / (1.0 + float(here.liquid_share(temp_k)[0]))

    def vapor(temp_k):
        return fluids.vapor_pressure_pa(mixture.fluid, mixture.frac_mass, temp_k)

    return density, vapor


@pytest.mark.parametrize("gas_share", [0.72, 1.0])
@pytest.mark.parametrize("room", [0.6, 1.0, 1.5, 3.0])
def test_closed_form_against_steps_of_one_kelvin(room, gas_share):
    mixture = CAN.mix("50 % product")
    tank = tank_of(room, gas_share)
    highest, outs, levels, _ = run(tank, *own_properties(mixture))
    closed = closed_of(tank, mixture)
    pressure = float(closed.pressure_pa(tank.hot)[0])
    assert pressure == pytest.approx(highest - SEA_PA, rel=1e-9)
    assert closed.coolant_out_m3(tank.hot) == pytest.approx(outs[0], abs=0.01 * LITRE)
    grown = float(closed.heating.liquid_share(tank.hot)[0])
    missing = expansion.when_cold_m3(closed.coolant_out_m3(tank.hot), grown)
    assert missing == pytest.approx(-levels[0], abs=1e-9)


@pytest.mark.parametrize("room", [1.0, 1.5])
def test_pushing_out_ends_where_the_closed_form_says(room):
    """Morning by morning, with air let in as it cools: less and less goes, and it stops."""
    mixture = CAN.mix("50 % product")
    tank = tank_of(room, 0.72)
    _, outs, levels, _ = run(tank, *own_properties(mixture), mornings=80)
    assert all(later < earlier for earlier, later in itertools.pairwise(outs[:20]))
    assert outs[-1] < 1e-3 * outs[0]
    assert closed_of(tank, mixture).settles_m3(tank.hot) == pytest.approx(-levels[-1], rel=1e-3)


def test_where_air_stands_at_the_cap_no_coolant_goes():
    mixture = CAN.mix("50 % product")
    tank = tank_of(1.5, 0.72, coolant_at_cap=False)
    _, outs, levels, air_out = run(tank, *own_properties(mixture))
    density, vapor = own_properties(mixture)
    moles = (SEA_PA - vapor(tank.cold)) * tank.room / (8.314462618 * tank.cold)
    assert outs == [0.0] and levels == [pytest.approx(0.0, abs=1e-15)] and density(tank.cold) == 1
    assert closed_of(tank, mixture).air_let_out(tank.hot) == pytest.approx(
        air_out / moles, rel=1e-9
    )


def test_without_room_it_goes_out_once_and_stops():
    mixture = CAN.mix("50 % product")
    tank = tank_of(0.3, 1.0, coolant_at_cap=False)
    _, outs, levels, _ = run(tank, *own_properties(mixture), mornings=3)
    job = job_of(room="0.3 L")
    assert job.verdict == "no room"
    assert job.overflow_m3.value == pytest.approx(outs[0], abs=0.002 * LITRE)
    assert job.missing_m3.value == pytest.approx(-levels[0], rel=1e-6)
    assert outs[1:] == [pytest.approx(0.0, abs=1e-9)] * 2
    assert levels[2] == pytest.approx(levels[0], rel=1e-9)


@pytest.mark.parametrize("gas_share", [0.72, 1.0])
def test_against_published_density_and_an_ideal_vapour(gas_share):
    """Rows of melinder-2010 at 50 mass % and Raoult's law: no property of the package."""
    tank = tank_of(1.5, gas_share, hot=100)
    highest, outs, _, _ = run(
        tank, published_density(EG, 50.0, "melinder-2010"), ideal_vapor_pa(0.5)
    )
    closed = closed_of(tank, CAN.mix("50 % mass glycol"))
    pressure = float(closed.pressure_pa(tank.hot)[0])
    # 0.02 L of growth between table and model, 1.5 % of vapour.
    assert pressure == pytest.approx(highest - SEA_PA, abs=4e3)
    assert closed.coolant_out_m3(tank.hot) == pytest.approx(outs[0], abs=0.05 * LITRE)


def test_litres_lost_with_a_cap_of_100_kpa():
    """The gas law by hand, Raoult's law for the vapour: coolant at the cap, gas at 80 °C."""
    job = job_of(room="1.5 L", gas="80 °C")
    vapor = ideal_vapor_pa(0.507)
    air = (SEA_PA - vapor(288.15)) * 1.5 * 353.15 / 288.15
    room_at_cap = air / (SEA_PA + 100e3 - vapor(353.15))
    by_hand = [room_at_cap - (1.5 - each.m_as("L")) for each in (job.growth.low, job.growth.high)]
    assert [each.m_as("L") for each in job.pushed_out] == pytest.approx(by_hand, abs=0.01)


def test_room_that_is_needed_keeps_the_pressure_under_the_cap():
    job = job_of(room="1.5 L", gas=("75 °C", "80 °C"))
    for end, needed in enumerate(job.room_needed_m3):
        told = job_of(room=cc.Q(needed, "m^3"), gas=("75 °C", "80 °C"))
        assert told.pressure_pa[end] == pytest.approx(100e3, rel=1e-9)


def test_where_the_cap_is_reached_it_is():
    job = job_of(room="1.5 L", gas=("80 °C", "105 °C"))
    for temp_k, closed in zip(job.reaches_cap_k, reversed(job.closed), strict=True):
        assert float(closed.pressure_pa(temp_k)[0]) == pytest.approx(100e3, rel=1e-6)
    assert job.reaches_cap_k[0] < job.reaches_cap_k[1]


# --- kernels --------------------------------------------------------------------------------------


def test_rows_do_not_know_of_each_other():
    rng = np.random.default_rng(6)
    count = 200
    room = rng.uniform(0.2, 3.0, count) * LITRE
    cold, gas = rng.uniform(275, 300, count), rng.uniform(320, 390, count)
    rise, most = rng.uniform(0.0, 0.8, count) * LITRE, rng.uniform(120e3, 260e3, count)
    vapor = rng.uniform(20e3, 150e3, count)
    space = expansion.AirSpace(room, cold, np.full(count, SEA_PA), np.full(count, 1.5e3))
    for kernel in (
        expansion.pressure_pa,
        expansion.air_let_out,
        expansion.coolant_pushed_out_m3,
    ):
        more = () if kernel is expansion.pressure_pa else (most,)
        together = kernel(space, rise, gas, vapor, *more)
        for at in (0, 17, count - 1):
            alone = kernel(
                expansion.AirSpace(*(each[at : at + 1] for each in space)),
                *(each[at : at + 1] for each in (rise, gas, vapor, *more)),
            )
            np.testing.assert_allclose(alone, together[at : at + 1], rtol=1e-12)
        assert not np.any(np.isinf(together))


def test_double_the_system_doubles_the_litres():
    one = job_of(room="1.5 L", coldest="-20 °C")
    two = job_of(system=cc.CoolingSystem(capacity="20 L"), room="3 L", coldest="-20 °C")
    for name in ("rise", "fall", "overflow_m3", "pushed_out_m3", "room_needed_m3", "settles_m3"):
        pairs = zip(getattr(one, name), getattr(two, name), strict=True)
        for small, large in pairs:
            assert (small, large) == (None, None) or large == pytest.approx(2 * small, rel=1e-12)
    assert one.pressure_pa == pytest.approx(two.pressure_pa, rel=1e-12)


def test_monotone():
    hot = [job_of(hottest=f"{each} °C").rise.value for each in range(40, 131, 10)]
    assert np.all(np.diff(hot) > 0)
    rooms = [job_of(room=f"{each} L").pressure_pa for each in (0.8, 1.0, 2.0, 5.0)]
    assert np.all(np.diff(rooms, axis=0) < 0)


@pytest.mark.parametrize("cap", ["50 kPa", "100 kPa", "150 kPa"])
@pytest.mark.parametrize("hot", ["70 °C", "80 °C", "95 °C"])
def test_one_growth_for_all_that_is_told_of_an_air_space(hot, cap):
    """Over a sweep of rooms: what gives way has a temperature, lets something out, and reads."""
    for litres in np.arange(0.3, 6.0, 0.1):
        job = job_of(room=f"{litres:.1f} L", hottest=hot, cap=cap)
        early, late = job.reaches_cap_k
        assert (job.cap_gives_way != "no") == (early is not None)
        assert (job.cap_gives_way == "yes") == (late is not None)
        assert (job.air_let_out[1] > 0.0) == (job.cap_gives_way != "no")
        assert "None" not in str(job)


def test_what_is_measured_counts():
    """Capacity, strength and published growth add in squares, each by hand."""
    system = cc.CoolingSystem(capacity="10 L", capacity_error="1 L")
    exact, wide = job_of(), job_of(system=system)
    share = exact.rise.value / (10 * LITRE)
    for end in ("low", "high"):
        own = getattr(exact.rise, end) - exact.rise.value
        both = getattr(wide.rise, end) - wide.rise.value
        assert abs(both) == pytest.approx(np.hypot(own, share * LITRE), rel=1e-9)


def test_coldest_start():
    """The level falls as the published rows of 50 mass % shrink, less what the metal does."""
    mix = CAN.mix("50 % mass glycol")
    job = job_of(found=mix, coldest="-20 °C", temp="20 °C")
    rows = published_density(EG, 50.0, "melinder-2010")
    by_hand = 10 * (1 - rows(ZERO_C + 20) / rows(ZERO_C - 20)) - 10 * 69e-6 * 40
    assert job.lowest_level.value.m_as("L") == pytest.approx(by_hand, abs=0.02)
    low, value, high = (each.m_as("L") for each in job.lowest_level)
    # Tables lie further below the model's growth than above it, and what grows less shrinks less.
    assert value - low > high - value > 0


def test_thin_air_pushes_less_but_the_cap_stands_on_it():
    """Air and cap both stand on the outside air: at 3,000 m the cap is reached by vapour sooner."""
    low, high = job_of(room="1.5 L"), job_of(room="1.5 L", altitude="3000 m")
    assert high.heating.outside_pa == pytest.approx(atmosphere.air_pressure_pa(3000.0))
    assert high.pressure_pa[0] < low.pressure_pa[0]
