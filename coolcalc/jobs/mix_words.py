"""The words of a `MixCorrection`: steps, rows and assumptions."""

import dataclasses
from decimal import ROUND_CEILING, ROUND_FLOOR

from .. import fluids, units
from ..answers import Row
from ..errors import BLOCKED, REASONS, Status
from ..instruments import Reading, TestStrip
from ..mixture import Mixture
from ..strength import BASIS_SHORT, BASIS_WORDS, OF_PRODUCT, Strength
from ..system import MAY_NOT, MIXES
from .mix_notes import reach_words

COLD = "cold to the hand"

#: A span narrower than this is one figure. [of strength or scale, in SI]
EXACT = 1e-9

DILUTE_AND_READ = (
    "dilute a sample with as much water, read that, and enter it as read on a sample diluted 1:1"
)


# --- what was told --------------------------------------------------------------------------------


def target_words(job):
    """Return the target as it was told."""
    if isinstance(job.target, Strength):
        return _told(job, job.target)
    return job.temp_words(job.target.m_as("kelvin"), 1)


def found_words(job):
    """Return what was found as it was told."""
    if isinstance(job.found, Reading):
        return job.found.told(job.unit_system)
    if isinstance(job.found, Mixture):
        return job.strength_words(job.found)
    return _told(job, job.found)


def _told(job, strength):
    if strength.basis != OF_PRODUCT:
        return str(strength)
    return f"{100 * strength.share:.3g} % of {job.product_word}"


# --- what to expect -------------------------------------------------------------------------------


def expected_words(job):
    """Return the second reading to expect, as printed: on the scale of the first, and how."""
    if not isinstance(job.found, Reading):
        return _freezing_span(job, job.expected_k())
    tool = job.found.instrument
    if _reads_freezing(job, tool):
        text = _freezing_span(job, job.expected_k(tool))
    else:
        text = _scale_span(job, tool, *job.expected_on(tool))
    return f"{text} {job.found.second(job.unit_system)}".rstrip()


def _freezing_span(job, expected):
    if not expected.weak_settled:
        return f"nothing to count on; {DILUTE_AND_READ}"
    if not expected.settled:
        # The strong end of the span may freeze warmer than its weak end.
        end = fluids.freeze_temp_k(job.before.fluid, fluids.FRAC_MASS_SETTLED_MAX)
        return (
            f"{job.temp_words(expected.high_k, rounding=ROUND_CEILING)} or colder; past "
            f"{job.temp_words(end)} no scale is settled, so {DILUTE_AND_READ}"
        )
    return job.frost_span(expected.weak_k, expected.low_k)


def _scale_span(job, tool, low, value, high):
    weak, strong = tool.span(low, high, job.unit_system)
    if high - low < EXACT or weak == strong:
        return f"about {tool.show(value, job.unit_system)}"
    return f"{weak} to {strong}"


def _between_words(job, at):
    """Return what to read between two drains, and what mix that is."""
    now = job.passes[at].after
    told = f"{job.strength_words(now)}, freezing point {job.freezing_words(now)}"
    if not isinstance(job.found, Reading):
        return told
    tool = job.found.instrument
    span = _scale_span(job, tool, *job.expected_between(now))
    return f"{span} {job.found.second(job.unit_system)}".rstrip() + f" ({told})"


def _reads_freezing(job, tool):
    plain = not isinstance(tool, TestStrip) and tool.spec.kind == "freezing point"
    return plain and not job.found.converted


def _expected_strength(job):
    """Say what a second reading in per cent shows, on the basis of the first."""
    basis = job.found.basis if isinstance(job.found, Strength) else OF_PRODUCT
    total = (job.half_width**2 + job.before.half_width**2) ** 0.5
    weak, strong = (
        dataclasses.replace(job.after, frac_mass=edge).strength(basis).share
        for edge in (
            max(job.after.frac_mass - total, 0.0),
            min(job.after.frac_mass + total, 1.0),
        )
    )
    words = f"% of {job.product_word}" if basis == OF_PRODUCT else BASIS_SHORT[basis]
    if total < EXACT:
        return f"{100 * weak:.0f} {words}"
    ends = (
        units.show(share, "share", "%", 0, way).removesuffix(" %")
        for share, way in ((weak, ROUND_FLOOR), (min(strong, 1.0), ROUND_CEILING))
    )
    return f"{' to '.join(ends)} {words}"


