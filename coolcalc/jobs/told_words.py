"""The words that jobs share: what was told, what to expect, how sure it is, what is assumed."""

import dataclasses
import math
from decimal import ROUND_CEILING, ROUND_FLOOR

from .. import fluids, units
from ..answers import Line
from ..errors import REASONS, Status
from ..instruments import Reading, TestStrip
from ..mixture import Mixture
from ..product import GENERIC
from ..strength import BASIS_SHORT, BASIS_WORDS, OF_PRODUCT, Strength
from ..system import FILLS, MAY_NOT, MIXES, SHUT
from .balance_lines import of_product
from .mix_plan import EQUAL

COLD = "cold to the hand"

#: Range of a mix in service, share of concentrate; source key ``astm-d6210``. [m3/m3]
FLOOR_SHARE, CEILING_SHARE = 0.40, 0.60

#: Weaker than this, a reading is that of plain water. [kg/kg]
PLAIN_WATER = 0.003

#: A give or take below this is not worth a figure. [kg/kg]
NOTHING = 5e-4

#: A measuring step of at least this share of a system may leave it so far beside the target that
#: it is told; less than an instrument tells is not. Common practice, no source. [m3/m3, kg/kg]
COARSE_STEP, ROUNDED_OFF = 0.005, 0.005

#: What each input is called.
CAUSE_WORDS = {
    "found": "the reading",
    "capacity": "the capacity",
    "came out": "what came out",
}

#: What there is to say where there are no litres.
NO_LITRES = Line("How sure", "There are no litres to be sure of.")

DILUTE_AND_READ = (
    "dilute a sample with as much water, read that, and enter it as read on a sample diluted 1:1"
)

