"""Water to mix with: verdicts against the published limits, blends, words, refusals."""

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import coolcalc as cc
from coolcalc.balance.dilution import share_within
from coolcalc.errors import FormError, InputError, UnclearInputError
from coolcalc.jobs.water_limits import LIMITS
from coolcalc.sources import SOURCES

# ASTM D4985 and D6210 (appendix X1), as quoted in makers' handbooks and US Army technical
# manuals: chloride 40, sulphate 100, hardness 170 (as CaCO3), total solids 340 mg/L; pH 5.5 to 9.
PUBLISHED = {"hardness": 170.0, "chloride": 40.0, "sulphate": 100.0, "solids": 340.0}
GOOD = {"hardness": "100 mg/L", "chloride": 20, "sulphate": 50, "solids": 200, "ph": 7.5}


def test_the_limits_are_the_published_ones_and_each_names_its_sources():
    assert {name: limit.high for name, limit in LIMITS.items() if name != "ph"} == PUBLISHED
    assert (LIMITS["ph"].low, LIMITS["ph"].high) == (5.5, 9.0)
    for limit in LIMITS.values():
        assert limit.sources
        assert all(SOURCES[key].kind == "published" for key in limit.sources)
    assert {key for limit in LIMITS.values() for key in limit.sources} == {
        source.key for source in cc.check_water(**GOOD).sources
    }


@pytest.mark.parametrize("name", PUBLISHED)
def test_at_a_limit_is_within_and_a_hair_beyond_is_over(name):
    limit = PUBLISHED[name]
    unit = " mg/L" if name == "hardness" else ""
    for value, within in ((0.999 * limit, True), (limit, True), (1.0001 * limit, False)):
        job = cc.check_water(**{name: f"{value:.8g}{unit}"})
        assert job.within is within
        assert job.over == (() if within else (name,))
    assert "exactly at the limit, which counts as within" in str(
        cc.check_water(**{name: f"{limit}{unit}"}).rows
    )
    # And what is over is not printed as the limit itself.
    over = cc.check_water(**{name: f"{1.0001 * limit:.8g}{unit}"})
    assert f" {limit:g} mg/L is over" not in over.notes[0]


@pytest.mark.parametrize(
    ("ph", "verdict"),
    [
        (5.4, "below the limit"),
        (5.5, "exactly at the limit, which counts as within"),
        ("7", "within"),
        (9, "exactly at the limit, which counts as within"),
        (9.1, "over the limit"),
    ],
)
def test_ph(ph, verdict):
    assert cc.check_water(ph=ph).verdicts == {"ph": verdict}


@pytest.mark.parametrize(
    ("hardness", "over"),
    [
        # 170 / 17.848 = 9.525 °dH; 170 / 17.118 = 9.931 grains in a US gallon.
        ("9.52 °dH", False),
        ("9.53 °dH", True),
        ("9.93 gpg", False),
        ("9.94 gr/US gal", True),
        ("170 ppm", False),
        ("171 ppm as CaCO3", True),
        (cc.Q(0.171, "g/L"), True),
        (cc.Q(9.94, "grain/gallon"), True),
    ],
)
def test_units_of_hardness(hardness, over):
    assert bool(cc.check_water(hardness=hardness).over) is over


def test_ppm_is_mg_per_litre_and_it_is_said():
    assert cc.check_water(chloride="41 ppm").told == cc.check_water(chloride="41 mg/L").told
    assert "In water, mg/L and ppm are the same." in cc.check_water(chloride=41).assumptions


# --- what was not told ----------------------------------------------------------------------------


def test_what_was_not_told_is_named_and_never_passed():
    job = cc.check_water(chloride=10)
    assert job.not_checked == ("hardness", "sulphate", "solids", "ph")
    assert (
        "Not checked, since not told, and so not passed: hardness, sulphate, total solids, "
        "pH and whether a softener with salt is used." in job.notes
    )
    assert dict(job.rows)["Sulphate"] == "not checked (at most 100 mg/L)"
    assert any(
        "total solids, pH and whether" in step and "until then" in step for step in job.steps
    )
    assert job.columns()["sulphate, verdict"] == "not checked"
    assert job.columns()["sulphate [mg/L]"] is None


