"""The words of a `Flush`: notes, steps, rows, assumptions, working."""

import itertools

from ..answers import Line, Row
from ..balance import ledger
from ..errors import REASONS, Status
from ..system import FILLS, MAY_NOT
from .balance_lines import (
    apart_lines,
    inside_line,
    poured_line,
    rule_line,
    strength_line,
    sum_line,
    taken_line,
    volume,
)
from .mix_plan import EQUAL
from .told_words import (
    COLD,
    FIRST_CRYSTALS,
    NO_LITRES,
    circuit_notes,
    expected_words,
    found_words,
    how_exact,
    makes_of,
    old_mix,
    on_the_same,
    per_cent_means,
    read_again,
    reading_notes,
    rounding_notes,
    run_and_cool_steps,
    shelf_notes,
    side_notes,
    system_holds,
    valves,
)

LET_OUT_MORE = "lower hose, block plugs, as the maker's handbook says"


def share_words(share):
    """Return a share of the system as printed: two figures or three, none only of 0. [m3/m3]."""
    if share <= 0.0:
        return "none"
    if share < 0.001:
        return "less than 0.1 %"
    return f"{100 * share:.2g} %" if share < 0.0995 else f"{100 * share:.3g} %"


def _times(count, what):
    return f"{count} {what}" + ("" if count == 1 else "s")


def _all_or_each(job, volumes_m3):
    """Return volumes as printed: one figure where those that follow each other print alike."""
    told = [job.volume_words(each) for each in volumes_m3]
    return ", then ".join(each for each, _ in itertools.groupby(told))


# --- notes ----------------------------------------------------------------------------------------


def notes(job):
    """Yield how many drains, what stays and what it ends at; or why not to begin, and what else."""
    if job.status & Status.NOT_TO_BE_CORRECTED:
        yield from circuit_notes(job)
        return
    if job.blocked:
        yield from (reason.sentence for reason in job.blocked_by)
        yield (
            f"After {_times(job.drains, 'drain')} the last fill would end at "
            f"{job.mix_and_frost(job.reach)}; the target is {job.target_words}."
        )
        yield from _ways(job)
    else:
        yield (
            f"{_times(job.drains, 'drain')} of about {_all_or_each(job, job.drained_m3())}: "
            f"{share_words(job.stays)} of what is inside at the end is old coolant "
            f"({share_words(job.may_stay)} may stay). It ends at {job.mix_and_frost(job.after)}."
        )
        yield from _stays_more(job)
        if job.flush_with.is_water and job.drains > 1:
            yield "Not in frost: until the last fill, what is inside is nearly plain water."
    yield from reading_notes(job)
    if job.status & Status.START_NOT_SETTLED:
        yield REASONS[Status.START_NOT_SETTLED].sentence
    if not job.blocked:
        yield from job.strength_notes()
        yield from rounding_notes(job)
        if job.after.frac_mass < job.target_frac_mass - EQUAL:
            yield (
                f"With what is listed it ends a little weaker than the target ({job.target_words}"
                "): by less than a good refractometer tells apart."
            )
        yield from side_notes(job)
    if job.low_m3 > 0.0:
        yield (
            "The level is low: find out where it went. A level that falls is a leak until shown "
            "otherwise."
        )
    yield from shelf_notes(job)


def _stays_more(job):
    """Yield what stays if the system holds more than was entered."""
    most = job.stays_ends[1]
    if most > job.may_stay and job.drains_at_most > job.drains:
        yield (
            f"If the system holds {job.volume_words(job.capacity_ends_m3[1])}, "
            f"{share_words(most)} stays: it then takes {_times(job.drains_at_most, 'drain')}."
        )


