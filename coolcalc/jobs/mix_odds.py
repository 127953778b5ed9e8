"""How sure a `MixCorrection` is, in words: folded away on a page, at hand in a notebook."""

from .. import units
from ..answers import Line
from ..balance.spread import Spread
from ..errors import Status
from ..strength import Strength
from ..system import MAY_NOT
from .told_words import NO_LITRES, chance_words

#: A chance from which more need not be offered. [-]
LIKELY = 0.9


def odds_lines(job):
    """Return the lines: chance to hold, give or take of each figure, what to measure better."""
    if job.blocked:
        yield NO_LITRES
        return
    yield Line("Chance to hold the target", _chance(job))
    yield from job.frost_lines()
    yield from _litres(job)
    yield from job.give_or_take_lines()
    for side in job.system.sides_that(MAY_NOT):
        yield Line("Not counted", f"What {side.name} holds, if it is not as the reading says.")
    if job.outcome.drawn[0]:
        yield Line("How it was found", "By a fixed set of draws, since a limit is near.")


def _chance(job):
    holds = "no weaker than" if isinstance(job.target, Strength) else "that it holds"
    text = f"{chance_words(job.chance_to_hold)}: {holds} {job.target_words} afterwards."
    if job.aim is not None:
        return f"{text} {100 * job.aim:.0f} % was aimed at."
    if job.outcome.high[0] > job.hold.strongest[0]:
        return (
            f"{text} Part of the rest lies beyond 60 mass % of glycol, where more glycol protects "
            "no further: choose a warmer target."
        )
    short = Status.ONE_DRAIN_GIVES_PART | Status.STOCK_RUNS_OUT
    if job.chance_to_hold < LIKELY and not job.status & short and not job.edge_aimed:
        return f"{text} Give a chance to aim at, and the litres aim beyond the target."
    return text


def _litres(job):
    names = ["Take out", *(f"Pour {product.name}" for product in job.shelf)]
    for name, spread in zip(names, job.litres, strict=True):
        half = float(spread.half_width[0])
        if half >= job.step.m3 / 10 and spread.high[0] > 0.0:
            yield Line(name, _span(job, spread, half))


def _span(job, spread: Spread, half):
    if not spread.drawn[0]:
        shown = units.to_display(half, "volume", job.unit_system.volume)
        digits = 1 if shown >= 0.95 else 2
        return (
            f"The right figure may lie {job.volume_words(half, digits)} off either way, with "
            "reading and capacity as entered."
        )
    low, high = (job.volume_words(max(float(each[0]), 0.0)) for each in (spread.low, spread.high))
    if low == high:
        return f"The right figure is {low}, with reading and capacity as entered."
    return f"The right figure may lie from {low} to {high}, with reading and capacity as entered."
