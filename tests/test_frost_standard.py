"""The frost standard: the stack of margins, limits of a reading, floor and ceiling, refusals."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

import coolcalc as cc
from coolcalc import fluids
from coolcalc.errors import InputError
from coolcalc.jobs.frost_plan import PARTS, SQUARED, SWITCHES

from .published import DATA

CAN = cc.Product.generic("ethylene glycol concentrate")
PG_CAN = cc.Product.generic("propylene glycol concentrate")
GIVEN = {"depot": "Upper yard", "low": "-27 °C", "low_error": "3 K", "pour": [CAN, cc.WATER]}
#: One-sided 95 %, in half-widths at 95 %: from a table of the normal distribution.
ONE_SIDED = 1.64485 / 1.95996


def standard(**more):
    return cc.frost_standard(**{**GIVEN, **more})


def part_of(job, name):
    return job.margins[PARTS.index(name)]


def celsius(kelvin):
    return kelvin - 273.15


# --- the stack ------------------------------------------------------------------------------------


def test_the_stack_by_hand():
    """−27 °C ± 3 K, 3 K kept free; refractometer ± 2 °F; mixing ± 2 % of product."""
    job = standard(instrument=cc.Refractometer(made_for="ethylene glycol", error="2 °F"))
    low = ONE_SIDED * 3.0
    tool = ONE_SIDED * 2.0 / 1.8
    low_k, high_k, _ = fluids.band("freeze_temp_k", "ethylene glycol", job.standard.weakest)
    curve = ONE_SIDED * (high_k - low_k) / 2
    assert job.margins[PARTS.index("curve")].alone_k == pytest.approx(curve, rel=0.02)
    together = math.sqrt(low**2 + tool**2 + curve**2)
    assert celsius(job.standard.hold_k) == pytest.approx(-30.0)
    assert celsius(job.standard.limit_k) == pytest.approx(-30.0 - together, abs=0.02)
    shares = {part.name: part.takes_k for part in job.margins}
    assert shares["low"] == pytest.approx(low**2 / together, abs=0.01)
    assert shares["instrument"] == pytest.approx(tool**2 / together, abs=0.01)
    # Published freezing points of mixes by volume (source key sae-j814: 40 % −24, 50 % −37 °C)
    # fall by 1.3 K a per cent on the mean; ± 2 % of product takes 1.68 % one-sided.
    assert shares["mixing"] == pytest.approx(ONE_SIDED * 2.0 * 1.3, abs=0.4)
    assert job.decides == "frost"
    # By the same table −37 °C is 50 %: a little over 34 °C of frost is 48 to 49 %.
    assert 100 * job.strength.share in (48, 49)


@pytest.mark.parametrize(
    "more",
    [
        {},
        {"margin": "0 K", "low_error": None},
        {"colder_than_station": "4 K", "colder_error": "2 K", "lost_between_tests": "6 %"},
        {"night_stops": {"pass house": "-34 °C"}},
        {"low": "-45 °C"},
        {"low": "-3 °C", "pour": [PG_CAN, cc.WATER]},
        {"without": ["low", "mixing"]},
        {"instrument": cc.Hydrometer(reference_temp="20 °C")},
    ],
)
def test_what_the_parts_take_adds_up(more):
    job = standard(**more)
    taken = sum(part.takes_k for part in job.margins)
    assert job.winter_low.low_k - taken == pytest.approx(job.standard.fill_need_k, abs=1e-9)
    assert [part.name for part in job.margins] == list(PARTS)


@pytest.mark.parametrize("name", SWITCHES)
def test_each_part_can_be_switched_off_and_is_counted_once(name):
    more = {
        "colder_than_station": "2 K",
        "colder_error": "1 K",
        "night_stops": {"pass house": "-33 °C"} if name == "night stop" else None,
        "lost_between_tests": "4 %",
    }
    if name == "hourly":
        more |= {"low": None, "low_error": None, "mean_extreme": "-20 °C", "sd_extreme": "3 K"}
    full, less = standard(**more), standard(**more, without=[name])
    part = less.margins[PARTS.index(name)]
    assert (part.takes_k, part.counted) == (0.0, False)
    assert part.alone_k > 0.0
    gained = less.standard.fill_need_k - full.standard.fill_need_k
    whole = full.margins[PARTS.index(name)]
    if name == "site":  # its doubt goes with it
        assert gained > whole.takes_k
    elif name in SQUARED:
        # Once: never more than it takes alone, never less than its share of the sum.
        assert whole.takes_k / 2 < gained < whole.alone_k
    elif name == "night stop":  # the doubt about the site comes back
        assert 0.0 < gained < whole.takes_k + 0.5
    else:
        assert gained == pytest.approx(whole.takes_k, rel=0.15)
    assert any("not a standard to use" in note for note in less.notes)


def test_with_everything_off_the_low_itself_is_left():
    job = standard(without=[*SWITCHES])
    assert job.standard.fill_need_k == pytest.approx(job.winter_low.low_k)
    assert standard(without=["confidence", "margin"]).standard.fill_need_k == pytest.approx(
        job.winter_low.low_k
    )


def test_chances_count_every_doubt_also_one_that_is_switched_off():
    bare = standard(low_error="12 K", without=["confidence", "margin"], floor="1 % product")
    # Filled to just the low's middle value: even chances, but for rounding up to a whole per cent
    # of some 1.3 K, in a standard deviation of 6 K.
    assert 0.5 < bare.chance_to_hold < 0.6
    assert standard().chance_to_hold > 0.95


@given(
    low=st.floats(-60.0, 3.0),
    error=st.floats(0.0, 8.0),
    margin=st.floats(0.0, 10.0),
    mixing=st.floats(0.0, 0.08),
    chance=st.floats(0.6, 0.98),
    fluid=st.sampled_from([CAN, PG_CAN]),
)
@settings(max_examples=60, deadline=None)
def test_more_of_anything_never_asks_for_less(low, error, margin, mixing, chance, fluid):
    def fill(**more):
        asked = {
            "low": cc.Q(low, "degC"),
            "low_error": cc.Q(error, "kelvin"),
            "margin": cc.Q(margin, "kelvin"),
            "mixing_error": mixing,
            "confidence": chance,
            "pour": [fluid, cc.WATER],
        }
        return standard(**{**asked, **more}).standard

    own = fill()
    for more in (
        {"low": cc.Q(low - 1.0, "degC")},
        {"low_error": cc.Q(error + 1.0, "kelvin")},
        {"margin": cc.Q(margin + 1.0, "kelvin")},
        {"confidence": min(chance + 0.05, 0.98)},
    ):
        assert fill(**more).fill_need_k <= own.fill_need_k + 1e-6
    assert own.fill <= fluids.FRAC_MASS_SETTLED_MAX
    assert own.weakest <= own.strongest or not own.limits_hold
    assert 0.0 <= own.chance_holds <= 1.0
    assert 0.0 <= own.chance_within <= 1.0


# --- floor, ceiling, neither ----------------------------------------------------------------------


def test_the_floor_decides_on_a_mild_coast():
    job = standard(low="-6 °C")
    assert job.decides == "floor"
    share = job.mixture_of(job.standard.weakest).strength().share
    # The floor of 40 %, and what the reading is worth: 2 °F are 0.9 % of product, one-sided 0.75.
    assert 0.405 < share < 0.415
    assert 0.42 <= job.strength.share <= 0.44
    assert job.short.m == 0.0


def test_the_ceiling_decides_in_a_high_basin_and_says_what_is_short():
    job = standard(low="-48 °C", low_error="4 K")
    assert job.decides == "ceiling"
    # 60 % less what mixing is uncertain by, one-sided: 58 %.
    assert job.strength.share == pytest.approx(0.58, abs=1e-6)
    needed = -48.0 - 3.0 - math.hypot(4.0 * ONE_SIDED, 2.0 / 1.8 * ONE_SIDED, 0.5) - 2.5
    freezes = celsius(job.fill.freeze_temp.m_as("kelvin"))
    assert job.short.m == pytest.approx(freezes - needed, abs=0.4)
    assert any("Short by" in note for note in job.notes)
    assert not any("safe" in note for note in job.notes)
    assert job.chance_to_hold < 0.3


def test_a_short_standard_tells_which_low_it_does_meet():
    asked = {"depot": "Basin", "mean_extreme": "-38 °C", "sd_extreme": "4 K"}
    job = cc.frost_standard(**asked, pour=[CAN, cc.WATER])
    assert job.decides == "ceiling"
    met = cc.frost_standard(**asked, pour=[CAN, cc.WATER], return_period=job.holds_years)
    assert met.short.m == pytest.approx(0.0, abs=0.1)
    assert standard().holds_years is None


@pytest.mark.parametrize("low", ["-60 °C", "-75 °C", "-88 °C"])
def test_beyond_any_mix_it_is_short_and_never_stronger(low):
    job = standard(low=low)
    assert job.decides == "ceiling"
    assert job.short.m > 10.0
    assert job.strength.share <= 0.58 + 1e-6
    assert not job.standard.limits_hold


def test_floor_and_ceiling_leave_room_for_mixing_or_are_refused():
    with pytest.raises(InputError, match="no room for what mixing"):
        standard(low="-10 °C", floor="50 % product", ceiling="51 % product")
    for low in ("-5 °C", "-30 °C", "-45 °C"):
        job = standard(low=low, floor="45 % product", ceiling="52 % product")
        assert 0.45 <= job.strength.share <= 0.52


def test_what_is_listed_to_pour_is_a_ceiling_too():
    ready = cc.Product.generic("ethylene glycol ready-mixed 50 %")
    short = standard(low="-35 °C", pour=[ready])
    assert short.decides == "product"
    assert short.strength.share == pytest.approx(0.5, abs=1e-3)
    assert any("nothing mixed of what is listed" in note for note in short.notes)
    # Ready-mixed alone is filled as it is, also where less would do.
    assert standard(low="-20 °C", pour=[ready]).strength.share == pytest.approx(0.5, abs=1e-3)
    assert standard(low="-20 °C", pour=[ready, cc.WATER]).strength.share < 0.48
    with pytest.raises(InputError, match="as strong as the floor"):
        standard(low="-10 °C", pour=[ready], floor="55 % product")


def test_a_better_instrument_is_offered_only_where_it_would_do():
    coarse = cc.Hydrometer(reference_temp="20 °C", error="0.01")
    assert any("read more" in note for note in standard(low="-38 °C", instrument=coarse).notes)
    assert not any("read more" in note for note in standard(low="-46 °C", instrument=coarse).notes)


def test_what_a_fill_meets_is_not_told_from_another_place():
    asked = {"low": None, "low_error": None, "mean_extreme": "-20 °C", "sd_extreme": "4 K"}
    job = standard(**asked, night_stops={"pass house": "-48 °C"})
    assert job.short.m > 0.0
    assert job.holds_years is None


def test_ready_mixed_alone_is_never_asked_to_be_weaker_than_it_is():
    ready = cc.Product.generic("ethylene glycol ready-mixed 50 %")
    job = standard(low="-20 °C", pour=[ready], ceiling="51 % product")
    assert job.strength.share == pytest.approx(0.5, abs=1e-3)


@pytest.mark.parametrize("low", ["-10 °C", "-42 °C", "-70 °C"])
def test_limits_that_keep_to_the_fill_stay_between_floor_and_ceiling(low):
    coarse = cc.Refractometer(made_for="ethylene glycol", scale="volume %", error="5 %")
    job = standard(low=low, floor="52 % product", mixing_error="1 %", instrument=coarse)
    assert job.standard.weakest >= job.needs.floor.counted - 1e-9
    assert job.standard.strongest <= job.needs.ceiling.counted + 1e-9


def test_limits_that_meet_as_printed_are_printed_finer_or_named():
    exact = cc.Refractometer(made_for="ethylene glycol", error="0 K")
    job = standard(
        low="-33 °C", low_error="0 K", instrument=exact, mixing_error="0 %", ceiling="51 % product"
    )
    weak, strong = (
        float(text.split()[0].replace("−", "-")) for text in (job.correct_below, job.correct_above)
    )
    assert (weak > strong) == job.limits_apart
    # A scale in whole per cents, on which both limits round to one.
    narrow = standard(
        low="-31.4 °C",
        low_error="0 K",
        mixing_error="0.3 %",
        ceiling="55 % product",
        pour=[PG_CAN, cc.WATER],
        instrument=cc.Refractometer(made_for="propylene glycol", scale="volume %", error="0.5 %"),
    )
    assert not narrow.limits_apart
    assert any("leave no reading" in note for note in narrow.alerts)


def test_a_hair_short_is_met():
    """Less than is printed is nothing: never "short by 0.0 K"."""
    for at in range(60):
        job = standard(low=f"{-41.5 - at / 60:.3f} °C", low_error="0 K")
        assert job.short.m == 0.0 or job.short.m >= 0.05


def test_a_ceiling_above_sixty_mass_per_cent_is_told_and_not_used():
    job = standard(low="-50 °C", ceiling="70 % product")
    assert job.standard.fill <= fluids.FRAC_MASS_SETTLED_MAX
    assert any("above 60 mass %" in text for text in job.assumptions)


def test_a_coarse_instrument_leaves_no_room_and_is_named():
    job = standard(
        low="-5 °C",
        floor="48 % product",
        ceiling="56 % product",
        instrument=cc.Hydrometer(reference_temp="20 °C", error="0.02"),
    )
    assert not job.standard.limits_hold
    assert any("less give or take" in note for note in job.notes)
    # The limits then keep to the fill: it lies between them.
    assert job.standard.weakest < job.standard.fill < job.standard.strongest


# --- limits as printed ----------------------------------------------------------------------------

TOOLS = {
    "freeze point": cc.Refractometer(made_for="ethylene glycol"),
    "volume %": cc.Refractometer(made_for="ethylene glycol", scale="volume %"),
    "Brix": cc.Refractometer(scale="Brix"),
    "refractive index": cc.Refractometer(scale="refractive index"),
    "specific gravity": cc.Hydrometer(reference_temp="20 °C"),
    "float by freezing point": cc.Hydrometer(made_for="ethylene glycol", scale="freeze point"),
}


@pytest.mark.parametrize("name", TOOLS)
@pytest.mark.parametrize("system", ["metric", "US", "imperial"])
def test_printed_limits_are_rounded_to_the_safe_side(name, system):
    tool = TOOLS[name]
    job = standard(low="-15 °C", instrument=tool, show_in=system)
    told = {} if tool.spec.label else {"inside": "ethylene glycol"}
    if tool.kind == "hydrometer":
        told["sample_temp"] = cc.Q(tool.reference_temp_k, "kelvin")
    weak, strong = (
        tool.read(text, **told).mixture(CAN).frac_mass
        for text in (job.correct_below, job.correct_above)
    )
    assert weak >= job.standard.weakest - 1e-6
    assert strong <= job.standard.strongest + 1e-6
    # By no more than a step of the scale.
    assert weak < job.standard.weakest + 0.02
    assert strong > job.standard.strongest - 0.02


def test_a_coarser_instrument_makes_narrower_limits():
    fine, coarse = (
        standard(instrument=cc.Refractometer(made_for="ethylene glycol", error=error))
        for error in ("0.5 K", "3 K")
    )
    assert coarse.standard.weakest > fine.standard.weakest
    assert coarse.standard.strongest < fine.standard.strongest


def test_water_lost_between_tests_is_made_up_beforehand():
    """A tenth replaced by water leaves nine tenths of the product: 50 % before is 45 % after."""
    job, lost = (
        standard(low="-25 °C", floor="1 % product", lost_between_tests=share)
        for share in ("0 %", "10 %")
    )
    before, after = (
        each.mixture_of(each.standard.weakest).strength().share for each in (lost, job)
    )
    assert 0.9 * before == pytest.approx(after, abs=0.006)


# --- the low --------------------------------------------------------------------------------------


def test_mean_and_deviation_give_the_published_low():
    """Chicago O'Hare, ASHRAE 2009: mean −23.7, deviation 4.5; 20 years: −32.2 °C."""
    job = cc.frost_standard(
        depot="Upper yard", mean_extreme="-23.7 °C", sd_extreme="4.5 K", pour=[CAN, cc.WATER]
    )
    assert celsius(job.winter_low.low_k) == pytest.approx(-32.2, abs=0.2)
    assert celsius(job.winter_low.low_at_k(50.0)) == pytest.approx(-35.5, abs=0.2)
    assert job.winter_low.years_of(273.15 - 29.6) == pytest.approx(10.0, rel=0.05)
    assert any("how sure the low is" in note for note in job.notes)


