"""The words of a `BoilMargin`: notes, steps, rows, assumptions.

No sentence here names a temperature beside the opening of a system: none may be read as leave to
open one.
"""

import math
from decimal import ROUND_CEILING, ROUND_FLOOR

from .. import units
from ..answers import Row
from ..balance.atmosphere import WEATHER_PA
from ..instruments import Reading
from ..system import FILLS
from .told_words import (
    CEILING_SHARE,
    COLD,
    FLOOR_SHARE,
    PLAIN_WATER,
    inside_words,
    reads_true,
    share_of_concentrate,
    weak_notes,
)

#: A cap as it is marked gives way within this share of it: a manual has one that is stamped 7 psi
#: replaced unless it does between 6.25 and 7.5 (source key ``army-tm-5-3895-359``). What a tester
#: shows is read to within this pressure: common practice, no source. [-, Pa]
MARKED_SHARE, TESTER_PA = 0.11, 5e3

#: A smaller margin asks for its cause. Common practice, no source. [K]
SMALL_K = 5.0

#: Where the altitude is worth a note. By judgement, no source. [m]
HIGH_M = 300.0

#: Few caps of vehicles are marked higher. Common practice, no source. [Pa]
USUAL_CAP_PA = 160e3

#: In which unit steam is told: what is measured out is too small for it.
_STEAM_UNIT = {"metric": "L", "US": "US gal", "imperial": "imp gal"}

NO_HIGHER = (
    "Never a higher one: that does not cool the engine, it only moves the boiling point, and "
    "hoses, radiator and heater are made for the pressure marked"
)

CAUSES = (
    "level, coolant that is pushed out, thermostat, fan and what drives it, radiator clogged "
    "inside or outside, a hose sucked flat, gas from the cylinders in the coolant, the gauge itself"
)


# --- figures as printed ---------------------------------------------------------------------------


def span_words(job, span):
    """Return a temperature with its ends, as printed. [K]."""
    low = job.temp_words(span.low, rounding=ROUND_FLOOR)
    high = job.temp_words(span.high, rounding=ROUND_CEILING)
    return f"{job.temp_words(span.value)} ({low} to {high})"


def margin_words(job, span):
    """Return a difference of temperatures with its ends, as printed. [K]."""
    unit = job.unit_system.temperature_difference

    def show(value, *rounding):
        return units.show(value, "temperature difference", unit, 0, *rounding)

    low, high = show(span.low, ROUND_FLOOR), show(span.high, ROUND_CEILING)
    return f"{show(span.value)} ({low} to {high})"


def holds_words(job):
    """Return under which pressure the coolant stands, to go on with a sentence."""
    if job.cap_pa is None:
        return "without a cap"
    if not job.tested or job.tester_pa > job.cap_pa:
        return f"under the {job.pressure_words(job.cap_pa)} marked on the cap"
    if not job.held_pa:
        return "under a cap that holds nothing"
    return f"under the {job.pressure_words(job.held_pa)} that the cap holds"


def steam_words(job, ratio_or_m3):
    """Return a volume of steam as printed: two digits, rounded up, never none."""
    if ratio_or_m3 <= 1.0:
        return "1"
    power = max(math.floor(math.log10(ratio_or_m3)) - 1, 0)
    return f"{math.ceil(ratio_or_m3 / 10.0**power) * 10**power:.0f}"


def _steam_in_unit(job, volume_m3):
    unit = _STEAM_UNIT[job.unit_system.name]
    return f"{steam_words(job, units.to_display(volume_m3, 'volume', unit))} {unit}"


def _lower(job, takes_k):
    side = "lower" if takes_k >= 0.0 else "higher"
    return f"{job.difference_words(abs(takes_k), 1)} {side}"


def _plain_water(job):
    return job.before.frac_mass < PLAIN_WATER


def _too_strong(job):
    return share_of_concentrate(job.before) > CEILING_SHARE + 0.005


def _capital(text):
    return text[:1].upper() + text[1:]


# --- notes ----------------------------------------------------------------------------------------


def notes(job):
    """Yield the verdict, what opening it hot would do, cap, mix, altitude, air to boil."""
    yield _verdict(job)
    if job.flash is not None:
        yield _steam_note(job)
    yield from _cap_notes(job)
    yield from _mix_notes(job)
    if abs(job.altitude_m) >= HIGH_M:
        yield _altitude_note(job)
    if job.air_to_boil_k is not None:
        yield _air_to_boil_note(job)


def _verdict(job):
    point = span_words(job, job.held_k)
    at = f"{_capital(inside_words(job))} boils at about {point} {holds_words(job)}"
    if job.verdict is None:
        return f"{at}. No temperature of the coolant was told, so no margin is worked out."
    hot = f"the {job.hot_name} ({job.temp_words(job.hot_k)})"
    if job.verdict == "boils":
        return f"It boils. {at}, and {hot} is hotter than that."
    if job.verdict == "too near to tell":
        return f"Too near to tell, and it may boil. {at}, and {hot} lies within that span."
    below = margin_words(job, job.margin_k)
    return f"{at}. {_capital(hot)} is {below} below that."


