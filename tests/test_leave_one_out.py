"""What the consensus gives on tables that it was not fitted to, beside CoolProp on the same rows.

Each line is one source: refitted without its lineage, compared with all its rows, fit and check.
The form of each curve was chosen by these same errors, which flatters them a little.
CoolProp's MEG, MPG and MGL were made from melinder-2010, so that source is not counted, and
melinder-iir is of the same author. The figures stand in the report of ``data/leave_one_out.py``.
"""

import importlib.util
import pathlib

import numpy as np
import pytest

pytest.importorskip("CoolProp")

SCRIPT = pathlib.Path(__file__).resolve().parent.parent / "data" / "leave_one_out.py"
EG, PG, GLYCEROL = "ethylene glycol", "propylene glycol", "glycerol"
RMS = 0


@pytest.fixture(scope="module")
def script():
    spec = importlib.util.spec_from_file_location("leave_one_out", SCRIPT)
    module = importlib.util.module_from_spec(spec)
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(str(SCRIPT.parent))
        spec.loader.exec_module(module)
        yield module


@pytest.fixture(scope="module")
def lines(script):
    return {(line.fluid, line.source): line for line in script.table(script.freezing)}


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
    every = script.read()
    for fluid, lineage in ((PG, "lange"), (GLYCEROL, "bosart"), (EG, "crc"), (EG, "melinder")):
        rows = script.without(script.freezing, every, fluid, lineage)
        seen = [r for r in rows if script.freezing.compared(r) and r["fluid"] == fluid]
        assert seen
        assert lineage not in {row["lineage"] for row in seen}


@pytest.mark.parametrize("source", ["crc-concentrative", "melinder-iir"])
def test_ethylene_glycol_is_within_a_tenth_of_coolprops_own_distance(lines, source):
    line = lines[EG, source]
    assert line.left_out[RMS] <= line.coolprop[RMS] + 0.1


def test_ethylene_glycol_is_nearer_than_coolprop_on_the_inhibited_table(script):
    # Ours as per cent of a product of 94 % glycol, 3 % additives; MEG knows no product.
    count, found = script.readings(EG, "ashrae-2001")
    ours, theirs = found["of_product"][0], found["of_glycol"][1]
    assert count == 8
    assert ours[RMS] < theirs[RMS] / 2


@pytest.mark.parametrize("source", ["lange-15", "melinder-iir"])
def test_propylene_glycol_is_clearly_nearer_than_coolprop(lines, source):
    line = lines[PG, source]
    assert line.left_out[RMS] < 0.8 * line.coolprop[RMS]
    assert line.left_out[1] < line.coolprop[1]


def test_propylene_glycol_is_nearer_than_coolprop_on_the_inhibited_table_read_either_way(script):
    _, found = script.readings(PG, "ashrae-2001")
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


def test_the_forms_in_use_have_the_least_error_left_out(script):
    off = script.tried()
    for fluid, form in script.freezing.FORMS.items():
        assert min((each for each in off if each[1] == fluid), key=off.get) == (form, fluid)