def _ways(job):
    ways = job.ways
    if ways.product_pours:
        words = [
            f"{job.volume_words(each)} of {product.name}" for product, each in ways.product_pours
        ]
        then = f", then {words[1]} up to the cold mark" if len(words) > 1 else ""
        yield (
            "One way: list concentrate too. The flush stays as it is, and the last fill is "
            f"{words[0]}{then}."
        )
    if ways.comes_out_m3 is not None:
        yield (
            f"Another way, engine off and {COLD}: let out more ({LET_OUT_MORE}). With "
            f"{_at_least(job)}{job.volume_words(ways.comes_out_m3)} at each drain the last fill "
            "reaches the target with what is listed. Enter what comes out then."
        )
    with_what = _filled_with(job)
    if ways.strong_fills is not None:
        fills = ways.strong_fills
        last = "flush fill" if fills == 1 else f"{fills} flush fills"
        yield (
            f"Or flush with mix: make the last {last} with {with_what} instead of "
            f"{job.flush_with.name}, engine off and {COLD} at each drain and fill. Keep it out of "
            "frost until the last fill, which then reaches the target, with no further drain."
        )
    elif ways.more_drains is not None:
        yield (
            f"Or drain, engine off and {COLD} each time, and fill "
            f"{_times(ways.more_drains, 'time')} more, after the fill that ends the flush, each "
            f"time with {with_what}; run it with the heater on hot before each drain. Keep it out "
            "of frost until the last of these fills, which then reaches the target."
        )


def _filled_with(job):
    """Return what brings the mix nearer to the target: the strongest listed, or the weakest."""
    pick = max if job.reach.frac_mass < job.target_frac_mass else min
    return pick(job.offered, key=lambda product: product.frac_mass).name


def _at_least(job):
    """Say so where more does too: not where there is nothing to thin a strong product with."""
    thins = min(product.frac_mass for product in job.offered) <= job.target_frac_mass + EQUAL
    return "at least " if thins else ""


# --- steps ----------------------------------------------------------------------------------------


def steps(job):
    """Yield the actions, in the order of the work."""
    if job.blocked:
        yield from (reason.next_step for reason in job.blocked_by)
        if job.status & Status.NOT_TO_BE_CORRECTED and job.system.fill == FILLS[1]:
            yield (
                "To have that planned here, list the one ready-mixed product that its maker "
                "specifies, alone, and flush with water or with that product."
            )
        return
    drains, fills = job.drained_m3(), job.flush_fills_m3()
    names = "".join(f", the {valve}" for valve in valves(job))
    yield (
        f"Engine off and {COLD}, heater control{names} fully open. Have a pan that holds more than "
        f"{job.volume_words(max(drains))} for each drain, and closed, labelled containers for "
        f"{job.volume_words(job.waste_m3)} in all."
    )
    of_all = f"Drain 1 of {job.drains}: take" if job.drains > 1 else "Take"
    yield (
        f"{of_all} out all that comes out, about {job.volume_words(drains[0])}, and measure it. If "
        f"clearly less or more comes out, pour nothing yet: enter {_came_out(job)} as drain "
        "figure, and check the capacity; this drain is then the first of the new answer."
    )
    if fills:
        yield _flushing(job, drains[1:], fills)
    yield from _last_fill(job)
    yield from run_and_cool_steps(job)
    yield f"Read again{on_the_same(job)}: {read_again(job)}."
    yield (
        f"{job.volume_words(job.waste_m3)} is waste{', the flush fills too' if fills else ''}: "
        "closed, labelled “used coolant”. Local rules decide where it goes."
    )


def _came_out(job):
    return "what came out and what was missing, together," if job.low_m3 else "what came out"


def _flushing(job, drains, fills):
    count = len(fills)
    begin = f"Do this {count} times: shut" if count > 1 else "Shut"
    text = (
        f"{begin} the drain; fill slowly to the mark with {job.flush_with.name}, about "
        f"{_each_time(job, fills)}; close the system; run the engine with the heater on "
        "hot until the thermostat has opened and it has gone round; stop, and let it cool until "
        f"it is {COLD}; then take out all that comes out, about {_each_time(job, drains)}."
    )
    if count > 1:
        return f"{text} That makes {job.drains} drains in all."
    return f"{text} That is drain 2 of 2."


