"""What the reader of a `MixCorrection` must know before the steps."""

import dataclasses
import math

from .. import fluids
from ..errors import REASONS, Status
from ..instruments import Reading
from ..mixture import Mixture
from ..product import GENERIC
from ..system import MAY_NOT, SHUT
from .mix_odds import CAUSE_WORDS, chance_words

#: Range of a mix in service, share of concentrate; source key ``astm-d6210``. [m3/m3]
FLOOR_SHARE, CEILING_SHARE = 0.40, 0.60
#: Warmer than the target by this, a likely outcome is worth a word. [K]
WEAK_K = 3.0
#: Weaker than this, a reading is that of plain water. [kg/kg]
PLAIN_WATER = 0.003


def mix_notes(job):
    """Return sentences: what cannot be done, what is odd, what may come out."""
    if job.status & Status.NOT_TO_BE_CORRECTED:
        return (
            f"This circuit is {job.system.fill}. {REASONS[Status.NOT_TO_BE_CORRECTED].sentence}",
        )
    return (*_reason_notes(job), *reading_notes(job), *_level_notes(job), *_other_notes(job))


def share_of_concentrate(mixture):
    """Share of the generic concentrate that has this strength. [m3/m3]."""
    concentrate = GENERIC.get(f"{mixture.fluid} concentrate", mixture.product)
    return Mixture(product=concentrate, frac_mass=mixture.frac_mass).strength().share


def _reason_notes(job):
    above_only = share_of_concentrate(job.before) <= CEILING_SHARE and job.before.settled
    if job.blocked and job.status & Status.IN_BAND:
        yield REASONS[Status.IN_BAND].sentence
        return
    left_out = Status.PLAIN
    left_out |= Status.TOO_STRONG if above_only else Status.PLAIN
    left_out |= Status.AIM_NOT_REACHED
    yield from (
        reason.sentence for flag, reason in REASONS.items() if flag & job.status & ~left_out
    )
    if job.status & Status.TOO_STRONG and above_only:
        yield (
            f"The mix is stronger than the target: {job.strength_words(job.before)}, freezing "
            f"point {job.freezing_words(job.before)}. Make sure that the target is meant."
        )
    if job.edge_aimed and not job.blocked:
        yield (
            "What is poured is no stronger than the target, so the litres aim at the weakest "
            f"mix that is near enough: {_edge_words(job)}."
        )
    if job.blocked:
        yield _reach_note(job)
        return
    if len(job.passes) > 1:
        yield (
            f"One drain brings out too little: it takes {len(job.passes)}, with the engine run "
            "and cooled in between. In all more is used than one drain would take."
        )
    if job.status & Status.STOCK_RUNS_OUT:
        yield (
            f"It gets as far as {job.strength_words(job.after)}, freezing point "
            f"{job.freezing_words(job.after)}."
        )
    yield from _aim_notes(job)


def _aim_notes(job):
    if job.aim is None:
        return
    if job.status & Status.AIM_NOT_REACHED:
        yield (
            f"{REASONS[Status.AIM_NOT_REACHED].sentence} The chance is "
            f"{chance_words(job.chance_to_hold)}; {chance_words(job.aim)} was aimed at. "
            f"{_why_not_aimed(job)}"
        )
    elif job.aimed_frac_mass > job.target_frac_mass + 1e-6:
        aimed = dataclasses.replace(job.before, frac_mass=job.aimed_frac_mass)
        yield (
            f"With a margin: the litres aim at {job.strength_words(aimed)}, beyond the target, "
            "by what the reading and the capacity may be out."
        )


def _why_not_aimed(job):
    if job.edge_aimed:
        return "It takes a stronger product."
    if job.status & Status.STOCK_RUNS_OUT:
        return "It takes more of the product than there is."
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


def reading_notes(job):
    """Yield what is odd about the reading."""
    if isinstance(job.found, Reading):
        yield from job.found.remarks(job.before.product, job.unit_system)
        if job.before.frac_mass < PLAIN_WATER:
            yield (
                "The reading is that of plain water: check the zero on water and wet the whole "
                "prism before going by it."
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
        if share_of_concentrate(job.after) < FLOOR_SHARE - 0.005:
            yield (
                "Weaker than 40 % of concentrate: whatever the frost, corrosion protection gets "
                "thin and it boils sooner. The maker's handbook says how little is allowed."
            )
        yield from _may_come_out_weaker(job)
        yield from side_notes(job)
    yield from (f"{p.name}: {p.remark}" for p in job.shelf if p.remark)


def _side_words(job, side):
    """Return a side circuit and what it holds, to begin a sentence with."""
    return f"{side.name[:1].upper()}{side.name[1:]} ({job.volume_words(side.volume_m3)})"


def side_notes(job):
    """Yield what is to be known of side circuits."""
    for side in job.system.sides_that(MAY_NOT):
        text = (
            f"{_side_words(job, side)} may not have mixed: what it holds is not known from this "
            "reading. Read a sample from it too"
        )
        if job.nothing_to_do:
            yield f"{text}."
        else:
            rest = job.without(side)
            yield (
                f"{text}; or better, bring it round, let it cool, and read again before this work. "
                f"If it takes no part, the rest reads {job.strength_words(rest)} at first, "
                f"freezing point {job.freezing_words(rest)}. Once it takes part, that changes, and "
                "may be weaker than the target."
            )
    for side in job.system.sides_that(SHUT):
        yield (
            f"{_side_words(job, side)} is shut and left out: it stays as it is. Open it only to "
            "correct the whole, and read again then."
        )


def _may_come_out_weaker(job):
    # The step is one that a scale shows apart; common practice, no source.
    high = job.expected_k().weak_k
    target = fluids.freeze_temp_k(job.before.fluid, job.target_frac_mass)
    short = Status.IN_BAND | Status.ONE_DRAIN_GIVES_PART | Status.STOCK_RUNS_OUT
    if job.status & short or high - target < WEAK_K:
        return
    cause = CAUSE_WORDS[job.measure_better or "found"]
    yield (
        f"It may come out as weak as {job.temp_words(high)}: the second reading decides. Most of "
        f"that comes from the give or take of {cause}."
    )


def _edge_words(job):
    edge = dataclasses.replace(job.before, frac_mass=job.band[0])
    return f"{job.strength_words(edge)}, freezing point {job.freezing_words(edge)}"


def _reach_per_cent(job):
    # A whole per cent, rounded towards the mix as found, so that it can be entered as a target.
    share = 100 * job.reach.strength().share
    weaker = job.reach.frac_mass < job.before.frac_mass
    return math.ceil(share) if weaker else math.floor(share)


def reach_words(job):
    """Return the strength that one drain and fill can reach, as printed."""
    return f"{_reach_per_cent(job)} % of {job.product_word}"


def _reach_note(job):
    found, reached = (100 * mix.strength().share for mix in (job.before, job.reach))
    if (_reach_per_cent(job) - found) * (reached - found) <= 0.0:
        return "Nothing that is listed brings the mix nearer to the target by a whole per cent."
    if_all = "" if job.system.drainable_m3 is not None else ", if all of it comes out"
    return (
        f"Within reach of one drain with what is listed{if_all}: "
        f"{reach_words(job)}, freezing point {job.freezing_words(job.reach)}. Enter "
        "that strength as the target for its litres."
    )
