"""How sure a `MixCorrection` is, in words: folded away on a page, at hand in a notebook."""

from .. import units
from ..answers import Line
from ..balance.spread import Spread

#: What each input is called.
CAUSE_WORDS = {"found": "the reading", "capacity": "the capacity"}


def chance_words(chance):
    """Return a chance as printed: a whole per cent, never 0 or 100."""
    if chance > 0.995:
        return "more than 99 %"
    return "less than 1 %" if chance < 0.005 else f"{100 * chance:.0f} %"


def odds_lines(job):
    """Return the lines: chance to hold, give or take of each figure, what to measure better."""
    if job.blocked:
        yield Line("How sure", "There are no litres to be sure of.")
        return
    yield Line("Chance to hold the target", _chance(job))
    yield from job.frost_lines()
    yield from _litres(job)
    yield from job.give_or_take_lines()
    if job.outcome.drawn[0]:
        yield Line("How it was found", "By a fixed set of draws, since a limit is near.")


def _chance(job):
    text = (
        f"{chance_words(job.chance_to_hold)}: that the mix is afterwards no weaker than the target."
    )
    if job.aim is None:
        return (
            f"{text} Litres that aim at the target itself end a little weaker about half of the "
            "time; give a chance to aim at, and they aim beyond it."
        )
    return f"{text} {100 * job.aim:.0f} % was aimed at."


def _litres(job):
    names = ["Take out", *(f"Pour {product.name}" for product in job.shelf)]
    for name, spread in zip(names, job.litres, strict=True):
        half = float(spread.half_width[0])
        if half > 0.0 and spread.high[0] > 0.0:
            yield Line(name, _span(job, spread, half))


def _span(job, spread: Spread, half):
    if not spread.drawn[0]:
        shown = units.to_display(half, "volume", job.unit_system.volume)
        digits = 1 if shown >= 0.95 else 2
        return (
            f"The right figure may lie {job.volume_words(half, digits)} off either way, with "
            "reading and capacity as entered."
        )
    low, high = (max(float(each[0]), 0.0) for each in (spread.low, spread.high))
    return (
        f"The right figure may lie from {job.volume_words(low)} to {job.volume_words(high)}, with "
        "reading and capacity as entered."
    )


def better_words(job):
    """Say which input to measure better, and what would be left."""
    name = job.measure_better
    rest = sum(part**2 for cause, part in job.causes.items() if cause != name) ** 0.5
    share = 100 * job.causes[name] ** 2 / sum(part**2 for part in job.causes.values())
    how = {
        "found": "read three times and take the mean, on an instrument zeroed on water",
        "capacity": "measure what goes in when it is next filled from empty",
    }[name]
    return (
        f"Most of it ({share:.0f} % of the variance) comes from {CAUSE_WORDS[name]}: {how}. Were "
        f"it exact, {100 * rest:.2g} mass % would be left."
    )
