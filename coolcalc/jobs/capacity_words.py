"""How answers about a capacity are worded, by a fill or from parts."""

from decimal import ROUND_CEILING, ROUND_FLOOR

from .. import units
from ..answers import Line
from ..errors import InputError
from .printed import litres_by_hand
from .told_words import COLD

FILL_FIRST = (
    "The way to be preferred is to measure what goes in when the system is next filled from "
    "empty: enter that, and this figure can go."
)

#: Filled faster than this, air is caught; source key ``army-tm-5-6115`` has it for one engine.
SLOWLY = "slowly, with the heater valve open, so that no air is caught"

#: With a larger share of the capacity unknown from what was still inside, that is said; with a give
#: or take of such a share of it, it is not written down. By judgement, no source. [-]
BADLY_KNOWN, USELESS = 0.1, 0.5

#: Causes that a line of the odds names, the largest first.
_NAMED = 4


def span_words(job):
    """Return a capacity with its span, as printed: rounded outward."""
    unit, digits = job.unit_system.volume, job.step.decimals
    low, high = (
        units.show(each, "volume", unit, digits, way)
        for each, way in ((job.known.low, ROUND_FLOOR), (job.known.high, ROUND_CEILING))
    )
    value = job.volume_words(job.known.value)
    if job.known.high - job.known.low < job.step.m3:
        return f"about {value}"
    return f"about {value}, between {low.removesuffix(f' {unit}')} and {high}, 95 times of 100"


def give_or_take(job):
    """Return the give or take of a capacity as printed; that it is not known where none is."""
    error = job.capacity_error.m_as("m^3")
    return f"give or take {job.volume_words(error)}" if error else "give or take not known"


def refuse_unknown(job):
    """Refuse to make a system of a capacity that is not told."""
    if job.known is None:
        raise InputError(
            "capacity",
            "",
            "it is not told by this; the answer says why, and what to do about it.",
        )


def cause_lines(job):
    """Yield where the give or take of a capacity comes from, as `Line`."""
    causes = sorted(((part, name) for name, part in job.causes if part > 0.0), reverse=True)
    if not causes:
        yield Line("Give or take", "No error was entered.")
        return
    named = "; ".join(f"{litres_by_hand(part)} from {name}" for part, name in causes[:_NAMED])
    more = "; the rest less" if len(causes) > _NAMED else ""
    yield Line("Give or take", f"{named}{more}; added in squares, 95 times of 100.")


# --- by a fill ------------------------------------------------------------------------------------


def fill_notes(job):
    """Yield what the fill says."""
    yield f"Up to the cold mark the system holds {job.span_words}."
    if job.still_inside_error_m3 > BADLY_KNOWN * job.known.value:
        yield (
            "What was still inside is known so badly that it makes most of the span: flush and "
            "drain it as far as it goes, or fill it dry, next time."
        )
    if not job.topped_up_m3:
        yield (
            "Nothing was made up after a run. If it has not run yet, some of it may be air: run "
            "it, let it cool, make it up to the mark, and enter that too."
        )


def fill_steps(job):
    """Yield what to do with the figure."""
    if not job.topped_up_m3:
        yield (
            "Close the system and run the engine with the heater on hot until the thermostat has "
            f"opened; stop, and let it cool until it is {COLD}. Make it up to the cold mark from "
            "the measuring can, and enter that as made up after a run."
        )
    if job.capacity_error.m_as("m^3") >= USELESS * job.known.value:
        yield "That is too rough to plan anything with: empty it further, and measure again."
    else:
        yield (
            f"Write down: holds {job.volume_words(job.known.value)}, {give_or_take(job)}, by a "
            "measured fill. That is the capacity for every other question."
        )
    yield (
        "If it was filled with water, it must not stand in frost: drain it, and fill it with what "
        "the maker's handbook asks for."
    )
    yield (
        f"Next time it is empty, measure again: {SLOWLY}, with a can whose marks were checked "
        "against a weighed litre of water."
    )


def fill_rows(job):
    """Yield the figures behind the answer."""
    count = len(job.poured_m3)
    yield "Poured in", f"{job.told_words(sum(job.poured_m3))} in {count} measure{'s' * (count > 1)}"
    yield "Made up after a run", job.told_words(job.topped_up_m3)
    inside = job.told_words(job.still_inside_m3)
    if job.still_inside_error_m3:
        inside += f", give or take {job.told_words(job.still_inside_error_m3)}"
    yield "Still inside before", inside
    yield "Capacity", job.span_words


