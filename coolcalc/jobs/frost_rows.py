"""The figures of a `FrostStandard` as rows: strength, limits, cooling, bursting, slush."""

from decimal import ROUND_CEILING, ROUND_FLOOR

from .. import units
from ..answers import Row
from ..balance import cooling
from .boil_margin_words import holds_words, margin_words, span_words
from .burst_table import burst_row
from .frost_words import bound_words, low_words
from .told_words import chance_words

#: Coolant above the air at full load, for an example: 90 °C in air of 35 °C. [K]
ABOVE_AIR_K = 55.0

#: Less is told as less than a kelvin. [K]
NO_HOTTER_K = 0.75

#: A ratio this near to one is no difference. [-]
SAME = 0.005


def rows(job):
    """Yield the figures."""
    yield Row("Low", low_words(job))
    yield Row("Coldest air counted on", job.temp_words(job.standard.air_k, 1))
    yield Row("Decides", job.decides)
    yield Row("Fill to", job.mix_and_frost(job.fill))
    yield Row("Correct below", f"{job.correct_below} ({_at_least(job)})")
    yield Row("Correct above", f"{job.correct_above} ({_at_most(job)})")
    yield Row("Instrument", job.scale_words())
    yield Row("Floor for the inhibitors", bound_words(job, job.needs.floor))
    yield Row("Ceiling for cooling", bound_words(job, job.needs.ceiling))
    yield Row("Filled so, a vehicle holds", chance_words(job.chance_to_hold))
    yield Row("Filled so, it reads within the limits", chance_words(job.chance_within))
    yield from cooling_rows(job)
    yield from burst_rows(job)
    if job.boil is not None:
        yield Row("Boils in summer", _boils(job.boil))
    yield from slush_rows(job)


def _at_least(job):
    return f"at least {percent_words(job, job.standard.weakest, ROUND_CEILING)}"


def _at_most(job):
    return f"at most {percent_words(job, job.standard.strongest, ROUND_FLOOR)}"


def cooling_rows(job):
    """Yield what the fill gives away in cooling, and costs in pumping."""
    at = job.temp_words(job.cooling_at_k)
    for name, given in (
        ("plain water", job.cooling_against_water),
        ("today's mix", job.cooling_against_today),
    ):
        if given is None:
            continue
        fixed, pump = given.at_fixed_flow, given.at_fixed_pump
        yield Row(
            f"Heat that the radiator gives off, against {name}, at {at}",
            f"{ratio_words(pump.heat_rejected)} with the same pump; "
            f"{ratio_words(fixed.heat_rejected)} at the same flow",
        )
        yield Row(
            f"Coolant runs hotter at full load, against {name}",
            f"by {hotter_words(job, given)} with the same pump, where it stood "
            f"{job.difference_words(ABOVE_AIR_K)} above the air",
        )
        yield Row(
            f"Pumping, against {name}",
            f"{ratio_words(fixed.power)} power at the same flow; with the same pump "
            f"{ratio_words(pump.flow)} flow",
        )


def _boils(boil):
    return (
        f"at about {span_words(boil, boil.held_k)} {holds_words(boil)}; the {boil.hot_name} "
        f"({boil.temp_words(boil.hot_k)}) is {margin_words(boil, boil.margin_k)} below that"
        if boil.verdict == "margin"
        else f"{boil.notes[0]}"
    )


def hotter_words(job, given):
    """Return by how much hotter the coolant runs at the same heat, as printed."""
    hotter = cooling.hotter_k(given.at_fixed_pump.heat_rejected, ABOVE_AIR_K)
    low, value, high = (float(each) for each in (min(hotter), hotter.value, max(hotter)))
    if max(abs(low), abs(high)) < NO_HOTTER_K:
        return f"less than {job.difference_words(1.0)}"
    ends = " to ".join(job.difference_words(each) for each in (low, high))
    return f"{job.difference_words(value)} ({ends})"


def slush_rows(job):
    """Yield what the weakest mix of the standard turns to below its freezing point."""
    below, ice, _ = job.slush
    parts = [
        f"{job.difference_words(k)} below: {100 * share:.0f} % ice"
        for k, share in zip(below, ice, strict=True)
        if share == share
    ]
    if parts:
        first = job.temp_words(job.mixture_of(job.standard.weakest).freeze_temp.m_as("kelvin"))
        yield Row(
            f"The weakest mix within the limits, below its first crystals at {first}",
            f"{'; '.join(parts)} (by the lever rule, where it stands long enough)",
        )


def burst_rows(job):
    """Yield what is printed of bursting, for the air that is counted on."""
    row = burst_row(job.product.fluid, job.standard.hold_k)
    if row is not None:
        yield Row(
            f"Printed for pipes, not engines, at {job.temp_words(row.temp_k)}",
            f"{row.freeze} % glycol by volume against freezing, {row.burst} % against bursting; "
            "no table for engines was found",
        )


def percent_words(job, frac_mass, rounding):
    """Return a strength as a whole per cent of product, rounded to its safe side."""
    share = job.mixture_of(frac_mass).strength().share
    return f"{units.show(share, 'share', '%', 0, rounding)} of {job.product_word}"


def ratio_words(ratio):
    """Return a ratio as printed: how much less or more, with its ends."""
    low, value, high = (float(each) - 1.0 for each in ratio)
    if value != value:
        return "not worked out: the flow would not be turbulent"
    if max(abs(low), abs(value), abs(high)) < SAME:
        return "the same"
    ends = sorted((abs(low), abs(high)))
    if low * high < 0.0:
        return f"{_percent(value)} ({_percent(low)} to {_percent(high)})"
    side = "less" if value < 0.0 else "more"
    return f"{100 * abs(value):.0f} % {side} ({100 * ends[0]:.0f} to {100 * ends[1]:.0f} %)"


def _percent(share):
    return f"{100 * abs(share):.0f} % {'less' if share < 0.0 else 'more'}"
