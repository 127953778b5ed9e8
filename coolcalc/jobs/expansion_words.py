"""How the answer of `expansion` is worded: notes, steps, figures."""

from decimal import ROUND_CEILING, ROUND_FLOOR

from .. import units
from ..answers import Row
from ..balance.atmosphere import WEATHER_PA
from ..fluids import FRAC_MASS_SETTLED_MAX
from ..system import FILLS
from .expansion_plan import BOTTLE, FITS, GAS_SHARE, MAY_NOT_FIT, NO_ROOM, ROOM_NOT_TOLD
from .expansion_working import odds_lines, working_lines
from .metals import METALS, metal_named
from .mix_plan import NOTHING_M3
from .told_words import (
    COLD,
    FLOOR_SHARE,
    PLAIN_WATER,
    inside_words,
    share_of_concentrate,
    weak_notes,
)

__all__ = ["assumptions", "metal_sources", "notes", "odds_lines", "rows", "steps", "working_lines"]


#: Pressures above so many times the cap's, and losses above such a share of the capacity, are
#: not told as figures: no system comes to that. By judgement, no source. [-]
FAR_ABOVE, LOST_MOST = 5.0, 0.2


def _span(show, low, high):
    """Return a span as printed, rounded outward; one figure where both print alike."""
    first, last = show(low, ROUND_FLOOR), show(high, ROUND_CEILING)
    if first == last:
        return first
    number, _, unit = first.partition(" ")
    return f"{number} to {last}" if last.endswith(f" {unit}") else f"{first} to {last}"


def litres_span(job, low, high):
    """Return a span of volumes as printed, rounded outward. [m3]."""
    unit, digits = job.unit_system.volume, job.step.decimals
    return _span(lambda each, way: units.show(each, "volume", unit, digits, way), low, high)


def _pressure_span(job, low, high):
    unit = job.unit_system.gauge_pressure
    if high > FAR_ABOVE * job.cap_pa:
        return f"{units.show(low, 'gauge pressure', unit, 0, ROUND_FLOOR)} or far more"
    return _span(lambda each, way: units.show(each, "gauge pressure", unit, 0, way), low, high)


def _temp_span(job, low, high):
    return _span(lambda each, way: job.temp_words(each, 0, way), low, high)


def _about(job, span):
    """Return a likeliest volume with its span, as printed; only its end where it is none. [m3]."""
    if span.value < job.step.m3 / 5 and span.low <= 0.0:
        return f"up to {_at_most(job, span.high)}"
    return f"about {job.volume_words(span.value)} ({litres_span(job, span.low, span.high)})"


def _at_most(job, volume_m3):
    """Return a volume as printed, rounded up. [m3]."""
    unit, digits = job.unit_system.volume, job.step.decimals
    return units.show(volume_m3, "volume", unit, digits, ROUND_CEILING)


def _gas(job):
    cold_k, hot_k = job.heating.cold_k, job.hot_k
    return _temp_span(job, *(cold_k + share * (hot_k - cold_k) for share in job.gas_share))


def _cap(job):
    return job.pressure_words(job.cap_pa)


def _inside(job):
    words = inside_words(job)
    return words if words == "plain water" else f"mix of {words}"


# --- notes ----------------------------------------------------------------------------------------


def notes(job):
    """Yield what comes first, growth and room, pressure, what leaves, and the lowest level."""
    yield from _boil_notes(job)
    yield (
        f"From {job.temp_words(job.heating.cold_k)} to {job.temp_words(job.hot_k)} the level rises "
        f"by {_about(job, job.rise)}. {_room_words(job)}"
    )
    if job.verdict == NO_ROOM:
        yield _no_room(job, job.volume_words(job.room_m3))
    if job.closed is not None and job.verdict == FITS:
        yield from _pressure_notes(job)
    elif job.closed is not None and job.verdict == MAY_NOT_FIT:
        yield (
            f"So little air is left that the cap (marked {_cap(job)}) gives way long before: the "
            "air goes out first, then coolant."
        )
    if job.tank == BOTTLE and job.cap_pa is not None:
        yield (
            "What goes into the bottle comes back as it cools. If the bottle stays full and the "
            "radiator is low next morning, the way back is blocked or lets air in: cap, hose."
        )
    yield from _fall_notes(job)
    yield from _loss_notes(job)
    if job.before.frac_mass < PLAIN_WATER:
        yield (
            "Plain water freezes at 0 °C and carries no inhibitor: fill with what the maker's "
            "handbook asks for before frost."
        )
    else:
        yield from weak_notes(job.before)


