"""The stack of margins as it is drawn and printed: steps that add up as they stand.

A reader adds up what is printed. Rounded by themselves, steps and sums differ by a tenth here and
there; so the temperatures are rounded, and a step is the difference of the two beside it.
"""

from typing import NamedTuple

#: What each part of the stack is called.
PART_WORDS = {
    "hourly": "Tables are of hourly values",
    "site": "From the station to the depot",
    "night stop": "A night stop",
    "margin": "Margin",
    "low": "Doubt about the low",
    "site doubt": "Doubt about the site",
    "curve": "Doubt about the freezing curve",
    "instrument": "The instrument",
    "top-ups": "Water poured between two tests",
    "mixing": "Mixing and measuring out",
}

#: Sums in the stack: after which part each stands, and what it is called.
SUMS = {
    "night stop": "Air counted on",
    "margin": "Air less the margin",
    "top-ups": "What a reading must show",
    "mixing": "Freezing point to fill to",
}
LOW = "Low of the station"


class Step(NamedTuple):
    """A row of the stack.

    Attributes
    ----------
    name : str
        Of a part, one of `coolcalc.jobs.frost_plan.PARTS`; "" for a sum.
    words : str
    takes : float
        By how much it goes to the cold, as printed; 0 for a sum. [display unit of differences]
    begin, end : float
        Temperature before and after it, as printed. [display unit]
    alone_k : float
        What it would take by itself. [K]
    counted : bool
    """

    name: str
    words: str
    takes: float
    begin: float
    end: float
    alone_k: float
    counted: bool

    @property
    def is_sum(self):
        """Whether it is a sum, not a part."""
        return not self.name


def number_of(words):
    """Return the number that a printed figure begins with."""
    return float(words.split()[0].replace("−", "-").replace(",", ""))


def tenths(value):
    """Return a figure as printed: one decimal, and a minus sign that is one."""
    return f"{value:.1f}".replace("-", "−")


def stack_of(job):
    """Return the stack of a `FrostStandard`, `Step` by step, from the low to what to fill to."""
    standard = job.standard
    sums_k = {
        "night stop": standard.air_k,
        "margin": standard.hold_k,
        "top-ups": standard.limit_k,
        "mixing": standard.fill_need_k,
    }
    at_k = job.winter_low.low_k
    at = number_of(job.temp_words(at_k, 1))
    steps = [Step("", LOW, 0.0, at, at, 0.0, True)]
    for part in job.margins:
        at_k -= part.takes_k
        # Sums are printed elsewhere too; the dust of adding up must not round them another way.
        at_k = sums_k.get(part.name, at_k)
        after = number_of(job.temp_words(at_k, 1))
        if part.takes_k or part.alone_k:
            takes = round(at - after, 1)
            words = PART_WORDS[part.name]
            if part.name == "night stop" and standard.where:
                words = f"{standard.where}, a night stop"
            steps.append(Step(part.name, words, takes, at, after, part.alone_k, part.counted))
        at = after
        if part.name in sums_k:
            steps.append(Step("", SUMS[part.name], 0.0, at, at, 0.0, True))
    return tuple(steps)
