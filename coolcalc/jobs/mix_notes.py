"""What the reader of a `MixCorrection` must know before the steps."""

import dataclasses
import math

from .. import fluids
from ..errors import REASONS, Status
from ..instruments import Reading
from .mix_working import CAUSE_WORDS

#: Range of a mix in service, share of concentrate; source key ``astm-d6210``. [m3/m3]
FLOOR_SHARE, CEILING_SHARE = 0.40, 0.60
#: Warmer than the target by this, a likely outcome is worth a word. [K]
WEAK_K = 3.0


def mix_notes(job):
    """Return sentences: what cannot be done, what is odd, what may come out."""
    above_only = job.share_of_concentrate(job.before) <= CEILING_SHARE and job.before.settled
    left_out = Status.IN_BAND if job.blocked else Status.PLAIN
    left_out |= Status.TOO_STRONG if above_only else Status.PLAIN
    notes = [reason.sentence for flag, reason in REASONS.items() if flag & job.status & ~left_out]
    if job.status & Status.TOO_STRONG and above_only:
        notes.append(
            f"The mix is stronger than the target: {job.strength_words(job.before)}, freezing "
            f"point {job.freezing_words(job.before)}. Make sure that the target is meant."
        )
    if job.edge_aimed and not job.blocked:
        notes.append(
            "What is poured is no stronger than the target, so the litres aim at the weakest "
            f"mix that is near enough: {_edge_words(job)}."
        )
    if job.blocked:
        notes.append(_reach_note(job))
    elif job.share_of_concentrate(job.after) < FLOOR_SHARE - 0.005:
        notes.append(
            "Weaker than 40 % of concentrate: whatever the frost, corrosion protection gets "
            "thin and it boils sooner. The maker's handbook says how little is allowed."
        )
    if job.status & Status.IN_BAND and job.poured:
        notes.append("Only the level is made up.")
    nothing_out = job.plan.drain_m3[0, 0] == 0.0
    if job.status & Status.ONE_DRAIN_GIVES_PART and nothing_out and job.poured:
        notes.append("Nothing comes out at the drain until the level is made up.")
    if not job.blocked:
        notes += _may_come_out_weaker(job)
    if isinstance(job.found, Reading) and job.found.temp_k > 273.05:
        notes.append(
            "The reading is that of plain water: check the zero on water and wet the whole "
            "prism before going by it."
        )
    if job.low_m3 > 0.0:
        notes.append(
            "The level is low: find out where it went. A level that falls is a leak until "
            "shown otherwise."
        )
    notes += [f"{p.name}: {p.remark}" for p in job.shelf if p.remark]
    return tuple(notes)


def _may_come_out_weaker(job):
    # The step is one that a scale shows apart; common practice, no source.
    high = job.expected_k().weak_k
    target = fluids.freeze_temp_k(job.before.fluid, job.target_frac_mass)
    if job.status & (Status.IN_BAND | Status.ONE_DRAIN_GIVES_PART) or high - target < WEAK_K:
        return []
    cause = max(job.causes, key=job.causes.get)
    return [
        f"It may come out as weak as {job.temp_words(high)}: the second reading decides. Most of "
        f"that comes from the give or take of {CAUSE_WORDS[cause]}."
    ]


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