def _steam_note(job):
    unit = _STEAM_UNIT[job.unit_system.name]
    ratio = steam_words(job, job.steam_ratio)
    # Between the low end of the boiling point and the likely figure it is not known.
    be = "is" if job.hot_k > job.open_k.value else "may be"
    text = (
        f"This coolant {be} hotter than it can stand without pressure. If the system were opened, "
        f"part of it would turn to steam at once: as much as {ratio} {unit} from each {unit} of "
        "coolant"
    )
    if job.steam_m3 is not None:
        text += f", {_steam_in_unit(job, job.steam_m3)} from all that the system holds"
    return (
        f"{text}, with more hot liquid thrown out by it. Keep away from the cap. "
        f"{_capital(COLD)}, and the maker's handbook decides."
    )


def _cap_notes(job):
    if job.cap_pa is None:
        yield (
            "Without a cap, or with one that does not seal, nothing raises the boiling point above "
            "that of the outside air, and coolant is lost as it runs."
        )
        return
    marked = job.pressure_words(job.cap_pa)
    if job.weak_cap:
        holds = job.pressure_words(job.held_pa) if job.held_pa else "nothing"
        costs = job.difference_words(job.weak_cap_costs_k)
        yield (
            f"The cap is weak: it holds {holds} of the {marked} marked, and that costs {costs} of "
            f"boiling point. Under the marked pressure it would be {span_words(job, job.marked_k)}."
        )
    elif job.late_cap:
        yield (
            f"The cap holds {job.pressure_words(job.tester_pa)}, more than the {marked} marked: it "
            "lets pressure go too late, and hoses, radiator and heater suffer. Every figure here "
            "is that of the marking. Check the marking and the tester."
        )
    elif job.tested:
        yield f"The cap holds what it should, near enough to the {marked} marked."
    if job.cap_pa > USUAL_CAP_PA:
        yield (
            f"{marked} is more than most caps are marked (up to about "
            f"{job.pressure_words(USUAL_CAP_PA)}: common practice, no source). Check the marking "
            "and its unit."
        )


def _mix_notes(job):
    if _plain_water(job):
        adds = job.difference_words(job.half_glycol_adds_k)
        yield (
            "Plain water gives no margin but the cap's. Half glycol by mass would boil "
            f"{adds} higher under the same pressure, and water carries no inhibitor and freezes."
        )
        return
    for note in weak_notes(job.before):
        yield f"Inside is {inside_words(job)}. {note}"
    if _too_strong(job):
        yield (
            f"Inside is {inside_words(job)}, more than the 60 % of concentrate that engines are "
            "run on: it boils hotter and carries less heat, so that the engine runs hotter too."
        )


def _altitude_note(job):
    without, under = job.altitude_takes_k
    text = (
        f"At {job.altitude_words(job.altitude_m)} it boils {_lower(job, without)} than at sea "
        "level where there is no pressure"
    )
    if not job.held_pa:
        return f"{text}."
    return (
        f"{text}, and {_lower(job, under)} {holds_words(job)}: a cap holds its pressure above the "
        "outside air, whatever that is."
    )


def _air_to_boil_note(job):
    rise = job.difference_words(job.top_tank_k - job.outside_k)
    return (
        f"Air to boil: the top tank stands {rise} above the outside air. If it stays so at full "
        f"load, it boils in outside air of about {span_words(job, job.air_to_boil_k)}."
    )


# --- steps ----------------------------------------------------------------------------------------


def steps(job):
    """Yield what to do next, in the order of the work."""
    if job.verdict in ("boils", "too near to tell"):
        yield (
            "If the engine runs like this now: take the load off, stop, and switch it off. Let it "
            f"stand until it is {COLD}."
        )
    yield (
        f"On an engine that is {COLD}, check the level. What is missing is made up with mix of the "
        "strength that the maker's handbook asks for, not with water."
    )
    yield _cap_step(job)
    if job.small:
        yield (
            f"Find the cause before it is loaded again: {CAUSES}. A margin under about "
            f"{job.difference_words(SMALL_K)} is taken as a sign of a fault (common practice, no "
            "source)."
        )
    if _plain_water(job):
        yield "Fill with what the maker's handbook asks for, before frost."
    elif share_of_concentrate(job.before) < FLOOR_SHARE - 0.005 or _too_strong(job):
        yield (
            "Correct the mix to the strength that the maker's handbook asks for."
            if job.system is None or job.system.fill == FILLS[0]
            else "Drain, flush and fill with what its maker specifies, as it is delivered: such a "
            "circuit is not corrected by hand."
        )
    if job.verdict is None:
        yield (
            "For a margin, read the hottest coolant under full load (top tank, or the hose from "
            "the engine with a thermometer outside on it), and enter it here."
        )
    elif not job.small:
        yield "Read the coolant again in the hottest weather, under full load."


