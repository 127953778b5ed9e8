"""The working of `correct_mix`: the balance, the textbook rule beside it, the other meanings."""

import numpy as np

from ..answers import Line
from ..balance import ledger
from ..balance.composition import product_density_kg_m3
from ..errors import BLOCKED, InputError, Status
from ..fluids import FRAC_MASS_SETTLED_MAX
from ..mixture import Mixture
from ..strength import BASIS_SHORT, OF_PRODUCT, Strength
from .balance_lines import (
    apart_lines,
    blend_m3,
    hundredths,
    inside_line,
    of_product,
    poured_line,
    share,
    strength_line,
    sum_line,
    taken_line,
)
from .mix_plan import EQUAL, NOTHING_M3, plan_row, row_of, state_after
from .told_words import CAUSE_WORDS

#: What two volumes must differ by to be told apart in the working. [m3]
HUNDREDTH_M3 = 5e-6


def working_lines(job):
    """Return the lines of the working of a `MixCorrection`, volumes with hundredths."""
    return (
        *_strength_lines(job),
        *_balance_lines(job),
        *_textbook_lines(job),
        *_meaning_lines(job),
        *_give_or_take_lines(job),
    )


def _strength_lines(job):
    yield strength_line(job, "Found", job.before.frac_mass)
    yield strength_line(job, "Target", job.target_frac_mass)
    if abs(job.aimed_frac_mass - job.target_frac_mass) > EQUAL:
        yield strength_line(job, "Aimed at", job.aimed_frac_mass)


def _balance_lines(job):
    yield inside_line(job, "Inside before", job.inside, job.temp_k)
    for product in job.shelf:
        density = product_density_kg_m3(product.si(job.before.fluid), job.temp_k)
        glycol, water, additive = product.share
        yield Line(
            product.name,
            f"{density / 1000:.4f} kg/L; per kg: glycol {glycol:.3f}, water {water:.3f}, additives "
            f"{additive:.3f} kg.",
        )
    if job.blocked:
        return
    count = int(job.exact.passes[0])
    for at in range(count):
        yield from _pass_lines(job, at, f" {at + 1} of {count}" if count > 1 else "")
    after = job.exact.after
    yield sum_line(job, "Check", after)
    yield inside_line(job, "Volume afterwards", after, job.temp_k)
    part = job.status & (Status.ONE_DRAIN_GIVES_PART | Status.IN_BAND | Status.STOCK_RUNS_OUT)
    yield Line(
        "Rounded",
        f"to {job.step.in_unit:g} {job.unit_system.volume}, never above the mark"
        + ("" if part or job.edge_aimed else ", never weaker than the target")
        + f"; this gives {share(job.after.frac_mass)}.",
    )


def _pass_lines(job, at, of):
    """Yield the lines of one drain and fill of the unrounded plan."""
    state, drained = state_after(job.row, job.exact, at), job.exact.drain_m3[at, 0]
    if drained > NOTHING_M3:
        out_k = job.row.drain_temp_k
        yield taken_line(job, f"Mass balance{of}: take out", state, drained, out_k)
        state = ledger.drain(state, drained, out_k)
    apart = float(ledger.volume_m3(state, job.temp_k)[0])
    for product, poured in zip(job.shelf, job.exact.pour_m3[at, :, 0], strict=True):
        if poured > NOTHING_M3:
            yield poured_line(job, f"Mass balance{of}: pour {product.name}", product, poured)
            apart += poured
    yield from apart_lines(job, state_after(job.row, job.exact, at + 1), apart, f"Shrinking{of}")


def _textbook(job, found, target):
    """Drain, and pours by product, by the rule that volumes add and the product is 100 %. [m3].

    Returns None where the rule has no answer.
    """
    strong = max(job.shelf, key=lambda product: product.frac_mass)
    weak = min(job.shelf, key=lambda product: product.frac_mass)
    capacity, low = job.system.worked_m3, job.low_m3
    held = capacity - low
    strong_share, weak_share = (of_product(job, each.frac_mass) for each in (strong, weak))
    if low and strong_share > weak_share:
        first = blend_m3(low, (capacity * target - held * found) / low, strong_share, weak_share)
        if -NOTHING_M3 <= first <= low + NOTHING_M3:
            return 0.0, ((strong, max(first, 0.0)), (weak, max(low - first, 0.0)))
    product, poured_share = (strong, strong_share) if target > found else (weak, weak_share)
    if poured_share == found:
        return None
    poured = blend_m3(capacity, target, poured_share, found)
    if not low - NOTHING_M3 <= poured <= capacity + NOTHING_M3:
        return None
    return max(poured - low, 0.0), ((product, poured),)


