"""What it means that more or less went in at a refill than was to be expected, and what to do."""

from typing import NamedTuple

from ..balance.composition import frac_mass_of
from .refill_plan import liquids_of
from .told_words import COLD, make_up_words

#: Strengths nearer than this are one to whoever reads. [kg/kg]
SAME = 0.005

#: Only about half of what came out that goes in again is air in the block; common practice, no
#: source. [-]
HALF = 0.55

#: An engine that lacks more than this share of its capacity is not run; common practice, no
#: source. [-]
MISSING_MOST = 0.10


class LevelSign(NamedTuple):
    """What it means that more or less went in than came out, and what to do next.

    Attributes
    ----------
    name : str
        "as expected", "took more", "took less" or "air lock" (it must not run).
    sentence : str
    first, then : str
        What to do before it runs, and afterwards.
    """

    name: str
    sentence: str
    first: str
    then: str

    @property
    def next_step(self):
        """What to do, in order."""
        return f"{self.first} {self.then}".strip()

    @property
    def as_planned(self):
        """Whether what went in is what the strength afterwards is made of."""
        return self.name == "as expected"

    @property
    def must_not_run(self):
        """Whether so much is missing that the engine must not run."""
        return self.name == "air lock"


def level_sign(job, went_in_m3):
    """Return the `LevelSign` of what went in. [m3]."""
    out, words = job.goes_in_m3, job.volume_words
    dry = job.kind == "nothing"
    known = 0.0
    if dry:
        known = job.system.capacity_error_m3
    elif job.litres["caught"] is not None:
        known = float(job.start.still.came_out_half_m3[0])
    # Mixing and the shrinking with it may move the level by a hundredth.
    margin = max(known, job.step.m3) + 0.01 * job.row.capacity_m3
    more = went_in_m3 - out
    if more < 0.0 and _must_not_run(job, went_in_m3, -more, margin):
        return _air_lock(job, -more)
    if abs(more) <= margin:
        return LevelSign(
            "as expected",
            f"{words(went_in_m3)} went in, as was to be expected (about {words(out)}).",
            "",
            "Run it, let it cool, and look at the level next morning all the same.",
        )
    if more < 0.0:
        return _took_less(job, -more)
    causes = (
        "it is running out now, or the capacity is larger than the book says"
        if dry
        else "it was low before, more came out than was caught, or it is running out now"
    )
    return LevelSign(
        "took more",
        f"{words(more)} more went in than was to be expected (about {words(out)}). It can mean "
        f"that {causes}. {_filled_up(job)}",
        f"Engine off and {COLD}: look under the vehicle, at hoses, clips and plugs, before it "
        "runs. While anything runs out, do not run it: find the leak.",
        "If all is dry, run it, let it cool, and look at the level next morning: a level that "
        "falls again is a leak until shown otherwise. Go by the reading.",
    )


def _must_not_run(job, went_in_m3, less_m3, margin_m3):
    """Whether so little went in that the engine lacks a substantial part of its coolant."""
    missing = less_m3 > max(MISSING_MOST * job.row.capacity_m3, margin_m3)
    return missing or went_in_m3 < HALF * job.goes_in_m3


def _filled_up(job):
    """Say what more of the last liquid makes of the strength."""
    last = float(frac_mass_of(liquids_of(job.start, job.fill)[0][-1].share))
    planned = job.strength_words(job.after)
    off = last - job.after.frac_mass
    if off < -SAME:
        return (
            "What was poured last filled the difference, so what is inside is weaker than planned "
            f"({planned}): keep it out of frost until the reading shows what it holds."
        )
    if off > SAME:
        return (
            "What was poured last filled the difference, so what is inside may be stronger than "
            f"planned ({planned}): the reading tells."
        )
    return f"What was poured last has nearly the strength planned ({planned}): the reading tells."


def _less(job, less_m3):
    return (
        f"{job.volume_words(less_m3)} less went in than was to be expected (about "
        f"{job.volume_words(job.goes_in_m3)})."
    )


def _fill_the_rest():
    return (
        f"Engine off and {COLD}: bleed it as the maker's handbook says, and pour the rest of "
        "what is listed, in its order, up to the cold mark."
    )


def _air_lock(job, less_m3):
    # So little is no fill: what is listed has not gone in, and the engine must not run.
    return LevelSign(
        "air lock",
        f"{_less(job, less_m3)} So little means air in the block, or that the filling is not done: "
        "what is inside now is not what these figures end at.",
        f"Do not run it. {_fill_the_rest()}",
        "Then enter all that has gone in. If it is bled, stands at the mark and takes no more, "
        "find out why before it runs: drain it, measure what comes out, and ask again.",
    )


def _took_less(job, less_m3):
    causes = (
        "air in block or heater, or a capacity that is smaller than the book says"
        if job.kind == "nothing"
        else "air in block or heater, mix that was hot when it was measured, a level that stood "
        "too high before, or more left inside than was reckoned"
    )
    return LevelSign(
        "took less",
        f"{_less(job, less_m3)} It can mean {causes}.",
        _fill_the_rest(),
        f"Run it with the heater on hot, let it cool until it is {COLD}, and next morning make up "
        f"what is missing, up to {job.volume_words(less_m3)}, with {make_up_words(job)}. If the "
        "level stays and the heater gets hot, go by the reading.",
    )
