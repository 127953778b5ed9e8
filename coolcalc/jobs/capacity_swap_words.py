"""How the answer of `capacity_from_swap` is worded."""

import dataclasses
import math

import numpy as np

from ..answers import Line
from ..balance import capacity as kernel
from ..fluids import FRAC_MASS_SETTLED_MAX
from ..instruments import Reading
from ..strength import GLYCOL_BY_MASS
from .capacity_words import FILL_FIRST, give_or_take, span_words
from .printed import litres_by_hand
from .told_words import COLD, mass_words, weak_notes

#: With one side of its span so many times the other, that is said. By judgement, no source. [-]
SKEWED = 1.3


def _percent(share):
    return f"{100 * share:.0f} %"


def _mass_percent(mixture):
    return f"{100 * mixture.strength(GLYCOL_BY_MASS).share:.1f} mass %"


def _whose(job):
    return "" if job.same_instrument else ", on one and the same instrument"


# --- notes ----------------------------------------------------------------------------------------


def notes(job):
    """Yield what the swap tells, or why it tells nothing, and what would."""
    if job.change_sd == 0.0:
        yield (
            "Not told by this swap: both readings are the same, so nothing has moved. Let it go "
            "round, and read again; or a larger swap is needed."
        )
    elif job.too_little:
        yield (
            f"Not told by this swap: the readings differ by {job.change_sd:.1f} standard "
            f"deviations of their difference, and under {kernel.LEAST_SD:.0f} the change is lost "
            "in the errors. Any figure from it would be a guess."
        )
    else:
        yield f"The system holds {span_words(job)}."
        if not math.isfinite(job.change_sd):
            yield (
                "No error of the readings was entered, so the span says nothing: enter them as "
                "read on an instrument, or with their give or take."
            )
        low, value, high = job.known
        if high - value > SKEWED * (value - low):
            yield (
                "The span is wider upward: a reading that moved a little less means a much larger "
                "system."
            )
        if job.precision > kernel.ROUGH:
            yield "That is too rough to plan a correction with: measure better first."
    yield from _next_notes(job)
    yield FILL_FIRST
    if job.after.frac_mass <= FRAC_MASS_SETTLED_MAX:
        yield from weak_notes(job.after)


def _next_notes(job):
    if job.good_enough or not job.has_errors:
        return
    wanted = f"give or take {_percent(job.wanted)}"
    if job.next_share is not None:
        yield f"For {wanted}, a swap of {_next_words(job)} from the first mix would do."
        return
    text = (
        f"No swap of {job.product.name} in one drain tells it to {wanted} with these readings, as "
        "far as a reading can be relied on."
    )
    if job.best_precision is not None:
        text += f" The best gives {_percent(job.best_precision)}."
    if job.advised is not None:
        text += f" Water in its place would: {_next_words(job)}, from the first mix."
    yield text


def _next_words(job):
    share = f"{_percent(job.advised[0])} of what it holds"
    if job.next_swap is None:
        return share
    litres = job.volume_words(job.next_swap.m_as("m^3"))
    return f"{litres} ({share}, if that is {job.volume_words(job.reckoned_m3)})"


# --- steps ----------------------------------------------------------------------------------------


def steps(job):
    """Yield what to do next: write it down, or measure better."""
    if job.good_enough:
        yield (
            f"Write down: holds {job.volume_words(job.known.value)}, {give_or_take(job)}, by a "
            "swap."
        )
        yield (
            "Correct the mix to its target: a swap leaves it at another strength, and a weak one "
            "must not stand in frost."
        )
        return
    yield (
        "Best: leave it, and measure what goes in at the next filling from empty. That is exact to "
        "a few per cent, whatever is inside."
    )
    yield (
        f"For a better swap: engine off and {COLD}. Read the mix"
        f"{_whose(job)}, three times, and take the middle one."
    )
    much, product = "a good deal more than before", job.product
    if job.advised is not None:
        much, product = _next_words(job), job.advised[1]
    yield (
        f"Take out {much} into a can with marks, as far as it comes out, and pour the same "
        f"volume of {product.name}; note both."
    )
    yield (
        "Close the system. Run it with the heater on hot until the thermostat has opened and all "
        f"has gone round; stop, let it cool until it is {COLD}, level, and read again the same "
        "way."
    )
    yield (
        "Enter the two readings here, then correct the mix to its target: a swap leaves it at "
        "another strength, and a weak one must not stand in frost."
    )


