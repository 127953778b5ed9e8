"""What a refill tells where it cannot be reached, where the bucket runs out, where to stop."""

import re

import pytest

import coolcalc as cc
from coolcalc.errors import Status

from .test_refill_levels import CAN, READY, TEN, refill


def told(job):
    return " ".join((*job.notes, *job.steps))


@pytest.mark.parametrize(
    "asked",
    [
        {"inside": "nothing", "found": None, "caught": None, "pour": [CAN]},
        {"found": "40 % product", "target": "45 % product", "pour": [READY]},
    ],
    ids=["concentrate alone", "ready-mixed alone"],
)
def test_where_only_water_is_missing_it_says_so(asked):
    job = refill(**asked)
    assert job.status == Status.NO_DILUENT
    assert "takes up the room" not in told(job) and "another product" not in told(job)
    assert "nothing weaker than the target is listed" in told(job)
    way = next(step for step in job.steps if step.startswith("List water"))
    assert re.search(rf"L of {asked['pour'][0].name}.*L of water up to the cold mark", way)


def test_what_is_too_weak_does_not_take_up_room():
    job = refill(found="40 % product", target="55 % product", pour=[READY])
    assert job.status == Status.PRODUCT_TOO_WEAK
    assert "Pour another product: " in told(job)
    inside = refill(inside="plain water", pour=[READY])
    assert inside.status == Status.REFILL_NOT_REACHED
    assert "takes up the room" in told(inside)


def test_filling_again_says_how_far_beside_the_target_it_ends():
    """8 qt over 3 of water: (3/8)^4 of 50 % of concentrate are missing after four fills, 0.99 %.

    By mass of glycol that is about 0.99 × 1.05, as half concentrate is 0.52: 1.0 %.
    """
    job = refill(
        system=cc.CoolingSystem(capacity="8 US qt"),
        inside="plain water",
        found=None,
        caught="5 US qt",
        pour=[READY],
    )
    again = next(step for step in job.steps if step.startswith("Fill with"))
    assert re.search(r"\((0\.9|1\.0) % of glycol by mass weaker than the target\)", again)
    assert "out of frost" in again


def test_a_bucket_that_runs_out_before_the_mark():
    """6 L came out, give or take 0.5: up to 6.5 L go in, and 2.95 + 3.10 L are mixed."""
    job = refill(found="40 % product", caught_error="0.5 L", target="45 % product", bucket="8 L")
    step = next(each for each in job.steps if each.startswith("Pour that in"))
    assert "mix more with the same parts" in step
    more = [float(each) for each in re.findall(r"(\d\.\d\d) L of", step)]
    planned = [float(each.m_as("L")) for each in job.pour.values()]
    short = 6.5 - sum(planned)
    assert sum(more) == pytest.approx(short, abs=0.11) and sum(more) >= short
    assert more[0] / sum(more) == pytest.approx(planned[0] / sum(planned), abs=0.06)


def test_what_is_poured_back_is_no_part_of_the_bucket():
    job = refill(caught_error="0.5 L", target="55 % product", pour_back="2 L", bucket="8 L")
    assert job.fill.back_m3 > 1e-3
    step = next(each for each in job.steps if each.startswith("Pour that in"))
    assert sum(float(each) for each in re.findall(r"(\d\.\d\d) L of", step)) < 0.7


def test_a_dry_system_may_take_as_much_more_as_it_may_hold():
    job = refill(inside="nothing", found=None, caught=None, bucket="11 L")
    assert job.may_go_in_m3 * 1e3 == pytest.approx(10.5)


def test_mix_poured_back_alone_stops_at_the_mark():
    steps = refill(pour_back="6 L").steps
    assert "sieve, up to the cold mark and not above it." in steps[1]
    assert "mark" not in refill(found="30 % product", pour_back="6 L").steps[1]


def test_two_ends_that_print_alike_are_nearly_the_same():
    job = refill(system=TEN)
    least, most = (job.mix_and_frost(each) for each in job.ends())
    assert least == most
    note = next(each for each in job.notes if "nearly the same strength" in each)
    assert note.count("% of concentrate") == 1
    for share in range(35, 50):
        each = refill(found=f"{share} % product")
        low, high = (each.mix_and_frost(end) for end in each.ends())
        if low == high:
            assert "nearly the same strength" in told(each), share


@pytest.mark.parametrize("capacity", ["0.3 L", "0.8 L"])
def test_rounding_of_a_small_system_is_told_with_its_figure(capacity):
    """A dry system, by mass: concentrate as printed, and water to the mark.

    Half and half shrinks by about a hundredth (source key crc-concentrative), which is made up.
    """
    small = cc.CoolingSystem(capacity=capacity)
    told_of = 0
    for share in range(35, 60):
        job = refill(
            system=small, inside="nothing", found=None, caught=None, target=f"{share} % product"
        )
        notes = [each for each in job.notes if each.startswith("Litres are rounded to 0.01 L")]
        can = job.pour[CAN].m_as("L")
        water = 1.01 * small.capacity_m3 * 1e3 - can
        glycol = can * 1.128 * 0.94
        held = glycol / (can * 1.128 * 0.97 + water * 0.998)
        off = 100 * (held - job.target_frac_mass)
        if notes:
            told_of += 1
            figure = float(re.search(r"ends (\d\.\d) % of glycol by mass stronger", notes[0])[1])
            assert figure == pytest.approx(off, abs=0.5)  # the make-up to a whole per cent
        else:
            assert off < 1.0
    assert told_of
    assert not any("Litres are rounded" in each for each in refill().notes)


def test_a_full_refill_still_fits_the_card_to_be_printed(tmp_path):
    """All that can be told at once, at an invented yard, on one page of HTML."""
    job = refill(
        system=cc.CoolingSystem(capacity="18 L", capacity_error="0.5 L"),
        found=cc.Refractometer(made_for="ethylene glycol", error="1 K").read("-24 °C"),
        low="0.5 L",
        caught="11 L",
        caught_error="0.5 L",
        spilled="0.4 L",
        opened=("radiator", "lower hose", "heater"),
        pour_back="4 L",
        bucket="15 L",
        target="-34 °C",
        went_in="11.5 L",
    )
    assert job.went_as_planned
    for name in ("card.html", "card.pdf"):
        assert job.save_card(tmp_path / name, vehicle="Loader 2, Tarnbeck yard").exists()
