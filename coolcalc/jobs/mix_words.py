"""The words of a `MixCorrection`: steps, rows and assumptions."""

from ..answers import Row
from ..errors import Status
from ..instruments import Reading
from .told_words import (
    COLD,
    FIRST_CRYSTALS,
    expected_words,
    found_words,
    how_exact,
    makes_of,
    measured,
    old_mix,
    on_the_same,
    per_cent_means,
    reach_words,
    read_again,
    run_and_cool_steps,
    scale_span,
    system_holds,
    valves,
)

# --- steps ----------------------------------------------------------------------------------------


def steps(job):
    """Return the actions, in the order of the work."""
    if job.blocked and job.status & Status.IN_BAND and not job.status & Status.NOT_TO_BE_CORRECTED:
        return (
            f"Engine off and {COLD}: make up the {job.volume_words(job.low_m3)} that is missing "
            f"with mix of {job.strength_words(job.before)}, mixed in a clean can. What is listed "
            "would change the strength.",
            "Close the system. Run the engine with the heater on hot until the thermostat has "
            "opened, stop, let it cool, and check the level and the reading again.",
        )
    if job.blocked:
        return _blocked_steps(job)
    if job.nothing_to_do and job.status & Status.ONE_DRAIN_GIVES_PART:
        return (
            "Pour nothing yet: there is no room, and nothing comes out at this drain.",
            "Find what does come out (lower hose, block plugs, as the maker's handbook says), "
            "with the engine cold to the hand, and enter that figure.",
        )
    if job.nothing_to_do and job.status & Status.STOCK_RUNS_OUT:
        return (
            "Take nothing out and pour nothing: there is none left that would help.",
            "Fetch more of it, read again, and correct from the new reading.",
        )
    if job.nothing_to_do:
        return (
            "Leave the mix as it is: take nothing out, pour nothing.",
            "Read again at the next service.",
        )
    count = len(job.passes)
    told = [f"Engine off and {COLD}, {_heaters(job)} fully open."]
    for at in range(count):
        told += _pass_steps(job, at, count)
    return (*told, *_last_steps(job))


def _blocked_steps(job):
    told = [reason.next_step for reason in job.blocked_by]
    if job.status & Status.NOT_TO_BE_CORRECTED and job.low_m3 > 0.0:
        told.insert(
            0,
            "Make up a level that is low with the same liquid only, as its maker delivers it, with "
            "the engine off and cold to the hand.",
        )
    return tuple(told)


def _heaters(job):
    names = ["heater control", *valves(job)]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _pass_steps(job, at, count):
    drained = job.plan.drain_m3[at, 0]
    drain = f"Drain {at + 1} of {count}: take out" if count > 1 else "Take out"
    if drained > 0.0:
        text = f"{drain} {job.volume_words(drained)} into a clean measured container."
        if job.system.drainable_m3 is None:
            text += (
                " If less comes out, pour nothing yet: enter what came out as drain "
                "figure; the new answer counts what is already out."
            )
        yield text
    for place, (product, volume) in enumerate(job.poured(at)):
        yield f"Pour {job.volume_words(volume)} of {product.name}" + (
            ", slowly; if it does not all go in, air is trapped: bleed it as the handbook says, "
            "and pour the rest."
            if place == 0
            else ", on top of it."
        )
    if at + 1 < count:
        yield (
            "Close the system, run the engine with the heater on hot until the thermostat has "
            f"opened and the mix has gone round, stop, and let it cool until it is {COLD}. Read "
            f"again: {_between_words(job, at)}. If it is clearly otherwise, correct again from "
            "that reading."
        )


def _between_words(job, at):
    """Return what to read between two drains, and what mix that is."""
    now = job.passes[at].after
    told = job.mix_and_frost(now)
    if not isinstance(job.found, Reading):
        return told
    tool = job.found.instrument
    span = scale_span(job, tool, *job.expected_between(now))
    return f"{span} {job.found.second(job.unit_system)}".rstrip() + f" ({told})"


def _last_steps(job):
    yield from run_and_cool_steps(job)
    yield f"Read again{on_the_same(job)}: {read_again(job)}."
    if job.status & Status.ONE_DRAIN_GIVES_PART:
        yield (
            f"That is not yet the target ({job.target_words}): correct again from the new reading, "
            "and let out more (lower hose, block plugs, as the handbook says); or drain, flush and "
            "fill."
        )
    elif job.status & Status.STOCK_RUNS_OUT:
        yield (
            f"That is not the target ({job.target_words}). Fetch more, and correct again from "
            "the new reading."
        )
    if job.drained_m3 > 0.0:
        yield (
            f"{job.volume_words(job.drained_m3)} of old mix is waste: closed, labelled “used "
            "coolant”."
        )


# --- rows -----------------------------------------------------------------------------------------


def _capacity_rows(job):
    yield Row("Capacity", job.volume_words(job.system.capacity_m3))
    if job.system.worked_m3 < job.system.capacity_m3:
        yield Row("Worked on, the rest being shut", job.volume_words(job.system.worked_m3))


def rows(job):
    """Return the figures behind the steps."""
    told = [
        *_capacity_rows(job),
        Row("Found", found_words(job)),
        Row("Found, as strength", job.strength_words(job.before)),
        Row("Freezing point as found", job.freezing_words(job.before)),
        Row("Target", job.target_words),
    ]
    if job.low_m3 > 0.0:
        told.append(Row("Missing below the mark", job.volume_words(job.low_m3)))
    if job.blocked:
        if not job.status & Status.NOT_TO_BE_CORRECTED:
            told.append(Row("Within reach", reach_words(job)))
        return tuple(told)
    if len(job.passes) > 1:
        told.append(Row("Drains", str(len(job.passes))))
    told.append(Row("Take out", job.volume_words(job.drained_m3)))
    told += [Row(f"Pour {p.name}", job.volume_words(volume)) for p, volume in job.poured()]
    told += [
        Row("Strength afterwards", job.strength_words(job.after)),
        Row("Freezing point afterwards", job.freezing_words(job.after)),
        Row("Expect to read", expected_words(job)),
        Row("To waste", job.volume_words(job.drained_m3)),
    ]
    return tuple(told)


# --- assumptions ----------------------------------------------------------------------------------


def assumptions(job):
    """Return what the figures take for granted."""
    lines = [system_holds(job), measured(job), old_mix(job), FIRST_CRYSTALS, per_cent_means(job)]
    if job.system.drainable_m3 is None:
        lines.append("As much comes out at the drain as is asked for: no figure was entered.")
    lines += how_exact(job)
    if len(job.passes) > 1:
        lines.append("The mix is the same all through before each drain after the first.")
    return (*lines, *makes_of(job))