# --- figures --------------------------------------------------------------------------------------


def _reading_words(job, told, mixture):
    if isinstance(told, Reading):
        return f"{told.told(job.unit_system)}: {_mass_percent(mixture)}"
    return f"{job.strength_words(mixture)}: {_mass_percent(mixture)}"


def rows(job):
    """Yield the figures behind the answer."""
    for label, told, mixture in (
        ("Before", job.found, job.before),
        ("After", job.read_after, job.after),
    ):
        error = f", give or take {mass_words(mixture.half_width)}" if mixture.half_width else ""
        yield label, f"{_reading_words(job, told, mixture)}{error}"
    yield "Swapped", f"{job.told_words(job.swapped_m3)} for {job.product.name}"
    if math.isfinite(job.change_sd):
        yield (
            "Change of the readings",
            f"{job.change_sd:.1f} standard deviations of their difference",
        )
    yield "Capacity", "not told" if job.too_little else span_words(job)
    if job.advised is not None and not job.good_enough:
        yield f"Swap for {_percent(job.wanted)}", _next_words(job)


def assumptions(job):
    """Yield what the figure takes for granted."""
    yield "It was full to the cold mark before and after, and as much was poured as came out."
    yield "All of it had gone round before both readings, side circuits too."
    if job.same_instrument:
        yield (
            "Both readings are of one instrument: what it is always out by counts in both and "
            "hardly matters; what is left is how well it repeats."
        )
    else:
        yield (
            "The errors of the readings are taken as apart: read both on one instrument, and what "
            "it is always out by falls out."
        )
    yield (
        f"Litres at {job.temp_words(job.swap.temp_k)}; additives of the old mix as in "
        f"{job.before.product.name}."
    )


# --- how it was worked out ------------------------------------------------------------------------


def working_lines(job):
    """Yield the sum by mass, the textbook's by volume, and how far apart they are."""
    swap = job.swap
    glycol, both, poured_glycol, poured_both = (float(np.ravel(x)[0]) for x in kernel.per_m3(swap))
    after = job.after.frac_mass
    yield Line(
        "In a litre",
        f"of the first mix {glycol / 1e3:.4f} kg of glycol in {both / 1e3:.4f} kg without "
        f"additives; of {job.product.name} {poured_glycol / 1e3:.4f} in {poured_both / 1e3:.4f}.",
    )
    if job.likeliest_m3 is not None:
        yield Line(
            "By mass",
            f"{litres_by_hand(job.swapped_m3)} × (1 + ({poured_glycol / 1e3:.4f} − {after:.4f} × "
            f"{poured_both / 1e3:.4f}) / ({after:.4f} × {both / 1e3:.4f} − {glycol / 1e3:.4f})) = "
            f"{litres_by_hand(job.likeliest_m3)}.",
        )
    product = job.before.product
    shares = [job.before.strength().share, job.after.strength().share]
    poured = dataclasses.replace(job.before, frac_mass=job.product.frac_mass).strength().share
    change = shares[1] - shares[0]
    if change * (poured - shares[0]) > 0.0:
        rule = job.swapped_m3 * (poured - shares[0]) / change
        yield Line(
            "Textbook rule",
            f"{litres_by_hand(job.swapped_m3)} × ({100 * poured:.1f} − {100 * shares[0]:.1f}) / "
            f"({100 * shares[1]:.1f} − {100 * shares[0]:.1f}) = {litres_by_hand(rule)}, in per "
            f"cent of {product.short}, as if volumes added.",
        )


def odds_lines(job):
    """Yield how sure it is."""
    if not math.isfinite(job.change_sd):
        yield Line("How sure", "No error of the readings was entered: it is only as good as they.")
        return
    yield Line(
        "Change of the readings",
        f"{job.change_sd:.1f} standard deviations of their difference; from "
        f"{kernel.LEAST_SD:.0f} on it is told.",
    )
    swap = job.swap
    shared, first, second = (
        float(each[0]) for each in (swap.offset, swap.repeat_before, swap.repeat_after)
    )
    yield Line(
        "Errors of the readings",
        f"shared {mass_words(shared)}, of the first alone {mass_words(first)}, of the second alone "
        f"{mass_words(second)} of glycol by mass, 95 times of 100.",
    )
    if job.known is not None:
        yield Line(
            "The span",
            f"{span_words(job)}: {kernel.DRAWS:,} fixed draws of these errors, skewed as they come "
            "out.",
        )