FIRST_CRYSTALS = (
    "The freezing point is that of the first ice crystals, additives not counted, with no margin "
    "in it; it says nothing of when a block bursts."
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


def inside_words(job):
    """Return what is inside, as printed."""
    if job.before.frac_mass < PLAIN_WATER:
        return "plain water"
    return job.strength_words(job.before)


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
        text = scale_span(job, tool, *job.expected_on(tool))
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


def scale_span(job, tool, low, value, high):
    """Return a span on the scale of an instrument as printed. [SI of its scale]."""
    weak, strong = tool.span(low, high, job.unit_system)
    if high - low < EQUAL or weak == strong:
        return f"about {tool.show(value, job.unit_system)}"
    return f"{weak} to {strong}"


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
    if total < EQUAL:
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


# --- what to know before the steps ----------------------------------------------------------------


def share_of_concentrate(mixture):
    """Share of the generic concentrate that has this strength. [m3/m3]."""
    concentrate = GENERIC.get(f"{mixture.fluid} concentrate", mixture.product)
    return Mixture(product=concentrate, frac_mass=mixture.frac_mass).strength().share


def weak_notes(mixture):
    """Yield what is to be said of a mix that is too weak to be driven with."""
    if share_of_concentrate(mixture) < FLOOR_SHARE - 0.005:
        yield (
            "That is weaker than 40 % of concentrate: whatever the frost, corrosion protection "
            "gets thin and it boils sooner. The maker's handbook says how little is allowed."
        )


def too_strong(job):
    """Whether the mix afterwards is past 60 mass % of glycol, where no target lies."""
    return job.after.frac_mass > fluids.FRAC_MASS_SETTLED_MAX


def target_note(job, called="target"):
    """Return whether the mix afterwards holds the target, and how likely, as a sentence."""
    chance = f"the chance that it holds is {chance_words(job.chance_to_hold)}"
    if too_strong(job):
        return (
            f"It is too strong: stronger than the {called} ({job.target_words}) and than 60 mass % "
            "of glycol, where more glycol is no gain against frost and it cools less."
        )
    if job.holds:
        return f"It holds the {called} ({job.target_words}), by the likeliest figures: {chance}."
    short = of_product(job, job.target_frac_mass) - of_product(job, job.after.frac_mass)
    little = f", by less than 1 % of {job.product_word}" if short < 0.01 else ""
    return f"It is weaker than the {called} ({job.target_words}){little}: {chance}."


def rounding_notes(job):
    """Yield how far litres as they are measured leave a small system beside the target."""
    off = job.after.frac_mass - job.target_frac_mass
    if job.step.m3 >= COARSE_STEP * job.row.capacity_m3 and abs(off) >= ROUNDED_OFF:
        step = job.volume_words(job.step.m3)
        yield (
            f"Litres are rounded to {step}, which is much of so small a system: as printed, it "
            f"ends {100 * abs(off):.1f} % of glycol by mass {'stronger' if off > 0 else 'weaker'} "
            "than the target. The reading decides."
        )


def reading_notes(job):
    """Yield what is odd about the reading."""
    if isinstance(job.found, Reading):
        yield from job.found.remarks(job.before.product, job.unit_system)
        if job.before.frac_mass < PLAIN_WATER:
            yield (
                "The reading is that of plain water: check the zero on water and wet the whole "
                "prism before going by it."
            )


def _side_words(job, side):
    """Return a side circuit and what it holds, to begin a sentence with."""
    return f"{side.name[:1].upper()}{side.name[1:]} ({job.volume_words(side.volume_m3)})"


def side_notes(job, done=False):
    """Yield what is to be known of side circuits; ``done``: the work is over."""
    for side in job.system.sides_that(MAY_NOT):
        text = (
            f"{_side_words(job, side)} may not have mixed: what it holds is not known from this "
            "reading. Read a sample from it too"
        )
        if done:
            yield f"{text}: open its valve, run, let it cool, and read; that reading decides."
        elif job.nothing_to_do:
            yield f"{text}."
        else:
            text += "; or better, bring it round, let it cool, and read again before this work."
            rest = job.without(side)
            if rest is not None:
                text += (
                    f" If it takes no part, the rest reads {job.strength_words(rest)} at first, "
                    f"freezing point {job.freezing_words(rest)}. Once it takes part, that changes, "
                    "and may be weaker than the target."
                )
            yield text
    for side in job.system.sides_that(SHUT):
        yield (
            f"{_side_words(job, side)} is shut and left out: it stays as it is. Open it only to "
            "correct the whole, and read again then."
        )


def circuit_notes(job):
    """Yield what circuit this is, where it is not to be corrected by hand."""
    if job.status & Status.NOT_TO_BE_CORRECTED:
        reason = REASONS[Status.NOT_TO_BE_CORRECTED]
        yield f"The circuit is {job.system.fill}. {reason.sentence}"


def shelf_notes(job):
    """Yield the remarks on the products that are poured."""
    yield from (f"{p.name}: {p.remark}" for p in job.shelf if p.remark)


# --- steps ----------------------------------------------------------------------------------------


def valves(job):
    """Return the valves of side circuits that are to be open."""
    sides = (*job.system.sides_that(MIXES), *job.system.sides_that(MAY_NOT))
    return [f"valve of {side.name}" for side in sides]


def make_up_words(job):
    """Return what a level is made up with: a circuit not corrected by hand takes no mix."""
    if job.system.fill != FILLS[0]:
        return "the coolant that its maker specifies, as it is delivered, and nothing else"
    return f"mix of {job.strength_words(job.after)}, mixed in a clean can{_not_listed(job)}"


def run_and_cool_steps(job, opened="", make_up=None):
    """Yield how the mix is brought round, cooled and levelled, with what is to be open first.

    ``make_up`` is what the level is made up with, where the strength afterwards is not known.
    """
    shut = "".join(f" Leave the valve of {side.name} shut." for side in job.system.sides_that(SHUT))
    yield (
        f"Close the system.{shut} Run the engine with the heater on hot{opened} until the "
        "thermostat has opened and the mix has gone round, before the vehicle stands in frost: "
        "until then a pocket of weak mix can freeze."
    )
    yield (
        f"Stop, and let it cool until it is {COLD}. Check the level; make up what is missing "
        f"with {make_up or make_up_words(job)}."
    )


def _not_listed(job):
    """Say so where what is listed makes no mix of the strength afterwards."""
    if not hasattr(job, "used_up"):  # what was poured is no list of what there is
        return ""
    shares = [product.frac_mass for product in job.shelf]
    makes = shares and min(shares) - EQUAL <= job.after.frac_mass <= max(shares) + EQUAL
    return "" if makes and not job.used_up else " (from more than is listed)"


def on_the_same(job):
    """Return the instrument of the first reading, to go on with a sentence; else nothing."""
    return f" on the same {job.found.instrument.name}" if isinstance(job.found, Reading) else ""


# --- how sure it is -------------------------------------------------------------------------------


def chance_words(chance):
    """Return a chance as printed: a whole per cent, never 0 or 100."""
    if chance > 0.995:
        return "more than 99 %"
    return "less than 1 %" if chance < 0.005 else f"{100 * chance:.0f} %"


def mass_words(part):
    """Return a give or take of a strength as printed, per cent of glycol by mass. [kg/kg]."""
    return f"{100 * part:.2g} %" if part >= NOTHING else "next to nothing"


def better_words(job):
    """Say which input to measure better, and what would be left."""
    name = job.measure_better
    rest = sum(part**2 for cause, part in job.causes.items() if cause != name) ** 0.5
    share = 100 * job.causes[name] ** 2 / sum(part**2 for part in job.causes.values())
    left = f"{mass_words(rest)} of glycol by mass" if rest >= NOTHING else "next to nothing"
    return (
        f"Most of it ({share:.0f} % of the variance) comes from {CAUSE_WORDS[name]}: "
        f"{_how_better(job, name)}. Were it exact, {left} would be left."
    )


def _how_better(job, name):
    if name == "capacity":
        return "measure what goes in when it is next filled from empty"
    if name == "came out":
        return "catch all that comes out, and measure it"
    tool = job.found.instrument if isinstance(job.found, Reading) else None
    if tool is None or tool.kind != "refractometer":
        return "read a refractometer made for the glycol inside, zeroed on water"
    return (
        "read several times on a zero set on water, and take the mean; the offset of the "
        "instrument itself stays, and shows on a mix of known strength"
    )


# --- assumptions ----------------------------------------------------------------------------------


def system_holds(job):
    """Return the capacity and how well it is known, as a sentence."""
    known = job.system.capacity_error_m3
    return f"The system holds {job.volume_words(job.system.capacity_m3)} full to the cold mark" + (
        f", give or take {job.volume_words(known)}."
        if known
        else ", taken as exact: no give or take was entered."
    )


def old_mix(job):
    """Return what the old mix carries, as a sentence."""
    return f"The old mix carries additives like {job.before.product.name}."


def how_exact(job, where="found"):
    """Yield how well the strength of the old mix is known."""
    if isinstance(job.found, Reading):
        yield reads_true(job)
    elif not job.before.half_width:
        yield f"The strength {where} is taken as exact: no give or take was entered."


def per_cent_means(job):
    """Return what per cent of product means, as a sentence."""
    return (
        f"“% of product” means {BASIS_WORDS[OF_PRODUCT]}; the product is {job.before.product.name}."
    )


def makes_of(job):
    """Yield the make-up of the products that are poured."""
    yield from (made_of(product) for product in job.shelf if not product.is_water)


def reach_per_cent(job):
    """Return the nearest strength within reach, a whole per cent that can be entered as target."""
    per_cent = 100 * job.reach.strength().share
    whole = round(per_cent)
    if abs(per_cent - whole) <= 100 * EQUAL:
        return whole
    beyond = job.reach.frac_mass > job.target_frac_mass
    return math.ceil(per_cent) if beyond else math.floor(per_cent)


def reach_words(job):
    """Return the nearest strength within reach, as printed."""
    return f"{reach_per_cent(job)} % of {job.product_word}"


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
        " (they add in squares; taken as alike, since it was not told)"
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
