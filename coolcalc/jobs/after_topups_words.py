"""The words of an `AfterTopups`: notes, steps, rows, assumptions, working."""

from .. import units
from ..answers import Line, Row
from ..balance import dilution
from ..errors import REASONS, Status
from ..product import WATER
from ..system import FILLS, MAY_NOT
from .balance_lines import (
    inside_line,
    kilograms,
    of_product,
    poured_line,
    strength_line,
    sum_line,
    taken_line,
    volume,
)
from .told_words import (
    COLD,
    FIRST_CRYSTALS,
    chance_words,
    circuit_notes,
    expected_words,
    found_words,
    how_exact,
    make_up_words,
    old_mix,
    on_the_same,
    per_cent_means,
    read_again,
    reading_notes,
    side_notes,
    system_holds,
    target_note,
    too_strong,
    valves,
)

#: Weaker by no more than this is not weaker to whoever reads. [kg/kg]
SAME = 0.005

LEAK = "Topping up again and again is a leak until shown otherwise."


def _counted(job):
    """Return how many top-ups of how much, as printed."""
    count = len(job.topups_m3)
    total = job.told_words(job.total_m3)
    if count == 1:
        return f"1 top-up of {total} of water"
    if job.equal:
        return f"{count} top-ups of {job.told_words(job.mean_m3)} of water ({total} in all)"
    return f"{count} top-ups of water ({total} in all)"


def _ordinal(count):
    last = count % 10 if count % 100 not in (11, 12, 13) else 0
    return f"{count}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(last, 'th') }"


def _tenths(job, mixture):
    """Return a strength with one decimal: a top-up moves it by little."""
    share = mixture.strength().share
    if share > 1.0:
        return job.strength_words(mixture)
    return f"{100 * share:.1f} % of {job.product_word}"


# --- notes ----------------------------------------------------------------------------------------


def notes(job):
    """Yield strength, standard, rate and contents first; then what is odd."""
    yield (
        f"After {_counted(job)}, inside now: {job.mix_and_frost(job.after)}. Before: "
        f"{job.mix_and_frost(job.before)}."
    )
    if job.steam:
        yield (
            "Only water was lost, and water made it up: the strength is as it was. Before each "
            f"top-up it was up to {_tenths(job, _strongest(job))}."
        )
    yield from circuit_notes(job)
    if job.target is not None:
        yield target_note(job, "standard")
        yield from _lost_notes(job)
    if job.rate_m3 is not None:
        yield f"That is {_rate(job)}. {LEAK}"
    elif len(job.topups_m3) > 1:
        yield LEAK
    yield from job.strength_notes()
    yield from _additive_notes(job)
    if job.status & Status.START_NOT_SETTLED:
        yield REASONS[Status.START_NOT_SETTLED].sentence
    yield from reading_notes(job)
    yield from side_notes(job, done=True)


def _strongest(job):
    return max(job.lows, key=lambda mixture: mixture.frac_mass)


def _rate(job):
    hours = units.write(job.hours, "hours", "h")
    return (
        f"{job.volume_words(job.rate_m3)} in 1,000 h ({job.told_words(job.total_m3)} in {hours} h)"
    )


def _lost_words(job):
    """Say with which of equal top-ups the standard is lost; None where nothing is to be said."""
    if job.steam:
        return "not by topping up: only water was lost"
    each = f"of {job.volume_words(job.mean_m3, job.step.decimals + (0 if job.equal else 1))}"
    if job.lost_after is None:
        return f"with none of {dilution.COUNT_MAX} top-ups {each}"
    if job.lost_after == 0:
        return "not held before the first top-up either"
    mean = "" if job.equal else ", their mean"
    return f"with the {_ordinal(job.lost_after)} of equal top-ups {each}{mean}"


def _lost_notes(job):
    if job.steam or too_strong(job):
        return
    if job.lost_after == 0:
        yield "The standard was not held before the first top-up either."
    else:
        yield f"By mass, the standard is lost {_lost_words(job)}."


def _additive_notes(job):
    if not job.additive:
        return
    carried = "; ".join(
        f"{_capital(name)}: {_content(value, 5)} before, by dilution alone about "
        f"{_content(job.additive_after[name], 2)} now"
        for name, value in job.additive.items()
    )
    organic = (
        " No nitrite in an organic coolant is no fault."
        if any("nitrite" in name.casefold() for name in job.additive)
        else ""
    )
    yield (
        f"{carried}. Used-up chemistry is not counted: test again, and the product's own limits "
        f"decide.{organic}"
    )


def _capital(name):
    return name[:1].upper() + name[1:]


def _content(value, digits):
    """Return a content as printed: so many significant digits. [mg/L]."""
    rounded = float(f"{value:.{digits}g}")
    return f"{units.write(rounded, 'concentration in water', 'mg/L')} mg/L"


# --- steps ----------------------------------------------------------------------------------------