def _each_time(job, volumes_m3):
    told = _all_or_each(job, volumes_m3)
    return f"{told} each time" if len(volumes_m3) > 1 and "then" not in told else told


def _last_fill(job):
    over = (
        f", over the {job.volume_words(job.trapped_m3)} that stays inside"
        if job.trapped_m3 >= job.step.m3
        else ""
    )
    pours = job.last_pours_m3()
    for at, (product, volume_m3) in enumerate(pours):
        begin = f"Shut the drain. Last fill{over}: pour" if at == 0 else "Then pour"
        if at + 1 < len(pours):
            yield f"{begin} {job.volume_words(volume_m3)} of {product.name}, slowly."
        else:
            yield (
                f"{begin} {product.name}, slowly, up to the cold mark and not above it: "
                f"about {job.volume_words(volume_m3)}. A little may not go in before it has mixed; "
                "make it up after the run. If clearly less goes in, air is inside: engine off and "
                f"{COLD}, bleed it as the maker's handbook says, and fill up to the mark."
            )


# --- rows -----------------------------------------------------------------------------------------


def rows(job):
    """Yield the figures behind the steps."""
    yield Row("Capacity", job.volume_words(job.system.capacity_m3))
    if job.system.worked_m3 < job.system.capacity_m3:
        yield Row("Worked on, the rest being shut", job.volume_words(job.system.worked_m3))
    yield Row("Comes out at a drain", job.volume_words(job.row.drainable_m3))
    yield Row("Found", found_words(job))
    yield Row("Found, as strength", job.strength_words(job.before))
    if job.low_m3 > 0.0:
        yield Row("Missing below the mark", job.volume_words(job.low_m3))
    yield Row("Target", job.target_words)
    yield Row("Old coolant that may stay", share_words(job.may_stay))
    if job.status & Status.NOT_TO_BE_CORRECTED:
        return
    yield Row("Drains", str(job.drains))
    if job.blocked:
        yield Row("The last fill would end at", job.strength_words(job.reach))
        return
    yield Row("Old coolant left", share_words(job.stays))
    yield Row("Taken out at each drain", _all_or_each(job, job.drained_m3()))
    if job.drains > 1:
        fills = _all_or_each(job, job.flush_fills_m3())
        yield Row(f"Flush fills with {job.flush_with.name}", f"{job.drains - 1}, of about {fills}")
    for product, volume_m3 in job.last_pours_m3():
        yield Row(f"Last fill, {product.name}", job.volume_words(volume_m3))
    for product in job.shelf:
        if job.total_m3(product) > 0.0:
            yield Row(f"In all, {product.name}", job.volume_words(job.total_m3(product)))
    yield Row("To waste", job.volume_words(job.waste_m3))
    yield Row("Strength afterwards", job.strength_words(job.after))
    yield Row("Freezing point afterwards", job.freezing_words(job.after))
    yield Row("Expect to read", expected_words(job))


# --- assumptions ----------------------------------------------------------------------------------


def assumptions(job):
    """Yield what the figures take for granted."""
    yield system_holds(job)
    yield f"Litres are measured at {job.temp_words(job.temp_k)} on a cold engine."
    yield (
        "As much comes out at each drain of the full system, and what is inside is well mixed "
        "before it. What a shut thermostat or a dead end keeps back is old coolant that is not "
        "counted (common practice, no source)."
    )
    yield "Each fill goes to the mark. Only coolant is counted, not deposits, and no cleaner."
    yield old_mix(job)
    yield FIRST_CRYSTALS
    yield per_cent_means(job)
    yield from how_exact(job)
    yield from makes_of(job)


# --- working --------------------------------------------------------------------------------------


