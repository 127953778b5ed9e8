"""What the consensus gives on tables that it was not fitted to, beside CoolProp on the same rows.

Each line is one source: refitted without its lineage, compared with all its rows, fit and check.
The form of each curve was chosen by these same errors, which flatters them a little.
CoolProp's MEG, MPG and MGL were made from melinder-2010, so that source is not counted, and
melinder-iir is of the same author. The figures are what ``data/left_out.py`` prints.
"""

import numpy as np
import pytest

from . import published

pytest.importorskip("CoolProp")

EG, PG, GLYCEROL = "ethylene glycol", "propylene glycol", "glycerol"
RMS, LARGEST = 0, 1


@pytest.fixture(scope="module")
def script():
    return published.script("left_out")


@pytest.fixture(scope="module")
def every(script):
    return [
        line for rows in published.left_out_rows().values() for line in script.error_lines(rows)
    ]


@pytest.fixture(scope="module")
def lines(every):
    return {(line.fluid, line.source): line for line in every if line.property == "freezing_point"}


@pytest.fixture(scope="module")
def densities(every):
    return {(line.fluid, line.source): line for line in every if line.property == "density"}


def test_every_lineage_of_pure_rows_is_left_out_in_turn(lines):
    counted = {key for key in lines if key[1] not in ("melinder-2010", "conde-2011")}
    assert counted == {
        *((EG, "crc-concentrative"), (EG, "melinder-iir")),
        *((PG, "lange-15"), (PG, "melinder-iir")),
        *((GLYCEROL, "crc-concentrative"), (GLYCEROL, "lange-15"), (GLYCEROL, "melinder-iir")),
    }
    assert all(np.isfinite(line.left_out).all() for line in lines.values())


def test_coolprop_is_made_from_melinder_2010(lines):
    for fluid in (EG, PG):
        assert lines[fluid, "melinder-2010"].coolprop[RMS] < 0.01


def test_a_lineage_left_out_reaches_no_refit(script):
    every = ((PG, "lange"), (GLYCEROL, "bosart"), (EG, "crc"), (EG, "melinder"))
    for fluid, lineage in every:
        rows, stand_in = script.without(script.freezing, fluid, lineage)
        seen = [r for r in rows if (r["property"], r["fluid"]) == ("freezing_point", fluid)]
        assert seen
        assert lineage not in {row["lineage"] for row in seen}
        assert stand_in == ((fluid, lineage) == (EG, "crc"))
        assert {row["role"] for row in seen} == {"check" if stand_in else "fit"}


def test_check_rows_that_stand_in_score_no_band():
    rows = published.left_out_rows()["freezing", EG]
    crc = [each for each in rows if each.row["lineage"] == "crc"]
    assert len(crc) == 19
    assert all(each.unseen and not each.scores for each in crc)


@pytest.mark.parametrize("source", ["crc-concentrative", "melinder-iir"])
def test_ethylene_glycol_is_within_a_tenth_of_coolprops_own_distance(lines, source):
    line = lines[EG, source]
    assert line.left_out[RMS] <= line.coolprop[RMS] + 0.1


def test_ethylene_glycol_is_nearer_than_coolprop_on_the_inhibited_table(script):
    # Ours as per cent of a product of 94 % glycol, 3 % additives; MEG knows no product.
    rows, found = script.readings(EG)
    ours, theirs = found["of_product"][0], found["of_glycol"][1]
    assert [row["source"] for row in rows] == 8 * ["ashrae-2001"]
    assert ours[RMS] < theirs[RMS] / 2


@pytest.mark.parametrize("source", ["lange-15", "melinder-iir"])
def test_propylene_glycol_is_clearly_nearer_than_coolprop(lines, source):
    line = lines[PG, source]
    assert line.left_out[RMS] < 0.8 * line.coolprop[RMS]
    assert line.left_out[LARGEST] < line.coolprop[LARGEST]


def test_propylene_glycol_is_nearer_than_coolprop_on_the_inhibited_table_read_either_way(script):
    _, found = script.readings(PG)
    assert found["of_glycol"][0][RMS] < 0.8 * found["of_glycol"][1][RMS]
    assert found["of_product"][0][RMS] < found["of_product"][1][RMS]


def test_glycerol_is_as_near_as_coolprop_but_not_nearer(lines):
    # The claim "clearly nearer" is not met: the tables left over (Lange, melinder-iir) are 1.5 K
    # apart at 60 %, and MGL lies between them as our curve does.
    for source in ("crc-concentrative", "lange-15"):
        line = lines[GLYCEROL, source]
        assert line.left_out[RMS] <= line.coolprop[RMS] + 0.1
        assert line.consensus[RMS] <= line.coolprop[RMS]
    assert lines[GLYCEROL, "melinder-iir"].left_out[RMS] < 0.4


@pytest.mark.parametrize("source", ["nakanishi-1967", "macbeth-1951", "khattab-2017", "dtu-solar"])
def test_propylene_glycols_density_is_clearly_nearer_than_coolprop(densities, source):
    # nakanishi is left out; the other three were never fitted. On the rows that CoolProp answers.
    line = densities[PG, source]
    assert line.left_out_there[RMS] < 0.8 * line.coolprop[RMS]
    assert line.left_out_there[LARGEST] < line.coolprop[LARGEST]


@pytest.mark.parametrize(
    ("fluid", "source", "farther"),
    [
        *((PG, "george-2003", 0.4), (PG, "sun-2004", 0.2), (EG, "crc-concentrative", 0.2)),
        *((GLYCEROL, "crc-concentrative", 0.3), (GLYCEROL, "bosart-1927", 0.55)),
    ],
)
def test_no_other_density_is_nearer_than_coolprop(densities, fluid, source, farther):
    # kg/m3 by which the fit without the source is farther from it than CoolProp is. Most of
    # george-2003 is dilute, and denser than all others; without Bosart's lineage glycerol rests
    # on CRC's rounded rows and on formulas.
    line = densities[fluid, source]
    assert 0 < line.left_out_there[RMS] - line.coolprop[RMS] < farther


def test_every_density_that_coolprop_answers_is_claimed_on_one_side(densities):
    answered = {key for key, line in densities.items() if line.coolprop}
    assert {key for key in answered if key[1] != "melinder-2010"} == {
        *((PG, name) for name in ("nakanishi-1967", "macbeth-1951", "khattab-2017", "dtu-solar")),
        *((PG, "george-2003"), (PG, "sun-2004"), (EG, "crc-concentrative")),
        *((GLYCEROL, "crc-concentrative"), (GLYCEROL, "bosart-1927")),
    }


@pytest.mark.parametrize("fluid", [EG, PG, GLYCEROL])
def test_the_form_in_use_has_the_least_error_left_out(script, fluid):
    off = script.tried(fluid)
    assert min(off, key=off.get) == script.freezing.FORMS[fluid]


def test_what_is_printed_is_narrow_and_its_columns_stand_apart(script, every):
    text = script.error_text(every)
    assert max(map(len, text)) <= 100
    names = {(line.lineage, line.source) for line in every}
    rows = [line.split() for line in text if tuple(line.split()[:2]) in names]
    assert len(rows) == len(every)
    assert all(len(row) == 12 for row in rows)  # three names, the count, four pairs
    assert {line.property for line in every} == set(script.UNITS)