def steps(job):
    """Yield the actions: find where it goes, bring round, read, correct, top up with mix."""
    yield _where_it_went(job)
    if job.system.fill == FILLS[2]:
        # What counts there is not the strength, so there is no reading to go by.
        yield REASONS[Status.NOT_TO_BE_CORRECTED].next_step
        return
    opened = "".join(f", the {valve} fully open," for valve in valves(job))
    yield (
        f"Run the engine with the heater on hot{opened} until the thermostat has opened and the "
        "last water has gone round, before the vehicle stands in frost. Stop, let it cool until "
        f"it is {COLD}, and read{on_the_same(job)}: {read_again(job)}."
    )
    if job.holds is False or too_strong(job):
        yield "Keep it out of frost until it is corrected: going round does not make it hold."
    if job.after.settled and job.steam:
        yield "If it reads weaker than that, part of what was lost was mix: go by the reading."
    elif job.after.settled:
        yield (
            "If it reads weaker than that, more was lost than was told; if stronger, less was, or "
            "part of it was only water: go by the reading."
        )
    yield from _correct_step(job)
    if job.additive:
        yield f"Test {' and '.join(job.additive)} again; go by the product's own limits."
    yield _top_up_step(job)


def _where_it_went(job):
    if job.steam:
        return (
            f"Engine off and {COLD}: find out why water boils off. A closed system gives off "
            "none; have cap, fans, level and leaks looked over as the maker's handbook says."
        )
    return (
        f"Engine off and {COLD}: find out where it went. A level that falls is a leak until shown "
        "otherwise; look for it as the maker's handbook says, before the mix is corrected."
    )


def _correct_step(job):
    enter = (
        "enter the reading in a correction of the mix; it gives the litres to take out and to pour."
    )
    if job.status & Status.NOT_TO_BE_CORRECTED:
        weaker = "" if job.steam else "Water in it makes it weaker than its maker delivers it. "
        yield f"{weaker}{REASONS[Status.NOT_TO_BE_CORRECTED].next_step}"
    elif too_strong(job):
        yield f"That is too strong: {enter}"
    elif job.holds is False:
        yield f"That does not hold the standard ({job.target_words}): {enter}"
    elif job.holds is None:
        yield f"Where that is weaker than the vehicle needs, {enter}"


def _top_up_step(job):
    if job.status & Status.NOT_TO_BE_CORRECTED:
        return f"From now on, top up with {make_up_words(job)}."
    if too_strong(job):
        return "Top up with nothing until it is corrected: the correction says what to pour."
    if job.steam:
        return (
            "Until the cause is found, make up what boils off with water that meets the maker's "
            "limits; mix would make it stronger each time."
        )
    wanted = f"mix of {job.strength_words(job.before)}"
    if job.target_frac_mass is not None:
        wanted = f"mix that holds the standard ({job.target_words})"
    return f"From now on, top up with {wanted}, mixed in a clean can, not with water."


def no_label(job):
    """Return why a label may not tell to top up with what is inside now, or an empty text."""
    if job.status & Status.NOT_TO_BE_CORRECTED:
        return f"The circuit is {job.system.fill}, and water was poured in."
    if job.steam:
        return "Water boils off, and until the cause is found it is made up with water, not mix."
    if job.holds is False:
        return f"What is inside does not hold the standard ({job.target_words})."
    if job.holds is None and job.before.frac_mass - job.after.frac_mass > SAME:
        return "What is inside is weaker than it was, and is not to be topped up with the same."
    return ""


def _chance(job):
    if too_strong(job):
        return "not to be counted on: the mix is too strong"
    return chance_words(job.chance_to_hold)


# --- rows -----------------------------------------------------------------------------------------


def rows(job, most):
    """Yield the figures; of more than ``most`` top-ups, the last only."""
    yield Row("Capacity", job.volume_words(job.system.capacity_m3))
    yield Row("Found before", found_words(job))
    yield Row("Found before, as strength", job.strength_words(job.before))
    yield Row("Freezing point as found", job.freezing_words(job.before))
    yield Row("Lost before each top-up", "water alone, as steam" if job.steam else "mix")
    yield Row("Topped up with water", _counted(job))
    count = len(job.topups_m3)
    shown = zip(job.topups_m3, job.lows, job.strengths, strict=True)
    for at, (volume_m3, low, full) in enumerate(shown, 1):
        if count <= most or at == count:
            rose = f"{_tenths(job, low)} before it; " if job.steam else ""
            yield Row(
                f"After top-up {at} ({job.told_words(volume_m3)})",
                f"{rose}{_tenths(job, full)}, {job.freezing_words(full)}",
            )
    if job.target is not None:
        yield Row("Standard", job.target_words)
        yield Row("Standard lost", _lost_words(job))
        yield Row("Chance to hold the standard", _chance(job))
    if job.rate_m3 is not None:
        yield Row("Topped up in 1,000 h", _rate(job))
    for name, value in job.additive_after.items():
        yield Row(f"{_capital(name)}, by dilution alone", f"about {_content(value, 2)}")
    yield Row("Expect to read", expected_words(job))


