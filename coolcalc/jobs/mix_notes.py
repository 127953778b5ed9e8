"""What the reader of a `MixCorrection` must know before the steps."""

import dataclasses
from decimal import ROUND_CEILING

from .. import fluids
from ..errors import REASONS, Status
from .mix_plan import EQUAL
from .told_words import (
    CAUSE_WORDS,
    CEILING_SHARE,
    chance_words,
    circuit_notes,
    reach_per_cent,
    reach_words,
    reading_notes,
    share_of_concentrate,
    shelf_notes,
    side_notes,
    weak_notes,
)

#: Warmer than the target by this, a likely outcome is worth a word. [K]
WEAK_K = 3.0


def mix_notes(job):
    """Return sentences: what cannot be done, what is odd, what may come out."""
    if job.status & Status.NOT_TO_BE_CORRECTED:
        return tuple(circuit_notes(job))
    return (*_reason_notes(job), *reading_notes(job), *_level_notes(job), *_other_notes(job))


def _reason_notes(job):
    above_only = share_of_concentrate(job.before) <= CEILING_SHARE and job.before.settled
    if job.blocked and job.status & Status.IN_BAND:
        yield REASONS[Status.IN_BAND].sentence
        return
    left_out = Status.PLAIN
    left_out |= Status.TOO_STRONG if above_only else Status.PLAIN
    left_out |= Status.AIM_NOT_REACHED | Status.ONE_DRAIN_GIVES_PART
    yield from (
        reason.sentence for flag, reason in REASONS.items() if flag & job.status & ~left_out
    )
    if job.status & Status.TOO_STRONG and above_only:
        yield (
            f"The mix is stronger than the target: {job.mix_and_frost(job.before)}. Make sure that "
            "the target is meant."
        )
    if job.edge_aimed and not job.blocked:
        edge = dataclasses.replace(job.before, frac_mass=job.band[0])
        yield (
            "What is poured is no stronger than the target, so the litres aim at the weakest "
            f"mix that is near enough: {job.mix_and_frost(edge)}."
        )
    if job.blocked:
        yield _reach_note(job)
        return
    if job.status & Status.ONE_DRAIN_GIVES_PART:
        yield _part_note(job)
    elif len(job.passes) > 1:
        yield (
            f"One drain brings out too little: it takes {len(job.passes)}, with the engine run "
            "and cooled in between. In all more is used than one drain would take."
        )
    if job.status & Status.STOCK_RUNS_OUT:
        names = " and ".join(product.name for product in job.used_up)
        used = f", with all of the {names}" if names else ""
        yield f"It gets as far as {job.mix_and_frost(job.after)}{used}."
    yield from _aim_notes(job)


def _part_note(job):
    if job.drains_cut:
        why = (
            "More drains than are listed would use more than the system holds in all, or gain next "
            "to nothing: that is a flush."
        )
    else:
        why = REASONS[Status.ONE_DRAIN_GIVES_PART].sentence
    if job.nothing_to_do:
        return why
    return f"These litres get as far as {job.mix_and_frost(job.after)}. {why}"


def _aim_notes(job):
    if job.aim is None:
        return
    if job.status & Status.AIM_NOT_REACHED:
        yield (
            f"{REASONS[Status.AIM_NOT_REACHED].sentence} The chance is "
            f"{chance_words(job.chance_to_hold)}; {chance_words(job.aim)} was aimed at. "
            f"{_why_not_aimed(job)}"
        )
    elif job.aimed_frac_mass > job.target_frac_mass + EQUAL:
        aimed = dataclasses.replace(job.before, frac_mass=job.aimed_frac_mass)
        yield (
            f"With a margin: the litres aim at {job.strength_words(aimed)}, beyond the target, "
            "by what the reading and the capacity may be out."
        )


def _why_not_aimed(job):
    if job.edge_aimed:
        return "It takes a stronger product."
    if job.status & Status.STOCK_RUNS_OUT or job.used_up:
        return "It takes more of the product than there is: fetch more."
    if job.status & Status.ONE_DRAIN_GIVES_PART:
        return "It takes more than comes out at the drain."
    if job.aimed_frac_mass >= max(each.frac_mass for each in job.shelf) - 0.02:
        return "It takes a stronger product."
    if job.measure_better is None:
        return "Choose a warmer target."
    return (
        f"Most of the give or take comes from {CAUSE_WORDS[job.measure_better]}: measure that "
        "better."
    )


def _level_notes(job):
    if job.status & Status.IN_BAND and job.poured():
        yield "Only the level is made up."
    if job.status & Status.ONE_DRAIN_GIVES_PART and job.drained_m3 == 0.0 and job.poured():
        yield "Nothing comes out at the drain until the level is made up."
    if job.low_m3 > 0.0:
        yield (
            "The level is low: find out where it went. A level that falls is a leak until "
            "shown otherwise."
        )


def _other_notes(job):
    if not job.blocked:
        yield from weak_notes(job.after)
        yield from _may_come_out_weaker(job)
        yield from side_notes(job)
    yield from shelf_notes(job)


def _may_come_out_weaker(job):
    # The step is one that a scale shows apart; common practice, no source.
    high = job.expected_k().weak_k
    target = fluids.freeze_temp_k(job.before.fluid, job.target_frac_mass)
    short = Status.IN_BAND | Status.ONE_DRAIN_GIVES_PART | Status.STOCK_RUNS_OUT
    if job.status & short or high - target < WEAK_K:
        return
    cause = CAUSE_WORDS[job.measure_better or "found"]
    weak = job.temp_words(high, rounding=ROUND_CEILING)
    yield (
        f"It may come out as weak as {weak}: the second reading decides. Most of that comes from "
        f"the give or take of {cause}."
    )


def _reach_note(job):
    found, reached = (100 * mix.strength().share for mix in (job.before, job.reach))
    if (reach_per_cent(job) - found) * (reached - found) <= 0.0:
        return "Nothing that is listed brings the mix nearer to the target by a whole per cent."
    if_all = "" if job.system.drainable_m3 is not None else ", if all of it comes out"
    return (
        f"Within reach of one drain with what is listed{if_all}: "
        f"{reach_words(job)}, freezing point {job.freezing_words(job.reach)}. Enter "
        "that strength as the target for its litres."
    )