def depot(station, **more):
    return cc.frost_standard(
        depot=station,
        minima=DATA / "demo_winters.csv",
        column=station,
        pour=[CAN, cc.WATER],
        **more,
    )


@pytest.mark.parametrize(
    ("station", "decides"),
    [("Selquay Mole", "floor"), ("Tamberlode Field", "frost"), ("Vorrahult", "ceiling")],
)
def test_three_invented_depots(station, decides):
    job = depot(station)
    assert job.decides == decides
    fitted = job.winter_low.fitted
    # The published formula and the fit are two ways to estimate one law from the same winters.
    assert job.winter_low.low_k == pytest.approx(job.winter_low.formula_k, abs=0.6)
    # By SciPy's maximum likelihood, a third way.
    located, scaled = stats.gumbel_l.fit(fitted.lowest_k)
    by_likelihood = stats.gumbel_l.ppf(1 / 20, located, scaled)
    # Two estimators of one law: apart by less than a standard error of either.
    sure = (job.winter_low.low_k - job.doubt.low) / 1.645
    assert job.winter_low.low_k == pytest.approx(by_likelihood, abs=sure)
    assert fitted.lowest_k.size == 30
    assert job.doubt.low < job.winter_low.low_k < job.doubt.high


def test_planted_faults_of_a_record_are_named():
    gap = depot("Nethimple Rise", colder_than_station="3 K", site="hollow or valley floor")
    assert gap.winter_low.fitted.lowest_k.size == 29
    assert any("2008/09" in note for note in gap.notes)
    assert any("99.9" in note for note in depot("Selquay Mole").notes)
    assert any("is a minus missing" in note for note in depot("Tamberlode Field").notes)
    short = depot("Grelstane Hut")
    assert any("12 winters are few" in note for note in short.notes)
    # Few winters: the doubt about the low is far larger than with thirty.
    assert short.margins[PARTS.index("low")].alone_k > 2 * 3.9


def test_the_other_family_is_told_beside():
    gumbel, gev = depot("Vorrahult"), depot("Vorrahult", fit="GEV")
    assert gumbel.winter_low.other_k == pytest.approx(gev.winter_low.low_k)
    assert gev.winter_low.other_k == pytest.approx(gumbel.winter_low.low_k)
    with pytest.raises(InputError, match="too few"):
        depot("Grelstane Hut", fit="GEV")


def test_too_few_winters_are_refused_plainly():
    rows = [
        {"date": str(day), "Fernside [°C]": -10.0 - at % 7}
        for at, day in enumerate(np.arange("2018-07-01", "2024-07-01", dtype="datetime64[D]"))
    ]
    with pytest.raises(InputError, match="6 winters that can be counted"):
        cc.frost_standard(depot="Fernside", minima=rows, pour=[CAN, cc.WATER])