# --- assumptions ----------------------------------------------------------------------------------


def assumptions(job):
    """Yield what the figures take for granted."""
    yield system_holds(job)
    at = job.temp_words(job.temp_k)
    what = (
        "as many kilograms of water boiled off, and glycol and additives stayed"
        if job.steam
        else "as many litres of well-mixed coolant were lost"
    )
    yield (
        f"It was full to the mark at the strength found. Before each top-up {what}, measured at "
        f"{at} on a cold engine; each top-up went round before the next loss, and was plain water."
    )
    yield old_mix(job)
    if job.additive:
        yield (
            "Contents are carried as the glycol is, by dilution; ppm is taken as mg/L, and what "
            "the coolant uses up is not counted."
        )
    yield FIRST_CRYSTALS
    yield per_cent_means(job)
    yield from how_exact(job)


# --- working --------------------------------------------------------------------------------------


def working_lines(job):
    """Yield the balance, and the textbook rule beside it."""
    yield strength_line(job, "Found before", job.before.frac_mass)
    yield inside_line(job, "Inside before", job.inside, job.temp_k)
    first = job.topups_m3[0]
    if job.steam:
        boiled = float(dilution.water_kg(job.before.fluid, first, job.temp_k))
        yield Line(
            "Boiled off before top-up 1",
            f"{boiled:.3f} kg of water, which leaves {kilograms(job.states.low[0])}.",
        )
    else:
        yield taken_line(job, "Lost before top-up 1", job.inside, first, job.temp_k)
    yield poured_line(job, "Top-up 1", WATER, first)
    for at, state in enumerate(job.states.full, 1):
        yield sum_line(job, f"After top-up {at}", state)
    yield inside_line(job, "Volume now", job.states.full[-1], job.temp_k)
    yield strength_line(job, "Strength now", job.after.frac_mass)
    if not job.steam:
        yield _rule_line(job)
    if job.target is not None:
        yield strength_line(job, "Standard", job.target_frac_mass)
        yield from _count_lines(job)
    if job.rate_m3 is not None:
        yield Line(
            "In 1,000 h",
            f"{volume(job, job.total_m3)} × 1000 / {units.write(job.hours, 'hours', 'h')} = "
            f"{volume(job, job.rate_m3)}.",
        )
    if job.additive:
        glycol = float(job.states.full[-1].glycol_kg[0]), float(job.inside.glycol_kg[0])
        yield Line(
            "Contents",
            f"What is dissolved is carried as glycol is: {glycol[0]:.3f} / {glycol[1]:.3f} kg, "
            f"over the volumes before and after: × {job.carried:.4f}.",
        )


def _rule_line(job):
    before = of_product(job, job.before.frac_mass)
    rule = float(dilution.rule_share(before, job.topups_m3, job.row.capacity_m3))
    held = volume(job, job.row.capacity_m3)
    if job.equal:
        factors = f"(1 − {volume(job, job.mean_m3)} / {held}) to the power {len(job.topups_m3)}"
    else:
        factors = f"(1 − top-up / {held}) of each"
    return Line(
        "Textbook rule",
        f"With volumes that add, in % of {job.product_word}: {100 * before:.1f} % × {factors} = "
        f"{100 * rule:.1f} %; by mass it is "
        f"{100 * of_product(job, job.after.frac_mass):.1f} %.",
    )


def _count_lines(job):
    if job.steam or not job.lost_after:
        return
    before, weakest = (
        of_product(job, each) for each in (job.before.frac_mass, float(job.hold.weakest[0]))
    )
    count = float(dilution.rule_count(before, weakest, job.mean_m3, job.row.capacity_m3))
    yield Line(
        "Standard lost",
        f"{_lost_words(job)}; the textbook rule holds it for ln({100 * weakest:.1f} / "
        f"{100 * before:.1f}) / ln(1 − {volume(job, job.mean_m3)} / "
        f"{volume(job, job.row.capacity_m3)}) = {count:.2f} of them.",
    )


# --- how sure it is -------------------------------------------------------------------------------


def odds_lines(job):
    """Yield chance to hold, the freezing point, and what to measure better."""
    if job.target is not None:
        yield Line(
            "Chance to hold the standard",
            _chance(job)
            + ("." if too_strong(job) else f": that the mix holds {job.target_words}."),
        )
    yield from job.frost_lines()
    yield from job.give_or_take_lines()
    yield Line("Not counted", "How well the volumes of the top-ups are known.")
    for side in job.system.sides_that(MAY_NOT):
        yield Line("Not counted", f"What {side.name} holds, if it is not as the reading says.")