def _boil_notes(job):
    if job.cap_pa is None:
        yield (
            "Without a cap that holds there is no pressure: it boils as an open pot does, steam is "
            "lost, and nothing comes back from a bottle."
        )
    if job.boils == "no":
        return
    where = "without a cap" if job.cap_pa is None else f"under the cap (marked {_cap(job)})"
    how = "It boils" if job.boils == "yes" else "Too near to tell, and it may boil"
    yield (
        f"{how} at {job.temp_words(job.hot_k)} {where}: then steam, not growth, drives it out. Do "
        "not run it to that; ask first how far it is from boiling, and find out why it gets so hot."
    )


def _room_words(job):
    """Say whether there is room for it, to follow on the rise."""
    if job.verdict == ROOM_NOT_TOLD:
        if not job.under_cap:
            return f"Above the cold mark there must be room for {_at_most(job, job.rise.high)}."
        return (
            f"Above the cold mark there must be room for {_at_most(job, job.rise.high)}, and air "
            "to squeeze beside it. Air space with which the pressure stays under what the cap "
            f"holds ({_cap(job)}): {_room_needed(job)}."
        )
    room = job.volume_words(job.room_m3)
    if job.verdict == NO_ROOM:
        return f"There is {room} of room above the cold mark."
    left = f"Of the {room} of room above the cold mark "
    left += f"{job.volume_words(job.room_m3 - job.rise.value)} is left then"
    if job.verdict == FITS:
        return f"{left}."
    text = f"{left}: it just fits, or just does not"
    if job.overflow_m3.high <= NOTHING_M3:
        return f"{text}."
    return f"{text}, and up to {_at_most(job, job.overflow_m3.high)} may be pushed out once."


def _no_room(job, room):
    over, missing = job.overflow_m3, job.missing_m3
    bottle = job.tank == BOTTLE
    begin = "No air space left: will push coolant out. The air goes first, then the coolant."
    if bottle:
        begin = "No room left in the bottle: will push coolant out."
    text = (
        f"{begin} Of hot coolant {_about(job, over)} has no room. Next morning the level stands "
        f"{_about(job, missing)} lower. It then stops: what is left grows into just the {room} "
        "there is. Filled up to the same height again, it is pushed out again."
    )
    if job.pushed_out_m3 is not None and None not in job.pushed_out_m3:
        span = litres_span(job, *job.pushed_out_m3)
        text += f" Where coolant stands at the cap from the start, {span} goes out hot."
    return text


def _pressure_notes(job):
    squeezed = (
        f"If nothing is let out, the air above it is squeezed to "
        f"{_pressure_span(job, *job.pressure_pa)}, with the gas above it at {_gas(job)}."
    )
    if job.cap_gives_way == "no":
        yield f"{squeezed} The cap (marked {_cap(job)}) holds that, if it is good."
        return
    early, late = job.reaches_cap_k
    if late is None:
        when = f"at the earliest with coolant at {job.temp_words(early)}"
    else:
        when = f"with coolant at {_temp_span(job, early, late)}"
    may = "may give way" if job.cap_gives_way == "may" else "gives way"
    least, most = job.air_let_out
    first, last = (f"{100 * each:.0f}" for each in (least, most))
    share = f"up to {last} %" if first in ("0", last) else f"{first} to {last} %"
    yield (
        f"{squeezed} The cap (marked {_cap(job)}) {may} before that, {when}; cooler it is under "
        f"pressure all the same. Where air stands below the cap, {share} of the air goes out, and "
        "comes back as it cools: no coolant is lost by that. A hiss there need not be a leak; if "
        "the level is lower next morning, look for one."
    )
    where = "Where coolant stands at the cap (filled to the neck, foam, a slope)"
    yield f"{where}: {_coolant_out(job)}"


