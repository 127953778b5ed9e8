"""The working of a `FrostStandard`: the stack of margins as a sum, and how sure the low is."""

from .. import units
from ..answers import Line
from ..climate import extremes
from . import winter_low
from .frost_plan import CHANCE, SQUARED
from .frost_rows import ENOUGH, enough_words
from .frost_stack import LOW, stack_of, tenths
from .frost_words import ICE_K
from .told_words import chance_words

_COOLING = (
    "turbulent flow in tubes (Dittus and Boelter): the film goes with ρ^0.8 k^0.7 cp^0.3 μ^−0.5, "
    "ρ density, k conductivity, cp heat capacity, μ viscosity. It is one of two resistances; the "
    "air's stays (crossflow, both unmixed). Pressure goes with ρ^0.75 μ^0.25 (Blasius). With the "
    "same pump the flow falls with ν^(−1/7) at most (a flat curve) and not at all at least (a "
    "steep one), ν = μ/ρ."
)


def working_lines(job):
    """Yield the stack, so that it can be added up by hand, as printed."""
    unit = job.unit_system.temperature_difference
    stack = stack_of(job)
    doubts = [step for step in stack if step.name in SQUARED]
    for step in stack:
        if step.is_sum:
            label = step.words if step.words == LOW else f"= {step.words}"
            yield Line(label, f"{tenths(step.end)} {job.unit_system.temperature}")
        else:
            yield Line(step.words, _step_words(job, step, unit))
        if doubts and step is doubts[-1]:
            yield Line("The doubts together", _squares(job, doubts, unit))
    if any(step.counted for step in doubts):
        yield Line("How a give or take is counted", _one_sided(job))
    yield Line("Floor, ceiling and a whole per cent", _end(job))
    yield Line("Cooling is compared by", _COOLING)


def _one_sided(job):
    return (
        f"on its cold side alone, with {100 * job.needs.chance:.0f} % chance: of a give or take at "
        f"95 % that is {winter_low.one_sided(job.needs.chance):.2f} of it (1.96 standard "
        "deviations are the whole). A low that was fitted brings its own, wider to the cold."
    )


def _step_words(job, step, unit):
    """Return a part of the stack as printed: what it takes, and what it would alone."""
    takes, alone = f"{tenths(step.takes)} {unit}", job.difference_words(step.alone_k, 1)
    if not step.counted:
        return f"switched off (it would be {alone})"
    if step.name in SQUARED:
        return f"{alone} alone; {takes} of the sum"
    return takes


def _squares(job, doubts, unit):
    alone = [
        units.to_display(step.alone_k, "temperature difference", unit)
        for step in doubts
        if step.counted
    ]
    if not alone:
        return "nothing is counted."
    total = f"{tenths(sum(step.takes for step in doubts))} {unit}"
    if len(alone) == 1:
        return f"{total}."
    terms = " + ".join(f"{each:.1f}²" for each in alone)
    return (
        f"√({terms}) = {total}: independent errors add in squares. Added up plainly they would be "
        f"{sum(alone):.1f} {unit}, as if all went wrong at once. Of the sum each has the share "
        "of its square."
    )


def _end(job):
    standard, share = job.standard, 100.0 * job.strength.share
    frost = f"{job.temp_words(standard.fill_need_k, 1)} or colder"
    if standard.fill_need_k >= ICE_K:
        frost = "no frost"
    return (
        f"{job.decides} decides: {frost}, floor and ceiling as told; rounded to a whole per cent, "
        f"{share:.0f} % of {job.product_word}, which freezes at "
        f"{job.temp_words(job.fill.freeze_temp.m_as('kelvin'), 1)}."
    )


def odds_lines(job):
    """Yield how sure the standard is, and the other ways to the low."""
    chance = job.needs.chance
    yield Line(ENOUGH, f"{enough_words(job)}.")
    yield Line(
        "Filled so, it reads within the limits at once", f"{chance_words(job.chance_within)}."
    )
    low = job.winter_low
    if low.doubt_known:
        span = job.doubt
        yield Line(
            "The low of the station",
            f"{job.temp_words(span.value, 1)}, and with {100 * chance:.0f} % chance on each side "
            f"not colder than {job.temp_words(span.low, 1)}, not warmer than "
            f"{job.temp_words(span.high, 1)}.",
        )
    if low.fitted is not None:
        yield from _fit_lines(job, low)
    for years in (10.0, 20.0, 50.0):
        at = low.low_at_k(years)
        if at is not None and years != low.years:
            yield Line(f"Once in {years:.0f} winters", job.temp_words(at, 1))
    if CHANCE in job.needs.without:
        yield Line("Switched off", "No doubt is counted in the stack; the chances above count all.")


def _fit_lines(job, low):
    fitted, good = low.fitted, low.fitted.goodness
    yield Line(
        "By the published n-year formula",
        f"{job.temp_words(low.formula_k, 1)}, from mean and deviation of the same winters.",
    )
    other = winter_low.GEV if fitted.family == winter_low.GUMBEL else winter_low.GUMBEL
    yield Line(
        f"By {other}",
        f"not fitted: it takes {extremes.GEV_FROM} winters."
        if low.other_k is None
        else f"{job.temp_words(low.other_k, 1)}.",
    )
    record = float(fitted.lowest_k.min())
    yield Line(
        "Coldest of the record",
        f"{job.temp_words(record, 1)}, by the fit a night of once in {low.years_of(record):.0f} "
        "winters.",
    )
    yield Line(
        f"How well {winter_low.GUMBEL} fits",
        f"Anderson and Darling's distance {good.distance:.2f}: with lows that are Gumbel's, "
        f"{100 * good.distance_chance:.0f} of 100 records are farther off. L-skewness "
        f"{good.skewness:.2f}; Gumbel's is {extremes.GUMBEL_SKEWNESS:.2f}, and "
        f"{100 * good.skewness_chance:.0f} of 100 records are farther from it.",
    )
    yield Line(
        "Trend",
        f"{job.difference_words(good.trend_k_decade, 1)} in ten years "
        f"({job.difference_words(good.trend_low_k_decade, 1)} to "
        f"{job.difference_words(good.trend_high_k_decade, 1)}; above 0 is milder); without one, "
        f"{100 * good.trend_chance:.0f} of 100 records would show as much.",
    )