def working_lines(job):
    """Yield the closed form, and the balance by mass beside it."""
    yield from _closed_form(job)
    yield strength_line(job, "Target", job.target_frac_mass)
    yield strength_line(job, "Found", job.before.frac_mass)
    state = job.inside
    yield inside_line(job, "Inside before", state, job.temp_k)
    if job.blocked:
        return
    at_flush = job.shelf.index(job.flush_with)
    for at in range(job.drains):
        drained = float(job.plan.drain_m3[at, 0])
        yield taken_line(job, f"Drain {at + 1}", state, drained, job.temp_k)
        state = ledger.drain(state, drained, job.temp_k)
        if at + 1 < job.drains:
            filled = float(job.plan.pour_m3[at, at_flush, 0])
            yield poured_line(job, f"Flush fill {at + 1}", job.flush_with, filled)
            state = ledger.pour(state, job.row.products[at_flush], filled, job.temp_k)
    yield _left_line(job)
    for product, volume_m3 in job.last_pours_m3():
        yield poured_line(job, f"Last fill, {product.name}", product, volume_m3)
    after = job.plan.after
    yield sum_line(job, "Inside afterwards", after)
    yield inside_line(job, "Volume afterwards", after, job.temp_k)
    yield strength_line(job, "Strength afterwards", job.after.frac_mass)
    pours = job.last_pours_m3()
    yield from apart_lines(job, after, job.trapped_m3 + sum(each for _, each in pours))
    left = (job.trapped_m3, float(ledger.frac_mass(job.flushed.left)[0]))
    yield rule_line(job, [left, *((each, product.frac_mass) for product, each in pours)])
    yield Line(
        "Rounding",
        f"Fills to {job.step.in_unit:g} {job.unit_system.volume}, rounded down; what a flush "
        "fill is short of the mark comes out less at the next drain.",
    )


def _closed_form(job):
    part = job.row.drainable_m3 / job.row.capacity_m3
    base = f"1 − {volume(job, job.row.drainable_m3)} / {volume(job, job.row.capacity_m3)}"
    yield Line(
        "Old coolant left",
        f"({base})^{job.drains} = {max(1 - part, 0.0):.4f}^{job.drains} = "
        f"{100 * job.stays:.2f} %; {100 * job.may_stay:.3g} % may stay.",
    )
    if job.drains > 1:
        fewer = job.drains - 1
        yield Line(
            "One drain fewer",
            f"{max(1 - part, 0.0):.4f}^{fewer} = "
            f"{100 * job.stays_at(job.row.capacity_m3, fewer):.2f} %: too much.",
        )
    if job.low_m3 > 0.0:
        yield Line(
            "First drain",
            f"{volume(job, job.low_m3)} is missing at the top, so as much less comes out: what "
            "stays inside is the same.",
        )


def _left_line(job):
    """Return the old coolant left by mass: what each drain keeps, multiplied."""
    total = sum(float(each[0]) for each in job.inside[:3])
    kept = float(job.flushed.stays[-1, 0]) * job.row.capacity_m3
    kept /= job.row.capacity_m3 - job.low_m3
    return Line(
        "Old coolant left, by mass",
        f"The shares that the drains leave, multiplied, are {100 * kept:.2f} % of the "
        f"{total:.3f} kg inside before: {total * kept:.3f} kg.",
    )


# --- how sure it is -------------------------------------------------------------------------------


def odds_lines(job):
    """Yield what stays at both ends of the capacity, the give or take, what to measure better."""
    if job.blocked:
        yield NO_LITRES
        return
    if job.system.capacity_error_m3:
        low, high = (job.volume_words(each) for each in job.capacity_ends_m3)
        least, most = (share_words(each) for each in job.stays_ends)
        yield Line("Old coolant left", f"{least} if the system holds {low}, {most} if {high}.")
    yield from job.frost_lines()
    yield from job.give_or_take_lines()
    for side in job.system.sides_that(MAY_NOT):
        yield Line("Not counted", f"What {side.name} holds, if it has not taken part.")
