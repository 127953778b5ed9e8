"""A flush of a circuit that is filled ready-mixed only, and what a refused flush tells to do."""

import dataclasses

import pytest

import coolcalc as cc
from coolcalc.errors import InputError, Status

from .test_flush import CAN, READY, flushed, system

OTHER = dataclasses.replace(READY, name="other ready-mixed")


def specified(drainable=8.0, **more):
    return flushed(system=system(drainable=drainable, fill="ready-mixed only"), **more)


@pytest.mark.parametrize(
    ("drainable", "flush_with"), [(8.0, READY), (10.0, cc.WATER)], ids=["product", "water"]
)
def test_drained_flushed_and_filled_with_what_is_specified(drainable, flush_with):
    job = specified(drainable, pour=[READY], flush_with=flush_with)
    assert not job.blocked and set(job.last_fill) == {READY}
    steps = " ".join(job.steps)
    assert "as it is delivered, and nothing else" in steps and "clean can" not in steps


def test_trapped_water_is_told_and_no_concentrate_is_offered():
    """2 L of 6 % (30 % flushed once) under 8 L of 50 % make 41.2 %: by hand."""
    job = specified(pour=[READY], flush_with=cc.WATER)
    assert job.status == Status.FLUSH_NOT_REACHED
    assert job.reach.strength().share == pytest.approx(0.412, abs=0.005)
    assert "list concentrate" not in str(job)
    assert "Or flush with mix: make the last flush fill with ethylene glycol ready-m" in str(job)


@pytest.mark.parametrize(
    "asked",
    [
        {"pour": [CAN, cc.WATER]},
        {"pour": [CAN]},
        {"pour": [READY], "flush_with": CAN},
        {"pour": [READY], "flush_with": OTHER},
        {"pour": [READY, cc.WATER], "flush_with": READY, "target": "45 % product"},
    ],
)
def test_nothing_is_mixed_in_it(asked):
    job = specified(**asked)
    assert job.status & Status.NOT_TO_BE_CORRECTED and job.blocked and not job.pour
    assert "list the one ready-mixed product that its maker specifies" in job.steps[-1]


@pytest.mark.parametrize(
    "asked",
    [
        {"low": "6.5 L"},
        {"system": system(drainable=1.0)},
        {"system": system(drainable=0.0)},
    ],
)
def test_a_refusal_that_tells_to_work_says_on_which_engine(asked):
    with pytest.raises(InputError, match="engine off and cold to the hand"):
        flushed(**asked)


def test_the_refusal_of_a_low_level_keeps_it_out_of_frost():
    with pytest.raises(InputError, match="keep it out of frost; let it cool"):
        flushed(low="6.5 L")


def test_ways_out_say_on_which_engine():
    for job in (flushed(pour=READY), flushed(drainable=4.0), flushed(pour=[CAN])):
        assert job.blocked
        assert all("engine off and cold to the hand" in step for step in job.steps[-1:])
        for note in job.notes:
            if note.startswith(("Or ", "Another way")):
                assert "engine off and cold to the hand" in note
            if note.startswith("Or "):
                assert "out of frost" in note


def test_rounding_of_a_small_system_is_told():
    small = flushed(capacity=0.3, drainable=0.2, target="47 % product")
    assert any("rounded to 0.01 L" in note for note in small.notes)
    assert not any("rounded to" in note for note in flushed().notes)
