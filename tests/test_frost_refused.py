"""What a frost standard cannot use: every field by its name, all at once, and junk."""

import inspect

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import coolcalc as cc
from coolcalc.errors import CoolcalcError, FormError, InputError

CAN = cc.Product.generic("ethylene glycol concentrate")


def standard(**more):
    asked = {"depot": "Upper yard", "low": "-27 °C", "low_error": "3 K", "pour": [CAN, cc.WATER]}
    return cc.frost_standard(**{**asked, **more})


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"depot": ""}, "depot"),
        ({"depot": "two\nlines"}, "depot"),
        ({"pour": [cc.WATER]}, "pour"),
        ({"pour": []}, "pour"),
        ({"low": None}, "low"),
        ({"mean_extreme": "-20 °C"}, "mean_extreme"),
        ({"low": "27 °C"}, "low"),
        ({"low": "-27"}, "low"),
        ({"low": "-95 °C"}, "low"),
        ({"low_error": "-1 K"}, "low_error"),
        ({"return_period": "1 winter"}, "return_period"),
        ({"return_period": "600"}, "return_period"),
        ({"site": "on a hill"}, "site"),
        ({"station_height": "9000 m"}, "station_height"),
        ({"colder_than_station": "40 K"}, "colder_than_station"),
        ({"night_stops": "-31 °C"}, "night_stops"),
        ({"night_stops": {"pass": "31 °C"}}, "night_stops"),
        ({"margin": "-1 K"}, "margin"),
        ({"margin": "30 K"}, "margin"),
        ({"mixing_error": "20 %"}, "mixing_error"),
        ({"confidence": "99.9 %"}, "confidence"),
        ({"confidence": "50 %"}, "confidence"),
        ({"without": "wind"}, "without"),
        ({"floor": "40 %"}, "floor"),
        ({"floor": "60 % product", "ceiling": "50 % product"}, "floor"),
        ({"ceiling": "95 % product"}, "ceiling"),
        ({"instrument": "refractometer"}, "instrument"),
        ({"instrument": cc.Refractometer(made_for="propylene glycol")}, "instrument"),
        (
            {"instrument": cc.TestStrip(made_for="ethylene glycol", steps=["33 %", "50 %"])},
            "instrument",
        ),
        ({"lost_between_tests": "50 %"}, "lost_between_tests"),
        ({"test_every": "x" * 200}, "test_every"),
        ({"test_every": " "}, "test_every"),
        ({"night_stops": {"": "-31 °C"}}, "night_stops"),
        ({"colder_error": "1 K"}, "colder_error"),
        ({"fit": "GEV"}, "fit"),
        ({"column": "Fernside"}, "column"),
        ({"extremes_of": "20"}, "extremes_of"),
        ({"low": None, "mean_extreme": "-20 °C", "sd_extreme": "4 K"}, "low_error"),
        (
            {"low": None, "low_error": None, "mean_extreme": "-20 °C", "sd_extreme": "0 K"},
            "sd_extreme",
        ),
        ({"today": "130 % product"}, "today"),
        ({"hottest": "300 °C"}, "hottest"),
        ({"show_in": "SI"}, "show_in"),
    ],
)
def test_a_bad_input_is_refused_by_its_name(more, field):
    with pytest.raises(InputError) as refused:
        standard(**more)
    assert refused.value.field == field
    assert str(refused.value).endswith(".")


def test_all_bad_inputs_are_told_at_once():
    with pytest.raises(FormError) as refused:
        standard(low="27 °C", margin="-1 K", floor="40 %", site="moon", confidence="2")
    fields = [error.field for error in refused.value.errors]
    assert fields == ["low", "site", "confidence", "margin", "floor"]


JUNK = st.one_of(
    st.none(),
    st.text(max_size=8),
    st.floats(allow_nan=True),
    st.integers(-5, 5),
    st.lists(st.integers(), max_size=2),
    st.sampled_from(["-30 °C", "20 %", "3 K", "50 % product", b"date,x [degC]\n2004-01-01,-3"]),
)


FIELDS = tuple(inspect.signature(cc.frost_standard).parameters)


@given(
    field=st.sampled_from(FIELDS),
    junk=JUNK,
)
@settings(max_examples=300, deadline=None)
def test_junk_gives_an_answer_or_the_project_s_own_error(field, junk):
    try:
        job = standard(**{field: junk})
    except CoolcalcError:
        return
    assert str(job)
    assert job.working_lines
    assert job.odds_lines
