"""The words of a `FrostStandard`: notes, steps, rows, questions, assumptions."""

from ..climate import extremes
from ..climate.winters import MISSING_MAX, SOUTH, colder_left_out
from ..strength import OF_PRODUCT
from . import winter_low
from .compared_nights import NIGHTS_GOOD
from .frost_plan import CEILING, CHANCE, FLOOR, FROST, SHELF, Reach
from .frost_stack import stack_of, tenths
from .told_words import FIRST_CRYSTALS

#: Why a low reads as it does.
WIND = (
    "Wind chill does not count: wind cools an engine faster, not further than the air itself. A "
    "clear sky does: what faces it can stand a few degrees below the air, and that is part of why "
    "a margin in kelvin is kept."
)
THREE_POINTS = (
    "Three things that are not one: freezing point (the first ice crystals, which this standard "
    "goes by), slush (so much ice that a pump or a narrow tube may block), burst (damage). A mix "
    "that has not burst anything may still leave an engine without flow. Only the first is worked "
    "out as a limit here."
)

#: Chance under which a fit or a trend is doubted: common practice, no source. [-]
DOUBTED = 0.05

#: A ceiling this far above 60 mass % of glycol is worth a word. [kg/kg]
WORTH_A_WORD = 0.015

#: Where no frost is. [K]
ICE_K = 273.15

#: Fresh fills that read outside the limits more often than this are worth a word. By judgement,
#: no source. [-]
SENT_BACK = 0.2


# --- figures as printed ---------------------------------------------------------------------------


def low_words(job):
    """Return the low as it was told or fitted."""
    shown = job.temp_words(job.winter_low.low_k, 1)
    return f"{shown}, {basis_words(job)}"


def basis_words(job):
    """Return what the low is and rests on."""
    low = job.winter_low
    once = "" if low.years is None else f"once in {low.years:g} winters"
    if low.basis == winter_low.MINIMA:
        fitted = low.fitted
        return (
            f"{once}: {fitted.family} fitted to the lowest of {fitted.lowest_k.size} winters of "
            f"{fitted.minima.station}"
        )
    if low.basis == winter_low.EXTREMES:
        count = "" if low.winters is None else f" of {low.winters} winters"
        return (
            f"{once} by the n-year formula, from a mean of {job.temp_words(low.mean_k, 1)} and a "
            f"deviation of {job.difference_words(low.sd_k, 1)}{count}"
        )
    told = low.told or "it was not told what it rests on"
    return f"given{' as the low that comes ' + once if once else ''}: {told}"


def record_words(job):
    """Return what a fitted record has and lacks, as printed."""
    fitted = job.winter_low.fitted
    each, minima = fitted.each, fitted.minima
    days = int(each.missing[each.used].sum())
    parts = [f"{fitted.lowest_k.size} winters counted, {_days(days)} missing in them"]
    out = [winter_name(job, each, at) for at in (~each.used).nonzero()[0]]
    if out:
        parts.append(f"left out: {', '.join(out[:4])}{' and more' if out[4:] else ''}")
    look = len(minima.bad) + len(minima.odd)
    if look:
        parts.append(f"{_days(look)} to be looked at")
    return "; ".join(parts)


def _days(count):
    return "1 day" if count == 1 else f"{count} days"


def bound_words(job, bound):
    """Return floor or ceiling as it was told."""
    if bound.told.basis != OF_PRODUCT:
        return str(bound.told)
    return f"{100 * bound.told.share:.3g} % of {job.product_word}"


def limit_labels(job):
    """Return what the two limits are called: on a freezing scale "below" could mean either side."""
    if job.tool.spec.kind == "freezing point":
        return "Correct if warmer than", "Correct if colder than"
    return "Correct below", "Correct above"


# --- notes ----------------------------------------------------------------------------------------


def notes(job):
    """Yield the standard, what it must not be read without, and what is odd or not known."""
    yield _verdict(job)
    yield from alerts(job)
    if job.needs.without:
        left_out = ", ".join(sorted(job.needs.without))
        yield f"Switched off, and not counted: {left_out}. This is a trial, not a standard to use."
    yield from _fresh_notes(job)
    yield from questions(job)
    yield from _stop_notes(job)
    yield from _record_notes(job)


def alerts(job):
    """Yield what a standard must not be read without: that it is short, that limits do not hold."""
    if job.standard.short_k:
        yield _short(job)
        if _instrument_alone(job):
            yield (
                f"It is the give or take of the {job.tool.name} that makes it short: read more "
                "exactly, the low would be met."
            )
    if not job.standard.limits_hold:
        yield _limits_only_keep(job)
    if not job.limits_apart:
        yield (
            "As printed, the limits leave no reading between them. Take an instrument with a finer "
            "scale or less give or take, or widen floor and ceiling."
        )