def _coolant_out(job):
    first, last = job.pushed_out_m3
    if first is None or last is None:
        return (
            "vapour alone passes what the cap holds, so it boils over, and nothing tells how much "
            "goes."
        )
    if last <= NOTHING_M3:
        return "none goes out."
    if last > LOST_MOST * job.heating.capacity_m3:
        return (
            f"{job.volume_words(first)} or more of hot coolant is pushed out, until air stands at "
            "the cap: so much that it must not be run like this."
        )
    cold = [job.when_cold_m3(each) for each in (first, last)]
    text = (
        f"{litres_span(job, first, last)} of hot coolant is pushed out by the first run, and next "
        f"morning the level stands {litres_span(job, *cold)} below the mark. "
    )
    ends = job.settles_m3
    if ends[1] is not None:
        return text + (
            "Later runs push out less and less; it stops with the "
            f"level {litres_span(job, *ends)} below the mark."
        )
    if ends[0] is None:
        return text + "It goes on, less each time, until air stands at the cap; then it stops."
    return text + (
        "Later runs push out less and less. It stops with the level "
        f"{job.volume_words(ends[0])} below the mark if the gas stays cool, and at the latest when "
        "air stands at the cap."
    )


def _room_needed(job):
    """Return the air space with which the pressure stays under the cap, as printed."""
    cool, hot = job.room_needed_m3
    if cool is None:
        return "none is large enough: warm air and vapour alone pass it"
    if hot is None:
        return f"{_at_most(job, cool)} with the coolest gas; with the hottest none is large enough"
    return litres_span(job, cool, hot)


def _fall_notes(job):
    if job.fall is None:
        return
    text = (
        f"At a start at {job.temp_words(job.coldest_k)} the level stands {_about(job, job.fall)} "
        "below the cold mark."
    )
    if job.below_m3 is None:
        yield f"{text} That is no leak."
    elif job.draws_air:
        yield (
            f"{text} Down to where air is drawn in there is {job.volume_words(job.below_m3)}: that "
            "may be too little. Filling above the mark only pushes it out when hot; ask the "
            "maker's handbook which level is meant for such cold."
        )
    else:
        there = job.volume_words(job.below_m3)
        yield f"{text} That is no leak, and within the {there} there is."


def _loss_notes(job):
    if job.draws_air_after_loss and job.cap_gives_way in ("may", "yes"):
        yield (
            f"If coolant is pushed out at the cap, the {job.volume_words(job.below_m3)} below the "
            "mark may not be enough: air is then drawn in. Look at the level, cold, before the "
            "next run, and do not run it under the lowest mark."
        )


# --- steps ----------------------------------------------------------------------------------------


def _topped_with(job):
    if job.system.fill != FILLS[0]:
        return "what its maker specifies, as it is delivered"
    weak = share_of_concentrate(job.before) < FLOOR_SHARE - 0.005
    if weak or job.before.frac_mass > FRAC_MASS_SETTLED_MAX:
        return "mix of the strength that the maker's handbook asks for"
    return _inside(job)


def steps(job):
    """Yield what to do, in the order of the work."""
    begin = f"Engine off and {COLD}, vehicle level: look at the level."
    if job.verdict == NO_ROOM:
        lower = _at_most(job, job.missing_m3.high)
        if job.below_m3 is not None and job.missing_m3.high > job.below_m3:
            yield (
                f"{begin} It would have to stand {lower} below the cold mark, and there is only "
                f"{job.volume_words(job.below_m3)}: it cannot be had with this tank. Ask the "
                "maker's handbook for the tank, the marks and the capacity before it is run."
            )
            return
        yield (
            f"{begin} Bring it to at least {lower} below the cold mark, which leaves the room "
            "that it needs, but not under the lowest mark; take out what stands above it. Where "
            "both cannot be had, ask the maker's handbook for the marks and the capacity."
        )
    else:
        yield (
            f"{begin} Bring it to the cold mark, no higher, with {_topped_with(job)}; take out "
            "what stands above it. The space above the mark is for growth."
        )
    if job.cap_pa is None:
        yield "Fit the cap that the maker's handbook names before it is run."
    if job.boils != "no":
        yield (
            "Do not run it as hot as that: with a cap tester, a thermometer and the mix as read, "
            "find out first how far it is from boiling."
        )
    else:
        cap = f" The cap is the one marked for it, here {_cap(job)}." if job.cap_pa else ""
        yield f"Close the system.{cap} Run it until it is warm, with the heater on."
    most = _at_most(job, job.rise.high)
    start, place = "the mark", "at the mark"
    if job.verdict == NO_ROOM:
        start = place = "where it stood"
    yield (
        f"Hot, look from outside only: the level may stand up to {most} above {start}. "
        "Leave it closed and do not top it up."
    )
    yield (
        f"Stop, and let it cool until it is {COLD}, best overnight. Look again: at "
        f"{job.temp_words(job.heating.cold_k)} it stands {place}, colder a little lower. If it "
        f"is lower than that, make it up once, to there, with {_topped_with(job)}; if it falls "
        "again, find where it goes before anything else: a leak, or pushed out."
    )
    if job.verdict in (NO_ROOM, MAY_NOT_FIT):
        yield (
            "If it was at the cold mark and coolant still came out, the space is too small, the "
            "mark is another system's, the cap does not hold, or gas gets in from a cylinder: have "
            "it tested. Catch what comes out."
        )