def fill_assumptions(job):
    """Yield what the figure takes for granted."""
    yield (
        f"The measuring can may be out by {100 * job.jug_error:.3g} %, the same way every time; "
        "each measure was poured in whole."
    )
    yield "Filled cold, and to the cold mark; what was spilled was measured again."


def fill_working(job):
    """Yield the sum, to be checked by hand."""
    each = " + ".join(litres_by_hand(volume) for volume in job.poured_m3[:12])
    more = f" + {len(job.poured_m3) - 12} more" if len(job.poured_m3) > 12 else ""
    yield Line("Measured in", f"{each}{more} + {litres_by_hand(job.topped_up_m3)} after the run.")
    yield Line(
        "Capacity",
        f"{litres_by_hand(job.measured_m3)} + {litres_by_hand(job.still_inside_m3)} still inside = "
        f"{litres_by_hand(job.known.value)}.",
    )


# --- from parts -----------------------------------------------------------------------------------


def _bad_words(bad):
    name = f" ({bad.name})" if bad.name else ""
    return f"Row {bad.number}{name} is not counted. {' '.join(bad.why)}"


def parts_notes(job):
    """Yield the bad rows, the sum, and that a fill is better."""
    if job.bad:
        yield (
            f"{len(job.bad)} of {len(job.bad) + len(job.parts)} rows cannot be counted: the sum of "
            f"the others, {job.volume_words(job.sum_m3)}, is not the capacity."
        )
        yield from map(_bad_words, job.bad)
    else:
        yield f"Added up, the system holds {job.span_words}."
    yield FILL_FIRST
    sides = job.side_circuits
    if sides:
        names = ", ".join(f"{side.name} ({job.volume_words(side.volume_m3)})" for side in sides)
        yield f"Counted with it, but not always taking part: {names}."


def parts_steps(job):
    """Yield how to mend, check and use the sum."""
    if job.bad:
        yield "Mend the rows that are not counted, and ask again."
    best = job.measure_better
    if best is not None:
        yield (
            f"Measure {best.name} better: of the give or take it makes the most "
            f"({job.volume_words(best.half_width_m3)}). Fill it with water and measure that, if it "
            "is on the bench."
        )
    yield (
        f"At the next filling from empty, engine {COLD}, measure what goes in: {SLOWLY}. If it is "
        "outside the span above, a part is missing from the table or was measured outside."
    )
    if not job.bad:
        yield (
            f"Until then write down: holds {job.volume_words(job.known.value)}, "
            f"{give_or_take(job)}, added up from parts."
        )


def parts_rows(job):
    """Yield each part and the sum."""
    for part in job.parts:
        yield (
            f"{part.name}, {part.kind}" if part.name != part.kind else part.name,
            f"{job.volume_words(part.volume_m3)}, give or take "
            f"{job.volume_words(part.half_width_m3)}",
        )
    for bad in job.bad:
        yield f"Row {bad.number}, not counted", " ".join(bad.why)
    yield (
        ("Sum of the good rows, not the capacity", job.volume_words(job.sum_m3))
        if job.bad
        else ("Capacity", job.span_words)
    )


def parts_assumptions(job):
    """Yield what the sum takes for granted."""
    yield (
        "A bore is the inner one: measured outside, a thin pipe comes out a fifth too large and a "
        "hose by half as much again."
    )
    yield "Flat tubes have round edges; width and height are inner ones."
    yield (
        "Parts without a give or take of their own have that of their kind (by judgement, no "
        "source); each was measured for itself."
    )
    yield "Everything is full to the cold mark; what stands above it in a tank is not counted."


def _by_hand(part):
    told = part.told
    count = f" × {told['count']:g}" if told.get("count", 1.0) != 1.0 else ""
    if "volume" in told:
        return f"{litres_by_hand(told['volume'])}{count}"
    length = f"{1e3 * told['length']:g} mm"
    if part.kind == "hose":
        return f"π/4 × ({1e3 * told['bore']:g} mm)² × {length}{count}"
    width, height = (1e3 * told[name] for name in ("width", "height"))
    section = f"(({width:g} − {height:g}) × {height:g} + π/4 × {height:g}²) mm²"
    return f"{section} × {length}{count}"


def parts_working(job):
    """Yield each volume, to be checked by hand: a million mm³ are a litre."""
    for part in job.parts:
        sum_by_hand, litres = _by_hand(part), litres_by_hand(part.volume_m3)
        equals = "" if sum_by_hand == litres else f" = {litres}"
        yield Line(part.name, f"{sum_by_hand}{equals}.")
    yield Line("Sum", f"{litres_by_hand(job.sum_m3)}.")