def _verdict(job):
    fill = job.mix_and_frost(job.fill)
    air = job.temp_words(job.standard.air_k, 1)
    return f"Fill to {fill}. {why_words(job)}. The air that is counted on is {air}{at_words(job)}."


def at_words(job):
    """Return where the air that is counted on is, if not at the depot."""
    where, standard = job.standard.where, job.standard
    if not where:
        return ""
    milder = standard.air_k > standard.depot_air_k
    return f" at {where} (a night stop{', where more is in doubt than at the depot' * milder})"


def why_words(job):
    """Return what decides, and why."""
    if job.standard.fill_need_k >= ICE_K:
        return "The floor for the inhibitors decides: no frost is counted on"
    need = (
        "the frost asks for a freezing point of "
        f"{job.temp_words(job.standard.fill_need_k, 1)} to fill to"
    )
    return {
        FROST: f"The frost decides: {need}",
        FLOOR: f"The floor for the inhibitors decides: {need}, which is weaker",
        CEILING: f"The ceiling decides: {need}, and that is stronger than the ceiling",
        SHELF: f"What is listed to pour decides: {need}, and that is stronger than it can be mixed",
    }[job.decides]


def _short(job):
    short = job.difference_words(job.standard.short_k, 1)
    years = job.holds_years
    what = "nothing mixed of what is listed" if job.decides == SHELF else "no strength up to the "
    text = f"Short by {short}: {what}{'' if job.decides == SHELF else 'ceiling'} meets this frost."
    if years is None or years != years:
        return text
    met = "not even the low of every second winter" if years < 2.0 else _once(years)
    return f"{text} With the same margins the fill meets {met}."


def _once(years):
    if years > 1000.0:
        return "a low of less than once in 1,000 winters"
    return f"only a low that comes about once in {years:.0f} winters"


def _short_of_any(job):
    """Whether the frost would not be met with any product."""
    return job.plan(job.needs._replace(reach=Reach(0.0, 1.0))).short_k


def _instrument_alone(job):
    """Whether the frost would be met with an instrument that reads exactly."""
    exact = job.needs._replace(without=job.needs.without | {"instrument"})
    return not job.plan(exact).short_k


def _limits_only_keep(job):
    what = "holds this low" if job.standard.short_k else "is between floor and ceiling"
    finer = "" if job.standard.short_k else " Take an instrument with less give or take."
    return (
        f"The limits only keep vehicles to the fill: between them a reading on this "
        f"{job.tool.name} does not show, with {100 * job.needs.chance:.0f} % chance, that a "
        f"vehicle {what}.{finer}"
    )


def _fresh_notes(job):
    if job.chance_within < 1.0 - SENT_BACK:
        back = max(round(10.0 * (1.0 - job.chance_within)), 1)
        yield (
            f"Of ten vehicles that are filled rightly, about {back} will read outside the limits "
            "at once: so much come mixing and instrument to, and so near do the limits lie."
        )


def _stop_notes(job):
    """Yield the night stops that are colder than what is counted on, and why they do not decide."""
    why = (
        ", and less is in doubt there: with all doubts it asks for less, so it does not decide"
        if job.needs.counts("night stop")
        else ""
    )
    for stop in job.stops:
        if stop.low_k < job.standard.air_k and stop.name != job.standard.where:
            low = job.temp_words(stop.low_k, 1)
            yield f"The night stop {stop.name} ({low}) is colder than what is counted on{why}."