def read_again(job):
    """Return what to expect of a second reading, as a clause."""
    if not isinstance(job.found, Reading):
        joint = ", a freezing point of" if job.expected_k().weak_settled else ". As to frost:"
        return f"expect {_expected_strength(job)}{joint} {expected_words(job)}"
    return f"expect {expected_words(job)}"


# --- steps ----------------------------------------------------------------------------------------


def steps(job):
    """Return the actions, in the order of the work."""
    if job.blocked and job.status & Status.IN_BAND and not job.status & Status.NOT_TO_BE_CORRECTED:
        return (
            "The strength is near enough to the target; what is listed would change it. Make "
            f"up the level with mix of {job.strength_words(job.before)}.",
        )
    if job.blocked:
        return _blocked_steps(job)
    if job.nothing_to_do and job.status & Status.ONE_DRAIN_GIVES_PART:
        return (
            "Pour nothing yet: there is no room, and nothing comes out at this drain.",
            "Find what does come out (lower hose, block plugs, as the maker's handbook says), "
            "with the engine cold to the hand, and enter that figure.",
        )
    if job.nothing_to_do and job.status & Status.STOCK_RUNS_OUT:
        return (
            "Take nothing out and pour nothing: there is none left that would help.",
            "Fetch more of it, read again, and correct from the new reading.",
        )
    if job.nothing_to_do:
        return (
            "Leave the mix as it is: take nothing out, pour nothing.",
            "Read again at the next service.",
        )
    count = len(job.passes)
    told = [f"Engine off and {COLD}, {_heaters(job)} fully open."]
    for at in range(count):
        told += _pass_steps(job, at, count)
    return (*told, *_last_steps(job))


def _blocked_steps(job):
    told = [reason.next_step for flag, reason in REASONS.items() if flag & job.status & BLOCKED]
    if job.status & Status.NOT_TO_BE_CORRECTED and job.low_m3 > 0.0:
        told.insert(
            0,
            "A level that is low is made up with the same liquid only, as its maker delivers it. "
            "For another strength:",
        )
    return tuple(told)


def _heaters(job):
    sides = (*job.system.sides_that(MIXES), *job.system.sides_that(MAY_NOT))
    names = ["heater control", *(f"valve of {side.name}" for side in sides)]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _pass_steps(job, at, count):
    drained = job.plan.drain_m3[at, 0]
    drain = f"Drain {at + 1} of {count}: take out" if count > 1 else "Take out"
    if drained > 0.0:
        text = f"{drain} {job.volume_words(drained)} into a clean measured container."
        if job.system.drainable_m3 is None:
            text += (
                " If less comes out, pour nothing yet: enter what came out as drain "
                "figure; the new answer counts what is already out."
            )
        yield text
    for place, (product, volume) in enumerate(job.poured(at)):
        yield f"Pour {job.volume_words(volume)} of {product.name}" + (
            ", slowly; if it does not all go in, air is trapped: bleed it as the handbook says, "
            "and pour the rest."
            if place == 0
            else ", on top of it."
        )
    if at + 1 < count:
        yield (
            "Close the system, run the engine with the heater on hot until the thermostat has "
            f"opened and the mix has gone round, stop, and let it cool until it is {COLD}. Read "
            f"again: {_between_words(job, at)}. If it is clearly otherwise, correct again from "
            "that reading."
        )


def _last_steps(job):
    yield (
        "Close the system. Run the engine with the heater on hot until the thermostat has "
        "opened and the mix has gone round, before the vehicle stands in frost: until then a "
        "pocket of weak mix can freeze."
    )
    yield (
        f"Stop, and let it cool until it is {COLD}. Check the level; make up what is missing "
        f"with mix of {job.strength_words(job.after)}, mixed in a clean can."
    )
    if isinstance(job.found, Reading):
        yield f"Read again on the same {job.found.instrument.name}: {read_again(job)}."
    else:
        yield f"Read again: {read_again(job)}."
    if job.status & Status.ONE_DRAIN_GIVES_PART:
        yield (
            f"That is not yet the target ({job.target_words}): correct again from the new reading, "
            "and let out more (lower hose, block plugs, as the handbook says); or drain, flush and "
            "fill."
        )
    elif job.status & Status.STOCK_RUNS_OUT:
        yield (
            f"That is not the target ({job.target_words}). Fetch more, and correct again from "
            "the new reading."
        )
    if job.drained_m3 > 0.0:
        yield (
            f"{job.volume_words(job.drained_m3)} of old mix is waste: closed, labelled “used "
            "coolant”."
        )


