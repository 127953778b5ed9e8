"""The figures of a `FrostStandard` as rows: strength, limits, cooling, bursting, slush."""

from decimal import ROUND_CEILING, ROUND_FLOOR

from .. import units
from ..answers import Row
from ..balance import cooling
from .boil_margin_words import holds_words, margin_words, span_words
from .burst_table import burst_row
from .frost_words import at_words, bound_words, limit_labels, low_words, record_words
from .told_words import chance_words

#: Coolant above the air at full load, for an example: 90 °C in air of 35 °C. [K]
ABOVE_AIR_K = 55.0

#: Less is told as less than a kelvin. [K]
NO_HOTTER_K = 0.75

#: A ratio this near to one is no difference. [-]
SAME = 0.005


ENOUGH = "Chance that the fill is enough for that low, its margin kept"


def enough_words(job):
    """Return the chance that the fill is enough, and how often it is colder all the same."""
    if job.chance_to_hold is None:
        return "not worked out: it was not told how sure the low is, or the difference of the site"
    words = chance_words(job.chance_to_hold)
    years = job.winter_low.years
    if years is None:
        return words
    return f"{words}; a colder night than that low comes in {100.0 / years:.2g} of 100 winters"


def rows(job):
    """Yield the figures."""
    yield Row("Low", low_words(job))
    yield Row("Air counted on", f"{job.temp_words(job.standard.air_k, 1)}{at_words(job)}")
    yield Row("Decides", job.decides)
    yield Row("Fill to", job.mix_and_frost(job.fill))
    weak, strong = limit_labels(job)
    yield Row(weak, f"{job.correct_below} ({_at_least(job)})")
    yield Row(strong, f"{job.correct_above} ({_at_most(job)})")
    yield Row("Instrument", job.scale_words())
    yield Row("Floor for the inhibitors", bound_words(job, job.needs.floor))
    yield Row("Ceiling for cooling", bound_words(job, job.needs.ceiling))
    if job.winter_low.fitted is not None:
        yield Row("Record", record_words(job))
    yield Row(ENOUGH, enough_words(job))
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
        way, by = hotter_words(job, given)
        yield Row(
            f"Coolant runs {way} at full load, against {name}",
            f"by {by} with the same pump, where it stood "
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
    """Return "hotter" or "cooler", and by how much at the same heat, as printed."""
    hotter = cooling.hotter_k(given.at_fixed_pump.heat_rejected, ABOVE_AIR_K)
    way = "cooler" if hotter.value < 0.0 else "hotter"
    near, far = sorted((abs(float(hotter.low)), abs(float(hotter.high))))
    if far < NO_HOTTER_K:
        return way, f"less than {job.difference_words(1.0)}"
    if float(hotter.low) * float(hotter.high) < 0.0:
        return way, f"at most {job.difference_words(far)}"
    value, near, far = (
        job.difference_words(abs(float(each))) for each in (hotter.value, near, far)
    )
    return way, f"{value} ({near} to {far})"


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
            f"{row.freeze} % glycol against freezing, {row.burst} % against bursting (basis not "
            "printed; volume, by its freezing column). For engines no table was found, and an "
            "engine that has not burst may still have no flow",
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
