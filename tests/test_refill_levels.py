"""After a refill other litres went in than planned: what is still promised, and what is not."""

import math

import pytest

import coolcalc as cc

CAN = cc.Product.generic("ethylene glycol concentrate")
READY = cc.Product.generic("ethylene glycol ready-mixed 50 %")
TEN = cc.CoolingSystem(capacity="10 L", capacity_error="0.5 L", drainable="6 L")
SPECIFIED = cc.CoolingSystem(capacity="10 L", drainable="6 L", fill="ready-mixed only")


def refill(**changes):
    asked = {
        "system": TEN,
        "found": "50 % product",
        "caught": "6 L",
        "target": "50 % product",
        "pour": [CAN, cc.WATER],
    }
    return cc.refill(**(asked | changes))


def promised(job):
    """All that is printed of the strength afterwards: steps, notes but the plan's, odds, rows."""
    notes = (each for each in job.notes if not each.startswith("The plan was"))
    rows = (f"{label}: {text}" for label, text in job.rows if label != "Old mix")
    return "\n".join((*notes, *job.steps, *rows, str(job.odds)))


@pytest.mark.parametrize("went_in", ["8 L", "5.5 L"])
def test_other_litres_than_planned_promise_no_strength(went_in):
    job = refill(went_in=went_in)
    told = promised(job)
    assert "It ends at" not in told and "expect" not in told.replace("to be expected", "")
    assert "−37 °C" not in told and "chance" not in told.lower()
    assert "mix of 50 %" not in told
    assert "Strength afterwards: not known" in told
    assert any(step.startswith("Read, and go by that") for step in job.steps)
    assert "keep it out of frost" in " ".join(job.steps)
    assert "planned, not what is inside" in dict(job.chart_points)
    planned = refill(went_in="6 L")
    assert "It ends at 50 %" in promised(planned) and "expect 50" in promised(planned)


def test_more_of_the_last_liquid_makes_it_weaker():
    """2 L more of water, of ready-mixed of the same strength, or of a stronger one."""
    job = refill(went_in="8 L")
    notes = " ".join(job.notes)
    assert "weaker than planned (50 % of concentrate): keep it out of frost" in notes
    assert notes.index("2.00 L more") < notes.index("The plan was to end")
    ready = refill(system=SPECIFIED, pour=[READY], went_in="7 L")
    assert "nearly the strength planned" in " ".join(ready.notes)
    over = refill(found="30 % product", target="42 % product", pour=[READY], went_in="8 L")
    assert "may be stronger than planned" in " ".join(over.notes)


@pytest.mark.parametrize("went_in", ["3.4 L", "4.9 L"])
def test_an_engine_that_lacks_a_tenth_is_not_run(went_in):
    """4.9 of 6.0 L: 1.1 L is missing of 10 L, though more than half of the plan went in."""
    steps = refill(went_in=went_in).steps
    assert steps[0].startswith("Do not run it.") and "cold to the hand" in steps[0]
    assert not any("Run the engine" in step for step in steps)
    assert "find out why before it runs" in steps[-1]


def test_half_of_a_small_plan_is_an_air_lock_though_it_is_no_tenth():
    sign = refill(system=cc.CoolingSystem(capacity="20 L"), caught="3 L", went_in="1.6 L").told_sign
    assert sign.must_not_run


def test_a_guessed_spill_counts_alike_in_the_interval_and_in_the_level():
    """Half of 2 L spilled is the give or take of what came out; a hundredth for the mixing."""
    job = refill(spilled="2 L", caught="4 L")
    margin = 1.0 + 0.1
    expected = job.goes_in_m3 * 1e3
    assert float(job.start.still.half_width_m3[0]) * 1e3 == pytest.approx(math.hypot(1.0, 0.5))
    assert job.level_sign(f"{expected + margin - 0.02} L").as_planned
    assert job.level_sign(f"{expected + margin + 0.02} L").name == "took more"


def test_only_what_its_maker_specifies_goes_into_a_ready_mixed_circuit():
    job = refill(system=SPECIFIED, pour=[READY])
    steps = " ".join(job.steps)
    assert not job.blocked
    assert "mixed in a clean can" not in steps and "correction of the mix" not in steps
    assert steps.count("the coolant that its maker specifies, as it is delivered") == 1
    assert "drain it, flush it and fill it with what its maker specifies" in steps
    low = refill(system=SPECIFIED, pour=[READY], went_in="5.6 L")
    assert "clean can" not in str(low) and "correction of the mix" not in str(low)