# --- figures --------------------------------------------------------------------------------------


def rows(job):
    """Yield the figures behind the notes."""
    here = job.heating
    yield Row("Coolant", _inside(job))
    yield Row("Capacity at the cold mark", _with_error(job))
    yield Row(
        "From cold to hottest", f"{job.temp_words(here.cold_k)} to {job.temp_words(job.hot_k)}"
    )
    volume = here.capacity_m3
    yield Row("Coolant grows by", job.volume_words(volume * here.liquid_share(job.hot_k)[0]))
    yield Row("What holds it, by", job.volume_words(volume * here.metal_share(job.hot_k)[0]))
    yield Row("Level rises by", _about(job, job.rise))
    if job.room_m3 is not None:
        yield Row("Room above the cold mark", job.volume_words(job.room_m3))
    if job.closed is not None:
        yield Row("Gas above the hot coolant", _gas(job))
        fits = job.verdict == FITS
        text = _pressure_span(job, *job.pressure_pa) if fits else "more than the cap holds"
        yield Row("Pressure if nothing is let out", text)
        yield Row("Cap, marked", _cap(job))
        yield Row("Outside air", _outside(job))
        if job.cap_gives_way != "no":
            yield Row("Air space that the cap would hold", _room_needed(job))
        if fits and job.cap_gives_way != "no" and None not in job.pushed_out_m3:
            yield Row("Goes out, coolant at the cap", litres_span(job, *job.pushed_out_m3))
    if job.overflow_m3 is not None and job.overflow_m3.high > NOTHING_M3:
        yield Row("Hot coolant without room", _about(job, job.overflow_m3))
        yield Row("Missing next morning", _about(job, job.missing_m3))
    if job.fall is not None:
        yield Row(f"Below the mark at {job.temp_words(job.coldest_k)}", _about(job, job.fall))


def _outside(job):
    pressure = job.absolute_words(job.heating.outside_pa)
    return f"{pressure}, at {job.altitude_words(job.altitude_m)} above the sea"


def _with_error(job):
    capacity = job.told_words(job.heating.capacity_m3)
    error = job.heating.capacity_error_m3
    return f"{capacity}, give or take {job.told_words(error)}" if error else capacity


# --- what is taken for granted --------------------------------------------------------------------


def metal_sources(job):
    """Return the key of the source of a metal that was named."""
    name = metal_named(job.asked["metal"])
    return [METALS[name].source] if name else []


def assumptions(job):
    """Yield what the figures take for granted, each a sentence."""
    yield "All coolant is as hot as the hottest; in the radiator it is cooler, so this is the most."
    growth = units.show(job.heating.metal_per_k, "volume expansion", "ppm/K", 0)
    name = metal_named(job.asked["metal"])
    yield (
        f"What holds the coolant grows by {growth} in volume{f' ({name})' if name else ''}; hoses "
        "that stretch and a tank that grows leave a little more room and are not counted."
    )
    yield (
        "The span of the growth is that of published tables, of pure and of inhibited mixes, with "
        "the give or take of capacity and strength."
    )
    if job.under_cap:
        yield (
            "The air space was closed at the cold mark, at outside pressure, and nothing leaked "
            "since. Air is taken as an ideal gas, full of vapour at its own temperature; air that "
            "dissolves or gas from a cylinder is not counted."
        )
        yield "The cap gives way at what it is marked with; a worn one does so earlier."
        if job.asked["gas"] is None:
            yield (
                f"How warm the gas is nobody told: from {GAS_SHARE:g} of the coolant's rise to as "
                "hot as the coolant (by judgement, no source)."
            )
    if job.tank == BOTTLE:
        yield "The system is full of coolant, without air, and its hoses to the bottle are tight."
    if job.closed is not None:
        weather = job.absolute_words(WEATHER_PA).removesuffix(" absolute")
        yield f"Outside air of the standard atmosphere; weather moves it by about {weather}."
