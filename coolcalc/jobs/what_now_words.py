"""The words of a `WhatNow`: notes, steps, rows, assumptions, working."""

from ..answers import Line, Row
from ..balance import ledger
from ..errors import REASONS, Status
from ..system import MAY_NOT
from .balance_lines import (
    apart_lines,
    inside_line,
    poured_line,
    rule_line,
    strength_line,
    sum_line,
    taken_line,
    volume,
)
from .told_words import (
    COLD,
    FIRST_CRYSTALS,
    chance_words,
    circuit_notes,
    expected_words,
    found_words,
    how_exact,
    makes_of,
    measured,
    old_mix,
    on_the_same,
    per_cent_means,
    read_again,
    reading_notes,
    run_and_cool_steps,
    shelf_notes,
    side_notes,
    system_holds,
    target_note,
    valves,
)

#: A change of strength below this is none that a second reading could tell. [kg/kg]
NO_CHANGE = 1e-4


def level_words(job):
    """Return how the level stands to the mark; within half a measuring step it is full."""
    missing = job.missing_m3
    if missing > 0.0:
        return f"{job.volume_words(missing)} still missing below the mark"
    if missing < 0.0:
        return (
            f"{job.volume_words(-missing)} above the mark: that is the room for hot coolant; take "
            "it out"
        )
    return "full to the mark"


# --- notes ----------------------------------------------------------------------------------------


def notes(job):
    """Yield strength, frost, level and chance first; then what is odd."""
    yield f"Inside now: {job.mix_and_frost(job.after)}. Level: {level_words(job)}."
    yield from circuit_notes(job)
    if job.target is not None:
        yield target_note(job)
    yield from job.strength_notes()
    if job.status & Status.START_NOT_SETTLED:
        yield REASONS[Status.START_NOT_SETTLED].sentence
    yield from reading_notes(job)
    yield from _litre_notes(job)
    yield from side_notes(job, done=True)
    yield from shelf_notes(job)


def _litre_notes(job):
    drainable = job.system.drainable_m3
    if drainable is not None and job.taken_out_m3 > drainable - job.low_m3 + job.step.m3 / 2:
        full = job.told_words(drainable)
        yield (
            f"More came out ({job.told_words(job.taken_out_m3)}) than what was entered as coming "
            f"out of the full system ({full})"
            + (", less what was missing" if job.low_m3 else "")
            + ". Correct that figure, or the volume that came out."
        )
    if job.low_m3 > 0.0:
        yield (
            "The level was low before: find out where it went. A level that falls is a leak until "
            "shown otherwise."
        )


# --- steps ----------------------------------------------------------------------------------------


def steps(job):
    """Yield the actions: level, run, cool, level, read, and what to make of the reading."""
    if job.status & Status.NOT_TO_BE_CORRECTED:
        yield REASONS[Status.NOT_TO_BE_CORRECTED].next_step
        return
    yield from _level_step(job)
    yield from run_and_cool_steps(job, _opened(job))
    yield f"Read{on_the_same(job)}: {read_again(job)}."
    if job.after.settled:
        yield _otherwise(job)
    if job.holds is False:
        yield (
            f"That does not hold the target ({job.target_words}): enter the reading in a "
            "correction of the mix; it gives the litres to take out and to pour."
        )


def _level_step(job):
    missing = job.missing_m3
    if missing < 0.0:
        yield (
            f"Engine off and {COLD}: take out {job.volume_words(-missing)}, down to the mark. It "
            "is the room for hot coolant. Before it has gone round that is mostly what was poured "
            "last, so the reading decides."
        )
    elif missing > 0.0 and job.holds is False:
        yield (
            f"{job.volume_words(missing)} is missing, and it does not hold the target: that room "
            f"is for the correction. Enter {job.strength_words(job.after)} as found and "
            f"{job.volume_words(missing)} as missing in a correction of the mix, before the engine "
            "runs: its steps take the place of these."
        )
    elif missing > 0.0:
        yield (
            f"Engine off and {COLD}: make up the {job.volume_words(missing)} that is missing with "
            f"mix of {job.strength_words(job.after)}, mixed in a clean can."
        )


def _opened(job):
    names = " and ".join(f"the {valve}" for valve in valves(job))
    return f", and {names} fully open," if names else ""