def _told_to_rule(job):
    """Found and target as the rule is given them: as told where both say per cent of one thing."""
    told = (job.found, job.target)
    plain = abs(job.aimed_frac_mass - job.target_frac_mass) <= EQUAL
    plain = plain and all(isinstance(each, Strength) for each in told)
    if plain and job.found.basis == job.target.basis:
        return *(each.share for each in told), job.found.basis
    shares = (of_product(job, each) for each in (job.before.frac_mass, job.aimed_frac_mass))
    return *shares, OF_PRODUCT


def _textbook_lines(job):
    if job.blocked or not np.any(job.exact.pour_m3[:, :, 0] > 0.0):
        return
    found, target, basis = _told_to_rule(job)
    rule = _textbook(job, found, target)
    if rule is None:
        return
    drained, pours = rule
    poured = " and ".join(
        f"{hundredths(job, volume)} of {product.name}" for product, volume in pours
    )
    yield Line(
        "Textbook rule",
        f"With volumes that add and the product as 100 %, {100 * found:.1f} to "
        f"{100 * target:.1f} {BASIS_SHORT[basis]}: take out {hundredths(job, drained)}, pour "
        f"{poured}.",
    )
    exact_out = job.exact.drain_m3[:, 0].sum()
    more_in = np.sum(job.exact.pour_m3[:, :, 0]) - sum(volume for _, volume in pours)
    out_text = f"{hundredths(job, abs(drained - exact_out))} {_more(exact_out - drained)}"
    in_text = f"{hundredths(job, abs(more_in))} {_more(more_in)}"
    text = (
        "The rule takes a litre of product and a litre of water to make two litres. They make a "
        "little less"
    )
    if int(job.exact.passes[0]) > 1 or int(job.exact.status[0]) & Status.ONE_DRAIN_GIVES_PART:
        drain = hundredths(job, job.exact.drain_m3[0, 0])
        text = f"Only {drain} comes out in one drain, which the rule does not know"
    elif int(job.exact.status[0]) & Status.STOCK_RUNS_OUT:
        text = "The rule does not know that a product runs out"
    elif max(abs(more_in), abs(exact_out - drained)) < HUNDREDTH_M3:
        text += ", but here the two agree to the hundredth"
    elif basis != OF_PRODUCT:
        text += (
            f", and these are not per cent of the product, which is not pure glycol. The balance "
            f"counts both: {out_text} is taken out, and {in_text} is poured, than by the rule"
        )
    elif drained == exact_out == 0.0:
        text += f", so {in_text} goes in than by the rule"
    else:
        text += (
            ", and how much less depends on the strength: a mix of the strength wanted shrinks by "
            f"another share than the one inside. So by the balance {out_text} is taken out and "
            f"{in_text} is poured than by the rule"
        )
    yield Line("Why they differ", f"{text}.")


def _more(difference):
    return "more" if difference > 0.0 else "less"


def _meaning_lines(job):
    """Tell what the same percentages give when they mean something else."""
    if not (isinstance(job.found, Strength) and isinstance(job.target, Strength)):
        return
    if job.found.basis != job.target.basis:
        return
    told = job.found.basis
    figures = f"{100 * job.found.share:g} and {100 * job.target.share:g}"
    for basis in (OF_PRODUCT, *(each for each in BASIS_SHORT if each != OF_PRODUCT)):
        label = f"If {figures} mean {BASIS_SHORT[basis]}"
        drained = _litres_for(job, basis)
        text = (
            "no litres: out of reach, or beyond 60 mass % of glycol."
            if drained is None
            else f"{hundredths(job, drained[0])} out, {hundredths(job, drained[1])} in."
        )
        yield Line(label, text + (" This is what was told." if basis == told else ""))


def _litres_for(job, basis):
    """Exact drain and total pour with the told percentages on another basis. [m3]."""
    product = job.before.product
    try:
        found, target = (
            Strength(each.share, basis).frac_mass(product) for each in (job.found, job.target)
        )
    except InputError:
        return None
    if target > FRAC_MASS_SETTLED_MAX:
        return None
    capacity = job.system.worked_m3
    mixture = Mixture(product=product, frac_mass=found)
    row = row_of(mixture, capacity, job.low_m3, job.shelf, job.temp_k)
    plan = plan_row(row, target, (target, target))
    if int(plan.status[0]) & BLOCKED:
        return None
    return plan.drain_m3[0, 0], np.sum(plan.pour_m3[0, :, 0])


def _give_or_take_lines(job):
    if job.blocked or not job.half_width:
        return
    parts = ", ".join(
        f"{100 * part:.2f} from {CAUSE_WORDS[name]}" for name, part in job.causes.items() if part
    )
    yield Line(
        "Give or take",
        f"{100 * job.half_width:.2f} mass % of glycol afterwards, with the printed litres "
        f"({parts}).",
    )
