"""The words of a `Refill`: notes, steps, rows, assumptions."""

import dataclasses
import math

from ..answers import Line, Row
from ..balance import ladder
from ..errors import REASONS, Status
from ..system import FILLS, MAY_NOT
from .refill_levels import SAME
from .told_words import (
    COLD,
    FIRST_CRYSTALS,
    NO_LITRES,
    chance_words,
    circuit_notes,
    expected_words,
    found_words,
    how_exact,
    make_up_words,
    makes_of,
    measured,
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

NOT_BY_HAND = REASONS[Status.NOT_TO_BE_CORRECTED]


# --- notes ----------------------------------------------------------------------------------------


def _inside_words(job):
    """Return what is still inside, lowest to highest, as printed."""
    if job.kind == "nothing":
        return "nothing: a dry system"
    still = job.start.still
    low, value, high = (float(each[0]) for each in (still.low_m3, still.value_m3, still.high_m3))
    name = "plain water" if job.kind == "plain water" else "old mix"
    if high - low < job.step.m3:
        return f"{job.volume_words(value)} of {name}"
    return (
        f"about {job.volume_words(value)} of {name} ({job.volume_words(low)} to "
        f"{job.volume_words(high)})"
    )


def notes(job):
    """Yield what is inside, whether it can be reached, what it ends at; then what is odd."""
    yield f"Still inside: {_inside_words(job)}."
    yield from circuit_notes(job)
    sign = job.told_sign
    if job.blocked:
        yield from _not_reached(job)
    elif sign is not None and not sign.as_planned:
        yield sign.sentence
        yield (
            f"The plan was to end at {job.mix_and_frost(job.after)}. Other litres went in, so "
            "nothing of that can be counted on: the reading decides."
        )
    else:
        if sign is not None:
            yield sign.sentence
        yield (
            f"It ends at {job.mix_and_frost(job.after)}: the chance that it holds the target "
            f"({job.target_words}) is {chance_words(job.chance_to_hold)}."
        )
        yield from _ends(job)
        if job.status & Status.REFILL_MAY_MISS:
            yield REASONS[Status.REFILL_MAY_MISS].sentence
        yield from job.strength_notes()
        yield from rounding_notes(job)
    yield from reading_notes(job)
    yield from _litre_notes(job)
    yield from side_notes(job)
    yield from shelf_notes(job)


def _not_reached(job):
    why = [reason.sentence for reason in job.blocked_by if reason is not NOT_BY_HAND]
    if why:
        yield (
            f"{' '.join(why)} Filled to the mark with what is listed it ends at "
            f"{job.mix_and_frost(job.reach)}; the target is {job.target_words}."
        )


def _told_apart(job):
    """Whether the two ends lie further apart than a reading would be out."""
    least, most = job.ends()
    own = job.old.half_width if job.old is not None else SAME
    return abs(least.frac_mass - most.frac_mass) > 2 * max(own, SAME)


def _ends(job):
    still = job.start.still
    low, high = float(still.low_m3[0]), float(still.high_m3[0])
    if high - low < job.step.m3:
        return
    least, most = job.ends()
    ends = [job.mix_and_frost(each) for each in (least, most)]
    if ends[0] == ends[1] or abs(least.frac_mass - most.frac_mass) < SAME:
        other = "" if ends[0] == ends[1] else f", and {job.strength_words(most)}"
        yield (
            f"With {job.volume_words(low)} inside or {job.volume_words(high)}, it ends at nearly "
            f"the same strength: {ends[0]}{other}."
        )
    else:
        tells = " The reading tells which." if _told_apart(job) else ""
        yield (
            f"If only {job.volume_words(low)} is inside, it ends at {ends[0]}; if "
            f"{job.volume_words(high)}, at {ends[1]}.{tells}"
        )
    if job.kind == "plain water" and job.fill.bucket and len(job.pours_m3()) > 1:
        yield (
            "Over plain water whose volume is not known, all the concentrate first and then water "
            "up to the mark comes out nearer than a bucket does: leave the bucket out, unless it "
            "may stand in frost before it has run."
        )


def _litre_notes(job):
    caught, clean = job.litres["caught"], job.litres["pour_back"]
    parts, low, high = job.opened
    if caught is not None and parts and job.kind != "nothing":
        out = caught + job.litres["spilled"] + job.low_m3
        capacity = job.row.capacity_m3
        if not low * capacity - job.step.m3 <= out <= high * capacity + job.step.m3:
            usual = f"{job.volume_words(low * capacity)} to {job.volume_words(high * capacity)}"
            yield (
                f"{job.volume_words(out)} came out in all; with {', '.join(parts)} opened, {usual} "
                "is usual (common practice, no source). Check what was caught, and whether a "
                "drain was blocked."
            )
    if not job.blocked and clean > job.fill.back_m3 + job.step.m3 / 2:
        yield (
            f"Of the {job.volume_words(clean)} of clean caught mix, "
            f"{job.volume_words(job.fill.back_m3)} can go back: more would leave no room for what "
            "the target needs. The rest is waste."
        )
    if job.low_m3 > 0.0:
        yield (
            "The level was low before the work: find out where it went. A level that falls is a "
            "leak until shown otherwise."
        )


# --- steps ----------------------------------------------------------------------------------------


def steps(job):
    """Yield the actions, from closing up to next morning; ways out where there is no answer."""
    if job.status & Status.NOT_TO_BE_CORRECTED:
        yield NOT_BY_HAND.next_step
        return
    if job.blocked:
        yield from _ways(job)
        return
    if job.went_as_planned:
        yield from _fill_steps(job)
        yield from run_and_cool_steps(job, _opened(job))
        yield f"Read{on_the_same(job)}: {read_again(job)}."
    else:
        yield job.told_sign.first
        if job.told_sign.must_not_run:
            yield job.told_sign.then
            return
        yield from run_and_cool_steps(job, _opened(job), _holding_target(job))
        yield (
            f"Read{on_the_same(job)}, and go by that: other litres went in than were planned. "
            "Until it shows that the target is held, keep it out of frost."
        )
    yield from _by_the_reading(job)
    yield (
        f"Next morning, {COLD}: look at the level again, make it up with the same, and look "
        "underneath. If it falls again, find the leak."
    )
    if job.kind != "nothing" or job.litres["caught"]:
        yield _waste(job)


def _holding_target(job):
    """Return what a level is made up with where the strength inside is not known."""
    if job.system.fill != FILLS[0]:
        return make_up_words(job)
    return f"mix that holds the target ({job.target_words}), mixed in a clean can"


def _fill_steps(job):
    yield (
        f"Engine off and {COLD}. Close what was opened: plugs, hoses, clips, drain; antifreeze "
        f"finds leaks that water does not.{'' if job.stages() else ' Open the heater to hot.'}"
    )
    if job.stages():
        yield from _stage_steps(job)
    else:
        yield from _pour_steps(job)
    yield (
        f"Write down what went in: about {job.volume_words(job.goes_in_m3)} is to be expected"
        f"{', and a little more once it has mixed' if len(job.pours_m3()) > 1 else ''}. Clearly "
        "less can mean air inside; clearly more a leak, or more out than was caught."
    )


def _opened(job):
    names = " and ".join(f"the {valve}" for valve in valves(job))
    return f", and {names} fully open," if names else ""


def _pour_words(job, pours):
    return [f"{job.volume_words(each)} of {product.name}" for product, each in pours if each > 0.0]


def _pour_steps(job):
    back = job.fill.back_m3 > 0.0
    pours = job.pours_m3()
    if back:
        mark = "" if pours else ", up to the cold mark and not above it"
        yield (
            f"Pour {job.volume_words(job.fill.back_m3)} of the clean caught mix back in, slowly, "
            f"through a fine cloth or sieve{mark}."
        )
    if not pours:
        return
    words = _pour_words(job, pours)
    if len(pours) == 1:
        yield (
            f"Pour {pours[0][0].name}, slowly, up to the cold mark and not above it: about "
            f"{words[0]}."
        )
    elif job.fill.bucket:
        yield _bucket_step(job, pours)
        yield (
            "Pour that in slowly, up to the cold mark and not above it. Keep what is left over, "
            f"labelled, for topping up. {_more_words(job, pours)}"
        )
    else:
        yield f"{'Then pour' if back else 'Pour'} {words[0]}{'' if back else ' first'}, slowly."
        for each in words[1:-1]:
            yield f"Then pour {each}."
        yield (
            f"Then fill with {pours[-1][0].name} up to the cold mark: about {words[-1]}. If it is "
            "full before all of the others is in, stop: keep the rest, and go by the reading."
        )


def _bucket_step(job, pours):
    total = sum(each for _, each in pours)
    bucket = job.litres["bucket"]
    count = 1 if bucket is None else math.ceil(total / bucket - 1e-9)
    mixed = "make-up mix" if job.kind != "nothing" or job.fill.back_m3 else "mix"
    words = " with ".join(_pour_words(job, pours))
    if count == 1:
        return f"In a clean bucket mix {words}: the {mixed}."
    return f"Mix {words} in all, in {count} bucketfuls with the same parts of each: the {mixed}."


def _more_words(job, pours):
    """Say what to mix where the bucket runs out before the mark, for the most that may go in."""
    total = sum(each for _, each in pours)
    short = max(job.may_go_in_m3 - job.fill.back_m3 - total, job.step.m3)
    more = [
        (product, float(ladder.round_up(short * each / total, job.step.m3)))
        for product, each in pours
    ]
    words = " with ".join(_pour_words(job, more))
    return f"If it runs out first, mix more with the same parts: up to {words}."


def _stage_steps(job):
    for where, mark, (volume_m3, pours) in zip(
        ("On the stand", "In the vehicle, when all is fitted, heater open to hot"),
        ("keep what does not go in", "up to the cold mark and not above it"),
        job.stages(),
        strict=True,
    ):
        words = _pour_words(job, pours)
        mixed = (
            f"{words[0]}" if len(words) == 1 else f"{' with '.join(words)}, mixed in a clean bucket"
        )
        yield f"{where}: fill about {job.volume_words(volume_m3)}, slowly: {mixed}; {mark}."


def _by_the_reading(job):
    text = "Outside the target, enter the reading in a correction of the mix; it gives the litres."
    if job.system.fill != FILLS[0]:
        text = f"{NOT_BY_HAND.sentence} {NOT_BY_HAND.next_step}"
    if job.went_as_planned and _told_apart(job):
        most = job.ends()[1]
        nearer = "weaker" if most.frac_mass < job.after.frac_mass else "stronger"
        other = "stronger" if nearer == "weaker" else "weaker"
        text = f"If it reads {nearer}, more was inside than reckoned; if {other}, less. {text}"
    yield text


def _waste(job):
    rest = job.waste_m3
    text = "Keep all waste in a closed, labelled container: "
    if rest is None:
        return f"{text}all caught mix that does not go back. Local rules decide where it goes."
    spilled = " and what was wiped up" if job.litres["spilled"] else ""
    if rest < job.step.m3 / 2:
        return f"{text}{'what was wiped up' if spilled else 'cloths and sieve'}, not down a drain."
    return (
        f"{text}{job.volume_words(rest)} of caught mix{spilled}. Local rules decide where it goes."
    )


def _ways(job):
    if not job.ways:
        yield from (reason.next_step for reason in job.blocked_by)
        return
    yield (
        f"Do not fill yet. Engine off and {COLD}, choose one of these"
        f"{' ways' if len(job.ways) > 1 else ''}:"
    )
    for way in job.ways:
        if way.kind == "product":
            words = _pour_words(job, way.pours)
            tail = f", then {words[1]} up to the cold mark" if len(words) > 1 else ""
            first = " first" if len(words) > 1 else " up to the cold mark"
            yield f"{_listing(job, way)}: {words[0]}{first}{tail}."
        elif way.kind == "let out" and way.inside_m3 > 0.0:
            more = job.held_m3 - way.inside_m3
            yield (
                f"{COLD.capitalize()}: let out {job.volume_words(more)} more before filling, so "
                f"that no more than {job.volume_words(way.inside_m3)} stays inside: lower hose or "
                "block plugs, as the maker's handbook says. Then ask again."
            )
        elif way.kind == "let out":
            yield (
                f"{COLD.capitalize()}: let out all that is still inside before filling, lower "
                "hose and block plugs as the maker's handbook says: what is listed has the "
                "strength of the target only in an empty system."
            )
        else:
            yield _again_words(job, way)


def _listing(job, way):
    """Return what is poured that is not listed, to begin a way out with."""
    new = [product for product, _ in way.pours if product not in job.shelf]
    if all(product.is_water for product in new):
        return "List water that meets the maker's limits too, and pour"
    return "Pour another product"


def _again_words(job, way):
    name = way.pours[0][0].name
    ends = dataclasses.replace(job.before, frac_mass=way.frac_mass, half_width=0.0)
    back = way.fills - 1
    off = round(100 * (way.frac_mass - job.target_frac_mass), 1)
    beside = ""
    if off:
        side = "stronger" if off > 0.0 else "weaker"
        beside = f" ({abs(off):.1f} % of glycol by mass {side} than the target)"
    return (
        f"Fill with {name} up to the cold mark, close it, run it with the heater on hot, let it "
        f"cool until it is {COLD}, and drain what came out before"
        f"{'' if back == 1 else f', {back} times in all'}; then fill for the last time, to end at "
        f"about {job.strength_words(ends)}{beside}: read before it, and ask again. Keep it out of "
        "frost until then. All that is drained is waste."
    )


# --- rows -----------------------------------------------------------------------------------------


def _give_or_take(job, name):
    known = job.litres[name]
    return f", give or take {job.volume_words(known)}" if known else ""


def rows(job):
    """Yield the figures."""
    yield Row("Capacity", job.volume_words(job.system.capacity_m3))
    if job.litres["caught"] is not None:
        yield Row(
            "Caught", job.volume_words(job.litres["caught"]) + _give_or_take(job, "caught_error")
        )
    if job.litres["spilled"]:
        yield Row(
            "On the floor",
            job.volume_words(job.litres["spilled"]) + _give_or_take(job, "spilled_error"),
        )
    if job.opened[0]:
        yield Row("Opened", ", ".join(job.opened[0]))
    if job.low_m3 > 0.0:
        yield Row("Missing before", job.volume_words(job.low_m3))
    yield Row("Still inside", _inside_words(job))
    if job.old is not None:
        yield Row("Old mix", f"{found_words(job)}, {job.mix_and_frost(job.old)}")
    if job.blocked:
        if job.reach is not None:
            yield Row("Within reach", job.mix_and_frost(job.reach))
        yield Row("Target", job.target_words)
        return
    if job.fill.back_m3 > 0.0:
        yield Row("Poured back", job.volume_words(job.fill.back_m3))
    for product, each in job.pours_m3():
        yield Row(f"Pour {product.name}", job.volume_words(each))
    if job.litres["went_in"] is not None:
        yield Row("Went in", job.volume_words(job.litres["went_in"]))
    if not job.went_as_planned:
        yield Row("Strength afterwards", "not known: other litres went in than were planned")
        yield Row("Target", job.target_words)
        return
    yield Row("Strength afterwards", job.strength_words(job.after))
    yield Row("Freezing point afterwards", job.freezing_words(job.after))
    least, most = job.ends()
    if job.kind != "nothing":
        yield Row("If the least is inside", job.mix_and_frost(least))
        yield Row("If the most is inside", job.mix_and_frost(most))
    yield Row("Target", job.target_words)
    yield Row("Chance to hold the target", chance_words(job.chance_to_hold))
    yield Row("Expect to read", expected_words(job))


# --- assumptions ----------------------------------------------------------------------------------


def assumptions(job):
    """Yield what the figures take for granted."""
    yield system_holds(job)
    yield measured(job)
    if job.litres["caught"] is None and job.kind != "nothing":
        yield (
            "What came out is guessed from what was opened: the shares of the capacity are common "
            "practice, no source. Measure what is caught, and it is known."
        )
    if job.litres["spilled"] and job.litres["spilled_error"] is None:
        yield "What went on the floor is a guess: half of it is taken as give or take."
    if not job.blocked:
        yield "The last liquid is poured to the cold mark, whatever is printed for it."
    if job.kind == "plain water":
        yield "What is still inside is plain water, with no glycol left in it."
    if job.old is not None:
        yield old_mix(job)
        yield from how_exact(job, "of the old mix")
    yield FIRST_CRYSTALS
    yield per_cent_means(job)
    yield from makes_of(job)


# --- how sure it is -------------------------------------------------------------------------------


def odds_lines(job):
    """Yield chance to hold, the span of the freezing point, and what to measure better."""
    if job.blocked:
        yield NO_LITRES
        return
    if not job.went_as_planned:
        yield Line("How sure", "Other litres went in than were planned: the reading decides.")
        return
    yield Line(
        "Chance to hold the target",
        f"{chance_words(job.chance_to_hold)}: that the mix holds {job.target_words}.",
    )
    yield from job.frost_lines()
    yield from job.give_or_take_lines()
    for side in job.system.sides_that(MAY_NOT):
        yield Line("Not counted", f"What {side.name} holds, if it is not as the reading says.")