def test_all_within_is_not_called_good():
    job = cc.check_water(**GOOD)
    assert job.within and not job.not_checked
    assert "is within these limits. The maker's handbook decides" in job.notes[0]
    assert not re.search(r"\b(good|fine|safe|suitable|ok)\b", str(job), re.IGNORECASE)


def test_a_softener_that_was_not_told_of_is_not_checked():
    told = cc.check_water(**GOOD)
    assert not told.not_checked and "softener with salt" in " ".join((*told.notes, *told.steps))
    assert "softener" in str(told.odds)
    no = cc.check_water(softened=False, **GOOD)
    assert "softener" not in " ".join((*no.notes, *no.steps)) + str(no.odds)


# --- softened -------------------------------------------------------------------------------------


def test_softened_water_is_never_right():
    for figures in ({}, {"hardness": "1 °dH"}, GOOD):
        job = cc.check_water(softened=True, **figures)
        assert not job.within
        assert job.share_within is None
        assert job.notes[0].startswith("Not to be mixed with coolant: water softened with salt")
        assert job.steps[0].startswith("Do not mix coolant with this water. Use distilled or")
        assert "Or mix it with distilled" not in str(job)
    assert "would be within" not in str(cc.check_water(softened=True, mixed_with="50 %", **GOOD))


# --- blends ---------------------------------------------------------------------------------------


def test_blend_by_hand():
    """60 mg/L of chloride: two thirds of it with one third of distilled is 40."""
    job = cc.check_water(chloride=60, hardness="200 mg/L", ph=8, mixed_with="40 %")
    assert job.blend == pytest.approx({"hardness": 120.0, "chloride": 36.0})
    assert job.blend_over == ()
    assert job.share_within == 0.66
    assert "With 40 % distilled water, hardness and chloride would be within." in job.notes
    assert "pH is not carried by mixing" in str(job.notes)
    assert "at most 66 % of this water" in job.steps[1] and "test the blend" in job.steps[1]
    assert "40 / 60 mg/L = 66.67 %, rounded down to 66 %" in str(job.working)
    short = cc.check_water(chloride=60, mixed_with="10 %")
    assert short.blend_over == ("chloride",)
    assert "With 10 % distilled water still not: chloride 54 mg/L is over" in short.notes[2]


def test_no_blend_mends_a_ph():
    job = cc.check_water(chloride=60, ph=9.5)
    assert job.share_within is None
    assert any(note.startswith("pH is not carried by mixing") for note in job.notes)


figures = st.lists(st.tuples(st.floats(0.0, 1e4), st.floats(1.0, 500.0)), min_size=1, max_size=5)


@given(figures)
def test_the_largest_share_is_within_and_no_larger_one_is(pairs):
    found, limits = np.array(pairs).T
    share = share_within(found, limits)
    assert 0.0 < share <= 1.0
    assert np.all(found * share <= limits * (1 + 1e-12))
    if share < 1.0:
        assert np.any(found * (share + 1e-6) > limits)


@given(
    st.fixed_dictionaries(
        {}, optional={name: st.floats(0.0, 5.0 * high) for name, high in PUBLISHED.items()}
    ).filter(bool)
)
def test_the_printed_share_carried_out_is_within(told):
    """The printed per cent, entered again as a blend."""
    given_as = {name: f"{value:.10f} mg/L" for name, value in told.items()}
    job = cc.check_water(**given_as)
    again = cc.check_water(**given_as, mixed_with=1.0 - job.share_within)
    assert again.blend_over == ()
    assert job.within is (job.share_within == 1.0)


# --- looser limits --------------------------------------------------------------------------------