def _cap_step(job):
    if job.cap_pa is None:
        return (
            "Fit a cap with the pressure that the maker's handbook names, and test it on a cap "
            f"tester first. {NO_HIGHER}."
        )
    marked = job.pressure_words(job.cap_pa)
    if job.weak_cap or job.late_cap:
        return (
            f"Replace the cap by a new one of {marked}, if that is what the maker's handbook "
            f"names. {NO_HIGHER}. Look at the seat in the neck as well."
        )
    if job.tested:
        return (
            f"Leave the cap as it is, if {marked} is what the maker's handbook names. {NO_HIGHER}."
        )
    return (
        f"Test the cap on a cap tester: it should hold about the {marked} marked, and that should "
        f"be what the maker's handbook names. Replace it by the same where it does not. "
        f"{NO_HIGHER}."
    )


# --- rows -----------------------------------------------------------------------------------------


def rows(job):
    """Yield the figures."""
    yield Row("Inside", inside_words(job))
    yield Row(
        "Altitude",
        f"{job.altitude_words(job.altitude_m)}; outside air {job.absolute_words(job.outside_pa)}",
    )
    yield Row("Boils without pressure", span_words(job, job.open_k))
    if job.marked_k is not None:
        marked = job.pressure_words(job.cap_pa)
        yield Row(f"Boils under the cap as marked ({marked})", span_words(job, job.marked_k))
    if job.tested:
        holds = job.pressure_words(job.tester_pa) if job.tester_pa else "nothing"
        yield Row("The cap tester showed", holds)
        if job.tester_pa <= job.cap_pa:
            yield Row("Boils under what the cap holds", span_words(job, job.held_k))
    if job.weak_cap:
        yield Row("The weak cap costs", job.difference_words(job.weak_cap_costs_k))
    if not _plain_water(job):
        yield Row("Glycol adds over plain water", job.difference_words(job.over_water_k, 1))
    if job.altitude_m:
        without, under = job.altitude_takes_k
        text = f"{_lower(job, without)} without pressure"
        if job.held_pa:
            text += f", {_lower(job, under)} {holds_words(job)}"
        yield Row("Than at sea level it boils", text)
    if job.hot_k is not None:
        yield Row(_capital(job.hot_name), job.temp_words(job.hot_k))
        yield Row("Margin", f"{margin_words(job, job.margin_k)}: {_VERDICTS[job.verdict]}")
    if job.air_to_boil_k is not None:
        yield Row("Outside air in which the top tank boils", span_words(job, job.air_to_boil_k))
    if job.flash is not None:
        unit = _STEAM_UNIT[job.unit_system.name]
        text = f"as much as {steam_words(job, job.steam_ratio)} {unit} from each {unit} of coolant"
        if job.steam_m3 is not None:
            text += f", {_steam_in_unit(job, job.steam_m3)} in all"
        yield Row("Steam without its pressure", text)


_VERDICTS = {
    "boils": "it boils",
    "too near to tell": "too near to tell",
    "margin": "below the boiling point",
}


# --- assumptions ----------------------------------------------------------------------------------


def _tester(unit):
    shown = units.show(TESTER_PA, "gauge pressure", f"{unit} gauge", int(unit == "psi"))
    return shown.removesuffix(" gauge")


def assumptions(job):
    """Yield what the figures take for granted, and what they do not count."""
    weather = units.show(
        WEATHER_PA, "gauge pressure", job.unit_system.gauge_pressure, 1
    ).rpartition(" ")[0]
    yield (
        "The outside air is that of the standard atmosphere at this altitude, give or take "
        f"{weather} for the weather (common practice, no source). Pressures of caps are above it."
    )
    if job.tested:
        yield (
            f"A cap tester reads to within {_tester('kPa')} ({_tester('psi')}), and the cap holds "
            "in the vehicle what it held on it (common practice, no source)."
        )
    elif job.cap_pa is not None:
        yield (
            "The cap was not tested: it is taken to let pressure go within "
            f"{100 * MARKED_SHARE:.0f} % of its marking, as a manual asks of one. An old cap may "
            "hold far less."
        )
    if not _plain_water(job):
        yield "Additives are not counted in the likely figure; the high end counts them as glycol."
    yield (
        "Not counted: at hot spots of the cylinder head bubbles form before the bulk boils, and on "
        "the suction side of the pump the pressure is lower than under the cap. There it boils "
        "earlier than these figures say."
    )
    if isinstance(job.found, Reading):
        yield reads_true(job)
    elif not _plain_water(job) and not job.before.half_width:
        yield "The strength is taken as exact: no give or take was entered."
    if job.hot_k is not None:
        yield f"The {job.hot_name} is taken as exact, as it was told."
    if job.air_to_boil_k is not None:
        yield (
            "Air to boil takes the rise of the top tank over the outside air as the same on a "
            "hotter day: same load, thermostat wide open, fan engaged (as SAE J1393 has it)."
        )
    if job.flash is not None:
        yield (
            "Litres of steam are the most that the heat of the coolant alone makes, with the "
            "lowest boiling point of its band, at the pressure of the outside air; coolant is "
            "measured cold. Hot metal makes more. The steam is taken as that of water."
        )