def questions(job):
    """Yield what is not known yet, and how to find it out."""
    site, stop = job.site, job.stop_that_decides
    if not job.winter_low.doubt_known and (stop is None or stop.off_k is None):
        yield (
            "Nothing is known of how sure the low is, so nothing is counted for it. "
            + (
                "Enter of how many winters mean and deviation are, or"
                if job.winter_low.basis == winter_low.EXTREMES
                else "Enter its give or take, or"
            )
            + " daily minima of a station, from which it is worked out."
        )
    if stop is not None and stop.off_k is None:
        yield (
            f"How sure the low at {stop.name} is was not told; it is taken to be as sure "
            "as that of the depot. Give that place a standard of its own, from its daily minima, "
            "and enter it as the night stop."
        )
    if (stop or site).half_width_k is None and (stop is not None or site.measured):
        yard = "the yard" if stop is None else f"the yard at {stop.name}"
        yield (
            f"By how much {yard} is colder was told without its give or take, so nothing is "
            "counted for that. Enter it, or the nights that were compared."
        )
    if 0 < site.nights < NIGHTS_GOOD:
        yield (
            f"{site.nights} nights are few to tell how much colder the yard is; go on until there "
            f"are {NIGHTS_GOOD} or more."
        )
    if site.measured:
        return
    if site.kind == "not told":
        yield (
            "How the depot lies was not told. Cold air flows downhill and lies in hollows and on "
            "valley floors on clear, still nights. Say how it lies; best, keep a thermometer in "
            "the yard that holds the lowest reading, and compare it with the station."
        )
    heights = (site.station_m, site.depot_m)
    if None in heights:
        yield (
            "Heights of station and depot were not both told, so the depot is taken to be as cold "
            "as the station."
        )
        return
    below = job.altitude_words(abs(heights[0] - heights[1]))
    step = next((each for each in stack_of(job) if each.name == "site"), None)
    if step is not None and step.takes:
        shown = f"{tenths(step.takes)} {job.unit_system.temperature_difference}"
        yield (
            f"The depot lies {below} higher than the station: {shown} are counted, the fall of "
            "temperature with height in the standard atmosphere. For night minima that is mostly "
            "too much, and in a hollow up there far too little: only a comparison of nights tells."
        )
    elif heights[1] < heights[0]:
        yield (
            f"The depot lies {below} lower than the station. Nothing is taken off for that: on the "
            "coldest nights low ground is often the colder one."
        )


def _record_notes(job):
    fitted = job.winter_low.fitted
    if fitted is None:
        return
    each, good = fitted.each, fitted.goodness
    count = fitted.lowest_k.size
    if count <= extremes.WINTERS_FEW:
        yield (
            f"{count} winters are few: what is counted for the doubt about the low is large for "
            "that reason, and a longer record would lower it."
        )
    yield from _left_out_notes(job, each)
    record = int(fitted.lowest_k.argmin())
    # In the yard, with the margin: a night that the fill would not meet.
    counted = {part.name: part.takes_k for part in job.margins}
    asks_k = float(fitted.lowest_k[record]) - counted["site"] - counted["margin"]
    if job.fill.freeze_temp.m_as("kelvin") > asks_k:
        day = each.lowest_day[each.used][record].astype(object)
        yield (
            "The record holds a night that the fill would not meet with what is counted: "
            f"{job.temp_words(float(fitted.lowest_k[record]), 1)} at the station, on "
            f"{day.isoformat()}."
        )
    if good.distance_chance < DOUBTED:
        yield (
            f"The lows do not follow {winter_low.GUMBEL} well (chance {good.distance_chance:.2f}): "
            "look at the figure of the winters, and set the record night beside the low."
        )
    if good.skewness_chance < DOUBTED:
        side = "heavier" if good.skewness > extremes.GUMBEL_SKEWNESS else "lighter"
        yield (
            f"The cold end of the lows is {side} than {winter_low.GUMBEL}'s "
            f"(chance {good.skewness_chance:.2f}); compare the other fit in how sure it is."
        )
    if good.trend_chance < DOUBTED:
        way = "milder" if good.trend_k_decade > 0.0 else "colder"
        by = job.difference_words(abs(good.trend_k_decade), 1)
        why = {
            "milder": "nothing is taken off for it.",
            "colder": "an old record promises too much. Was the station moved?",
        }[way]
        yield f"The winters have grown {way} by {by} in ten years: {why}"
    yield from _table_notes(fitted.minima)


def _left_out_notes(job, each):
    left_out = [winter_name(job, each, at) for at in (~each.used).nonzero()[0]]
    if not left_out:
        return
    names = ", ".join(left_out[:6]) + (f" and {len(left_out) - 6} more" if left_out[6:] else "")
    yield (
        f"Not counted, since more than {MISSING_MAX} days of the cold season are missing: {names}."
    )
    for at in colder_left_out(each).nonzero()[0]:
        yield (
            f"A winter that is not counted, {winter_name(job, each, at)}, had "
            f"{job.temp_words(float(each.lowest_k[at]), 1)}, colder than all that are. Find the "
            "missing days, or set that night beside the low."
        )


def winter_name(job, each, at):
    """Return a winter as printed: 2003/04, or 2003 where it lies in one calendar year."""
    first = int(each.first_year[at])
    if job.winter_low.fitted.begins == SOUTH:
        return str(first)
    return f"{first}/{(first + 1) % 100:02d}"


def _table_notes(minima):
    if minima.bad:
        first = minima.bad[0]
        one = len(minima.bad) == 1
        rows = "1 row" if one else f"{len(minima.bad)} rows"
        missing = "counts as a missing day" if one else "count as missing days"
        yield (
            f"{rows} of the table cannot be used and {missing}; the first is row "
            f"{first.number}, {first.found}: {first.why}"
        )
    if minima.odd:
        first = minima.odd[0]
        days = "1 day is" if len(minima.odd) == 1 else f"{len(minima.odd)} days are"
        yield f"{days} kept that should be looked at; the first is {first.day}: {first.why}"