def test_looser_limits_are_shown_beside_and_have_no_source():
    rows = dict(cc.check_water(chloride=60, hardness="400 mg/L").rows)
    assert rows["Chloride"].endswith("looser limit 100 mg/L, common practice, no source: within")
    assert rows["Hardness"].endswith("looser limit 300 mg/L, common practice, no source: over")
    assert cc.check_water(chloride=60).over == ("chloride",)


# --- refusals -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("given_as", "says"),
    [
        ({}, "water: no figure was entered; enter at least one of hardness, chloride, sulphate"),
        ({"hardness": "12"}, "hardness: 12 has no unit; write e.g. '12 mg/L' or '12 °dH'"),
        ({"hardness": "12 °fH"}, 'hardness: "°fH" is not a unit of hardness known here'),
        ({"hardness": "-1 °dH"}, "−1 °dH is below 0 °dH, the limit here. A hardness is never"),
        ({"chloride": "-1"}, "chloride: −1 mg/L is below 0 mg/L"),
        ({"chloride": float("nan")}, "chloride: the value is not a finite number"),
        ({"solids": "some"}, 'solids: "some" does not begin with a plain number'),
        ({"ph": 15}, "ph: 15 is above 14, the limit here. pH runs from 0 to 14."),
        ({"ph": "7 mg/L"}, 'ph: "mg/L" is not a unit of pH'),
        ({"softened": "yes"}, "softened: 'yes' is neither True nor False"),
        ({"ph": 7, "mixed_with": "150 %"}, "mixed_with: 150 % is above 100 %"),
        ({"ph": 7, "show_in": "cgs"}, 'show_in: "cgs" is not one of the choices'),
    ],
)
def test_refusals(given_as, says):
    with pytest.raises(InputError, match=re.escape(says)):
        cc.check_water(**given_as)


def test_grains_in_which_gallon_is_asked():
    with pytest.raises(UnclearInputError, match="could mean 10 gr/US gal or 10 gr/imp gal"):
        cc.check_water(hardness="10 grains per gallon")


def test_all_refusals_at_once():
    with pytest.raises(FormError) as refused:
        cc.check_water(chloride="-1", ph=20, softened=1)
    assert [error.field for error in refused.value.errors] == ["chloride", "ph", "softened"]


# --- the answer -----------------------------------------------------------------------------------

ANSWERS = {
    "within": lambda: cc.check_water(**GOOD),
    "over": lambda: cc.check_water(hardness="20 °dH", chloride=90, mixed_with="30 %"),
    "softened": lambda: cc.check_water(softened=True),
    "ph": lambda: cc.check_water(ph=4, sulphate=200),
    "US": lambda: cc.check_water(hardness="12 gpg", solids=500, show_in="US"),
}
EVERY = pytest.mark.parametrize("make", ANSWERS.values(), ids=ANSWERS.keys())


@EVERY
def test_every_answer_has_its_parts(make, tmp_path):
    job = make()
    for text in (str(job), job._repr_html_(), str(job.working), str(job.odds)):
        assert not re.search(r"\bnan\b|\binf\b|None\b|<Quantity|\{|\}", text), text
    assert {caution.code for caution in job.cautions} == {"hot", "cold_into_hot", "authority"}
    assert all(caution.text in str(job) for caution in job.cautions)
    assert "No chance is worked out" in str(job.odds)
    assert job.steps and job.rows and job.assumptions
    assert "distilled or deionised water, or ready-mixed coolant" in " ".join(job.steps)
    (row,) = job.to_frame().to_dict("records")
    assert row.keys() == job.columns().keys()
    for suffix in ("pdf", "html"):
        assert job.save_card(tmp_path / f"card.{suffix}").stat().st_size > 1000


def test_another_unit_system_changes_the_degrees_only():
    job = cc.check_water(hardness="14 °dH")
    assert "249.9 mg/L as CaCO3 (14.0 °dH)" in str(job)
    assert "249.9 mg/L as CaCO3 (14.6 gr/US gal)" in str(job.shown_in("US"))
    assert job.shown_in("US").verdicts == job.verdicts