# --- rows -----------------------------------------------------------------------------------------


def rows(job):
    """Return the figures behind the steps."""
    told = [
        Row("Capacity", job.volume_words(job.system.capacity_m3)),
        Row("Found", found_words(job)),
        Row("Found, as strength", job.strength_words(job.before)),
        Row("Freezing point as found", job.freezing_words(job.before)),
        Row("Target", job.target_words),
    ]
    if job.low_m3 > 0.0:
        told.append(Row("Missing below the mark", job.volume_words(job.low_m3)))
    if job.blocked:
        if not job.status & Status.NOT_TO_BE_CORRECTED:
            told.append(Row("Within reach", reach_words(job)))
        return tuple(told)
    if len(job.passes) > 1:
        told.append(Row("Drains", str(len(job.passes))))
    told.append(Row("Take out", job.volume_words(job.drained_m3)))
    told += [Row(f"Pour {p.name}", job.volume_words(volume)) for p, volume in job.poured()]
    told += [
        Row("Strength afterwards", job.strength_words(job.after)),
        Row("Freezing point afterwards", job.freezing_words(job.after)),
        Row("Expect to read", expected_words(job)),
        Row("To waste", job.volume_words(job.drained_m3)),
    ]
    return tuple(told)


# --- assumptions ----------------------------------------------------------------------------------


def assumptions(job):
    """Return what the figures take for granted."""
    known = job.system.capacity_error_m3
    lines = [
        f"The system holds {job.volume_words(job.system.capacity_m3)} full to the cold mark"
        + (
            f", give or take {job.volume_words(known)}."
            if known
            else ", taken as exact: no give or take was entered."
        ),
        measured(job),
        f"The old mix carries additives like {job.before.product.name}.",
        "The freezing point is that of the first ice crystals, additives not counted, with no "
        "margin in it; it says nothing of when a block bursts.",
        f"“% of product” means {BASIS_WORDS[OF_PRODUCT]}; the product is "
        f"{job.before.product.name}.",
    ]
    if job.system.drainable_m3 is None:
        lines.append("As much comes out at the drain as is asked for: no figure was entered.")
    if not isinstance(job.found, Reading) and not job.before.half_width:
        lines.append("The strength found is taken as exact: no give or take was entered.")
    if isinstance(job.found, Reading):
        lines.append(reads_true(job))
    if len(job.passes) > 1:
        lines.append("The mix is the same all through before each drain after the first.")
    lines += [made_of(product) for product in job.shelf if not product.is_water]
    return tuple(lines)


def measured(job):
    """Return how litres are measured, as a sentence."""
    poured, drained = job.temp_words(job.temp_k), job.temp_words(job.row.drain_temp_k)
    text = f"Litres are measured at {poured} on a cold engine"
    if job.row.drain_temp_k != job.temp_k:
        text += f", and those taken out at {drained}"
    return f"{text}; what comes out is well mixed."


def reads_true(job):
    """Return how well the instrument reads, as a sentence."""
    tool = job.found.instrument
    if isinstance(tool, TestStrip):
        return f"The {tool.name} reads true to half the gap to the next step, 95 times of 100."
    error, repeat, offset = (
        tool.spec.show_error(each, job.unit_system)
        for each in (tool.error_si, tool.repeat_si, tool.offset_si)
    )
    split = (
        "; taken as half of each, since it was not told"
        if tool.repeatability is None
        else " (they add in squares)"
    )
    return (
        f"The {tool.name} reads true to {error}, 95 times of 100: {repeat} from reading to "
        f"reading, and {offset} its own offset{split}."
    )


def made_of(product):
    """Return the make-up of a product, as a sentence."""
    glycol, water, additive = (100 * part for part in product.share)
    return (
        f"{product.name}: {glycol:.0f} % glycol, {water:.0f} % water, {additive:.0f} % "
        f"additives by mass, {product.density_kg_m3 / 1000:.3f} kg/L at 20 °C."
    )