# --- steps ----------------------------------------------------------------------------------------


def steps(job):
    """Yield what the depot does, in the order of the work."""
    yield f"Mix and fill to {job.mix_and_frost(job.fill)}."
    if job.decides == SHELF:
        yield "That is not enough by itself. List a stronger product to mix, and set it again."
    if job.decides == CEILING or (job.decides == SHELF and _short_of_any(job)):
        also = "A stronger product" if job.decides == SHELF else "That"
        yield (
            f"{also} is not enough by itself. For the coldest nights it takes something else as "
            "well: vehicles under a roof with the engine off (exhaust gas kills), an engine heater "
            "that its maker allows, or no vehicle left there. More glycol is no way out: above 60 "
            "mass % no gain can be counted on, and it cools less."
        )
    weak, strong = limit_labels(job)
    within = "Within, leave it." if job.standard.limits_hold else "Within, it keeps to the fill."
    yield (
        f"Read every vehicle on this instrument: {job.scale_words()}. {weak} {job.correct_below}: "
        f"too weak. {strong} {job.correct_above}: too strong. {within}"
    )
    yield "Another instrument or scale has other limits: set the standard again for it."
    yield f"Test: {job.test_every}."
    if not job.site.measured:
        yield (
            "Before the winter, hang a thermometer in the yard that keeps the lowest reading, and "
            "write it down beside the station's after each clear, still night. Enter the "
            "nights here."
        )
    yield "Hang up the sheet where vehicles are read, and set the standard again every few years."


# --- assumptions ----------------------------------------------------------------------------------


def assumptions(job):
    """Yield what the figures take for granted, and what they do not count."""
    if job.needs.ceiling.frac_mass > job.needs.ceiling.counted + WORTH_A_WORD:
        yield (
            f"The ceiling of {bound_words(job, job.needs.ceiling)} is above 60 mass % of glycol, "
            "from where on no gain in frost protection can be counted on; those 60 are taken."
        )
    chance = 100 * job.needs.chance
    yield FIRST_CRYSTALS
    yield THREE_POINTS
    yield WIND
    if CHANCE not in job.needs.without:
        yield (
            "Every doubt that is counted is counted on its cold side, with a chance of "
            f"{chance:.0f} % for all of them together: as independent errors, they add in squares."
        )
    yield (
        "What is in doubt about the low is one thing for all vehicles of a depot: if it is wrong, "
        "it is wrong for all of them in one night."
    )
    years = job.winter_low.years
    if years is not None:
        one, ten = (100 * extremes.chance_within(years, each) for each in (1, 10))
        yield (
            f"A low of once in {years:g} winters is passed in any one winter with a chance of "
            f"{one:.0f} %, and at least once in ten with {ten:.0f} %."
        )
    if job.needs.counts("margin") and job.needs.margin_k:
        yield (
            f"The margin of {job.difference_words(job.needs.margin_k, 1)} stands for what is not "
            "worked out: parts that face a clear sky, pockets that are mixed badly. By judgement, "
            "no source. A lump margin of 5 or 6 K, as fleets keep one (common practice, no "
            "source), holds the doubts too."
        )
    yield (
        f"Mixing and measuring out end within {100 * job.needs.mixing:.3g} % of product of what "
        "was meant, at 95 % (common practice, no source, unless it was told)."
    )
    if job.needs.lost and job.needs.counts("top-ups"):
        yield (
            f"Between two tests {100 * job.needs.lost:.3g} % of the coolant is lost and made up "
            "with plain water."
        )
    else:
        yield "No water is counted that is poured between two tests: read after each top-up."
    yield (
        "Floor and ceiling are the range of heavy-duty coolant in service, unless told otherwise; "
        "the maker's handbook comes before both."
    )
    if job.winter_low.basis == winter_low.EXTREMES:
        yield (
            "Printed extremes are of hourly values; a thermometer that keeps the lowest reading "
            f"shows about {job.difference_words(winter_low.HOURLY_K, 1)} less (ASHRAE), and that "
            "is counted unless it was switched off."
        )
    if job.winter_low.fitted is not None:
        yield (
            "The coming winters are taken to be like those of the record, and the station's "
            "thermometer to stand in free air at the usual height."
        )
    yield (
        "Cooling is that of a radiator with turbulent flow; the share of its resistance on the "
        "coolant's side, and the pump's curve, are not known, and the span holds both ends of each."
    )