def _otherwise(job):
    change = job.after.frac_mass - job.before.frac_mass
    if job.missing_m3 < 0.0:
        return "If it reads otherwise, go by the reading: what was taken out again counts in it."
    if abs(change) < NO_CHANGE:
        return (
            "If it reads otherwise, one of the two readings is out: set the instrument to zero on "
            "water where it can be, and read again."
        )
    nearer, beyond = ("weaker", "stronger") if change > 0.0 else ("stronger", "weaker")
    return (
        f"If it reads {nearer} than that, more was inside than is reckoned here, or it has not "
        f"gone round yet: run it again and read again. If {beyond}, less was inside, or more came "
        "out: go by the reading, and correct the capacity."
    )


# --- rows -----------------------------------------------------------------------------------------


def rows(job):
    """Yield the figures."""
    yield Row("Capacity", job.volume_words(job.system.capacity_m3))
    yield Row("Found before", found_words(job))
    yield Row("Found before, as strength", job.strength_words(job.before))
    yield Row("Freezing point as found", job.freezing_words(job.before))
    if job.low_m3 > 0.0:
        yield Row("Missing below the mark before", job.told_words(job.low_m3))
    yield Row("Taken out", job.told_words(job.taken_out_m3))
    for product, volume_m3 in job.pours_m3():
        yield Row(f"Poured {product.name}", job.told_words(volume_m3))
    yield Row("Strength now", job.strength_words(job.after))
    yield Row("Freezing point now", job.freezing_words(job.after))
    yield Row("Level", level_words(job))
    if job.target is not None:
        yield Row("Target", job.target_words)
        yield Row("Chance to hold the target", chance_words(job.chance_to_hold))
    yield Row("Expect to read", expected_words(job))


# --- assumptions ----------------------------------------------------------------------------------


def assumptions(job):
    """Yield what the figures take for granted."""
    yield system_holds(job)
    yield measured(job)
    yield "Litres taken out and poured are taken as they were told; nothing has run over."
    yield old_mix(job)
    yield FIRST_CRYSTALS
    yield per_cent_means(job)
    yield from how_exact(job)
    yield from makes_of(job)


# --- working --------------------------------------------------------------------------------------


def working_lines(job):
    """Yield the balance, and the textbook rule beside it."""
    yield strength_line(job, "Found before", job.before.frac_mass)
    state, out_k = job.inside, job.row.drain_temp_k
    yield inside_line(job, "Inside before", state, out_k)
    if job.taken_out_m3 > 0.0:
        yield taken_line(job, "Taken out", state, job.taken_out_m3, out_k)
        state = ledger.drain(state, job.taken_out_m3, out_k)
    apart = float(ledger.volume_m3(state, job.temp_k)[0])
    for product, volume_m3 in job.pours_m3():
        yield poured_line(job, f"Poured {product.name}", product, volume_m3)
        apart += volume_m3
    after = job.plan.after
    yield sum_line(job, "Inside now", after)
    yield inside_line(job, "Volume now", after, job.temp_k)
    yield strength_line(job, "Strength now", job.after.frac_mass)
    if job.shelf:
        yield from apart_lines(job, after, apart)
    held = float(ledger.volume_m3(after, job.temp_k)[0])
    yield Line(
        "Level",
        f"{volume(job, job.row.capacity_m3)} to the mark less {volume(job, held)}: "
        f"{level_words(job)} (to {job.step.in_unit:g} {job.unit_system.volume}).",
    )
    if job.target is not None:
        yield strength_line(job, "Target", job.target_frac_mass)
    if job.shelf:
        left = max(job.row.capacity_m3 - job.low_m3 - job.taken_out_m3, 0.0)
        pours = [(volume_m3, product.frac_mass) for product, volume_m3 in job.pours_m3()]
        yield rule_line(job, [(left, job.before.frac_mass), *pours])


# --- how sure it is -------------------------------------------------------------------------------


def odds_lines(job):
    """Yield chance to hold, the reading to expect, and what to measure better."""
    if job.target is not None:
        yield Line(
            "Chance to hold the target",
            f"{chance_words(job.chance_to_hold)}: that the mix holds {job.target_words}.",
        )
    yield from job.frost_lines()
    yield from job.give_or_take_lines()
    for side in job.system.sides_that(MAY_NOT):
        yield Line("Not counted", f"What {side.name} holds, if it is not as the reading says.")
