"""How a depot lies to its station, and the night stops of its vehicles."""

import pytest

from coolcalc.errors import InputError
from coolcalc.jobs.frost_plan import PARTS

from .test_frost_standard import ONE_SIDED, celsius, part_of, standard


def test_a_higher_depot_is_counted_colder_by_the_standard_atmosphere():
    job = standard(site="open", station_height="300 m", depot_height="700 m")
    # 6.5 K a kilometre: source key iso-2533.
    assert part_of(job, "site").takes_k == pytest.approx(2.6)
    assert any("comparison of nights" in note for note in job.notes)


def test_a_lower_depot_is_never_counted_warmer():
    job = standard(site="open", station_height="700 m", depot_height="300 m")
    assert part_of(job, "site").takes_k == 0.0
    assert any("low ground is often the colder one" in note for note in job.notes)


def test_a_hollow_is_asked_about_and_never_worked_out_from_heights():
    with pytest.raises(InputError, match="thermometer") as refused:
        standard(site="hollow or valley floor", station_height="700 m", depot_height="300 m")
    assert refused.value.field == "colder_than_station"
    job = standard(site="hollow or valley floor", colder_than_station="6 K", colder_error="2 K")
    assert part_of(job, "site").takes_k == pytest.approx(6.0)
    assert job.margins[PARTS.index("site doubt")].alone_k == pytest.approx(2.0 * ONE_SIDED)


def test_a_night_stop_counts_only_where_it_is_colder():
    own = standard()
    mild = standard(night_stops={"quay": "-10 °C"})
    assert mild.standard == own.standard
    cold = standard(night_stops={"quay": "-10 °C", "pass house": "-38 °C"})
    assert cold.standard.where == "pass house"
    assert celsius(cold.standard.air_k) == pytest.approx(-38.0)
    # How sure its low is was not told: as sure as the depot's own, and that is said.
    assert part_of(cold, "low").alone_k == part_of(own, "low").alone_k
    assert any("as sure as that of the depot" in note for note in cold.notes)
    sure = standard(depot="Pass house", low="-27.5 °C", low_error="0.1 K", return_period="20")
    job = standard(return_period="20", night_stops={"pass house": sure})
    assert any("asks for less" in note for note in job.notes)


def test_a_night_stop_is_taken_at_the_same_return_period():
    asked = {"low": None, "low_error": None, "mean_extreme": "-30 °C", "sd_extreme": "4 K"}
    often = standard(**asked, depot="Pass house", return_period="2 winters")
    seldom = standard(**asked, depot="Pass house", return_period="20 winters")
    plain = {**asked, "mean_extreme": "-10 °C"}
    jobs = [standard(**plain, night_stops={"Pass house": each}) for each in (often, seldom)]
    assert jobs[0].standard == jobs[1].standard
    with pytest.raises(InputError, match="return period of both"):
        standard(night_stops={"Pass house": standard(return_period="5 winters")}, **plain)


def test_a_given_low_without_period_takes_no_other_standard_as_night_stop():
    there = standard(depot="Pass house", return_period="20")
    with pytest.raises(InputError, match="return period of both"):
        standard(night_stops={"Pass house": there})
    assert standard(return_period="20", night_stops={"Pass house": there}).standard


def test_a_night_stop_whose_difference_has_no_give_or_take_names_no_chance():
    pit = standard(depot="Pit", low="-30 °C", return_period="20", colder_than_station="6 K")
    job = standard(return_period="20", night_stops={"Pit": pit})
    assert job.standard.where == "Pit"
    assert job.chance_to_hold is None
    assert any("the yard at Pit" in text for text in job.questions)


def test_a_stop_that_is_milder_and_less_sure_is_told_so():
    unsure = standard(depot="V", low="-27 °C", low_error="8 K", return_period="20")
    job = standard(low="-27.5 °C", low_error="0.2 K", return_period="20", night_stops={"V": unsure})
    assert job.standard.where == "V"
    assert "where more is in doubt than at the depot" in job.notes[0]


def test_a_night_stop_with_a_standard_of_its_own_brings_its_doubt():
    there = standard(
        depot="Pass house",
        low="-38 °C",
        low_error="4 K",
        colder_than_station="1 K",
        return_period="20",
    )
    job = standard(night_stops={"Pass house": there}, return_period="20")
    assert celsius(job.standard.air_k) == pytest.approx(-39.0)
    assert job.margins[PARTS.index("low")].alone_k == pytest.approx(4.0 * ONE_SIDED)
