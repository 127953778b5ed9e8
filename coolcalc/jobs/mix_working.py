"""The working of `correct_mix`: the balance, the textbook rule beside it, the other meanings."""

import numpy as np

from .. import units
from ..answers import Line
from ..balance import exchange, ledger
from ..balance.composition import (
    product_density_kg_m3,
    product_share_from_frac_mass,
)
from ..errors import BLOCKED, CoolcalcError, Status
from ..fluids import FRAC_MASS_SETTLED_MAX
from ..mixture import Mixture
from ..strength import BASIS_SHORT, OF_PRODUCT, Strength
from .mix_odds import CAUSE_WORDS
from .mix_plan import plan_row, row_of

#: What two volumes must differ by to be told apart in the working. [m3]
HUNDREDTH_M3 = 5e-6

#: Less than this is the dust of a sum, not a volume. [m3]
NOTHING_M3 = 1e-9


def working_lines(job):
    """Return the lines of the working of a `MixCorrection`, volumes with hundredths."""
    return (
        *_strength_lines(job),
        *_balance_lines(job),
        *_textbook_lines(job),
        *_meaning_lines(job),
        *_give_or_take_lines(job),
    )


def _volume(job, volume_m3):
    return units.show(float(volume_m3), "volume", job.unit_system.volume, 2)


def _litres(volume_m3):
    """Give the litres that the kilograms beside them follow from, to a tenth of a millilitre."""
    return units.show(float(volume_m3), "volume", "L", 4)


def _share(frac_mass):
    return f"{100 * frac_mass:.2f} mass %"


def _strength_lines(job):
    of_product = 100 * job.before.strength().share
    wanted = _of_product(job, job.target_frac_mass)
    yield Line(
        "Found",
        f"{_share(job.before.frac_mass)} of glycol in glycol + water, which is "
        f"{of_product:.1f} % of {job.product_word}.",
    )
    yield Line(
        "Target",
        f"{_share(job.target_frac_mass)}, which is {100 * wanted:.1f} % of {job.product_word}.",
    )


def _of_product(job, frac_mass):
    return float(product_share_from_frac_mass(job.before.product.si(), frac_mass))


def _balance_lines(job):
    inside = job.inside
    total = sum(float(amount[0]) for amount in inside[:3])
    held = float(ledger.volume_m3(inside, job.temp_k)[0])
    yield Line(
        "Inside before",
        f"{_volume(job, held)} of {total / held / 1000:.4f} kg/L = {total:.3f} kg: glycol "
        f"{inside.glycol_kg[0]:.3f}, water {inside.water_kg[0]:.3f}, additives "
        f"{inside.additive_kg[0]:.3f} kg.",
    )
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
    poured = 0.0
    for at in range(count):
        yield from _pass_lines(job, at, count)
        poured += float(job.exact.pour_m3[at, :, 0].sum())
    after = job.exact.after
    yield Line(
        "Check",
        f"glycol {after.glycol_kg[0]:.3f} / (glycol + water "
        f"{after.glycol_kg[0] + after.water_kg[0]:.3f} kg) = "
        f"{_share(ledger.frac_mass(after)[0])}; volume "
        f"{_volume(job, ledger.volume_m3(after, job.temp_k)[0])}.",
    )
    room = job.low_m3 + _cold(job, job.exact.drain_m3[:, 0].sum())
    if poured > NOTHING_M3:
        yield Line(
            "Shrinking",
            f"The room is {_volume(job, room)} and {_volume(job, poured)} goes in: glycol and "
            f"water take up {_volume(job, poured - room)} less together than apart.",
        )
    part = job.status & (Status.ONE_DRAIN_GIVES_PART | Status.IN_BAND | Status.STOCK_RUNS_OUT)
    yield Line(
        "Rounded",
        f"to {job.step.in_unit:g} {job.unit_system.volume}, never above the mark"
        + ("" if part or job.edge_aimed else ", never weaker than the target")
        + f"; this gives {_share(job.after.frac_mass)}.",
    )


def _cold(job, drained):
    """Return the volume that what was taken out has at the temperature of the pours. [m3]."""
    if job.row.drain_temp_k == job.temp_k:
        return drained
    held, warm = (
        ledger.volume_m3(job.inside, each)[0] for each in (job.temp_k, job.row.drain_temp_k)
    )
    return drained * held / warm


def _pass_lines(job, at, count):
    """Return the lines of one drain and fill of the unrounded plan."""
    before = job.inside
    for earlier in range(at):
        before = _carried_out(job, before, earlier)
    of = f" {at + 1} of {count}" if count > 1 else ""
    drained = job.exact.drain_m3[at, 0]
    if drained > NOTHING_M3:
        out_k = job.row.drain_temp_k
        left = ledger.drain(before, drained, out_k)
        share = 100 * (1 - drained / ledger.volume_m3(before, out_k)[0])
        yield Line(
            f"Mass balance{of}: take out",
            f"{_volume(job, drained)} ({_litres(drained)}), which leaves "
            f"{share:.2f} % of everything: glycol {left.glycol_kg[0]:.3f} and "
            f"water {left.water_kg[0]:.3f} kg.",
        )
    for product, volume in zip(job.shelf, job.exact.pour_m3[at, :, 0], strict=True):
        if volume > NOTHING_M3:
            mass = volume * product_density_kg_m3(product.si(job.before.fluid), job.temp_k)
            yield Line(
                f"Mass balance{of}: pour",
                f"{_volume(job, volume)} ({_litres(volume)}) of {product.name} = {mass:.3f} kg.",
            )


def _carried_out(job, state, at):
    part = job.exact._replace(
        drain_m3=job.exact.drain_m3[at : at + 1], pour_m3=job.exact.pour_m3[at : at + 1]
    )
    return exchange.outcome(state, part, job.row.products, job.temp_k, job.row.drain_temp_k)


def _textbook(job, found, target):
    """Drain, and pours by product, by the rule that volumes add and the product is 100 %. [m3].

    Returns None where the rule has no answer.
    """
    strong = max(job.shelf, key=lambda product: product.frac_mass)
    weak = min(job.shelf, key=lambda product: product.frac_mass)
    capacity, low = job.system.worked_m3, job.low_m3
    held = capacity - low
    strong_share, weak_share = (_of_product(job, each.frac_mass) for each in (strong, weak))
    if low and strong_share > weak_share:
        first = (capacity * target - held * found - low * weak_share) / (strong_share - weak_share)
        if 0.0 <= first <= low:
            return 0.0, ((strong, first), (weak, low - first))
    product, share = (strong, strong_share) if target > found else (weak, weak_share)
    if share == found:
        return None
    drained = (capacity * target - held * found - low * share) / (share - found)
    return (drained, ((product, drained + low),)) if 0.0 <= drained <= held else None


def _told_to_rule(job):
    """Found and target as the rule is given them: as told where both say per cent of one thing."""
    told = (job.found, job.target)
    if all(isinstance(each, Strength) for each in told) and job.found.basis == job.target.basis:
        return *(each.share for each in told), job.found.basis
    shares = (_of_product(job, each) for each in (job.before.frac_mass, job.target_frac_mass))
    return *shares, OF_PRODUCT


def _textbook_lines(job):
    if job.blocked or not np.any(job.exact.pour_m3[:, :, 0] > 0.0):
        return
    found, target, basis = _told_to_rule(job)
    rule = _textbook(job, found, target)
    if rule is None:
        return
    drained, pours = rule
    poured = " and ".join(f"{_volume(job, volume)} of {product.name}" for product, volume in pours)
    yield Line(
        "Textbook rule",
        f"With volumes that add and the product as 100 %, {100 * found:.1f} to "
        f"{100 * target:.1f} {BASIS_SHORT[basis]}: take out {_volume(job, drained)}, pour "
        f"{poured}.",
    )
    exact_out = job.exact.drain_m3[:, 0].sum()
    more_in = np.sum(job.exact.pour_m3[:, :, 0]) - sum(volume for _, volume in pours)
    out_text = f"{_volume(job, abs(drained - exact_out))} {_more(exact_out - drained)}"
    in_text = f"{_volume(job, abs(more_in))} {_more(more_in)}"
    text = (
        "The rule takes a litre of product and a litre of water to make two litres. They make a "
        "little less"
    )
    if int(job.exact.passes[0]) > 1 or int(job.exact.status[0]) & Status.ONE_DRAIN_GIVES_PART:
        text = (
            f"Only {_volume(job, job.exact.drain_m3[0, 0])} comes out in one drain, which the rule "
            "does not know"
        )
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
            else f"{_volume(job, drained[0])} out, {_volume(job, drained[1])} in."
        )
        yield Line(label, text + (" This is what was told." if basis == told else ""))


def _litres_for(job, basis):
    """Exact drain and total pour with the told percentages on another basis. [m3]."""
    product = job.before.product
    try:
        found, target = (
            Strength(each.share, basis).frac_mass(product) for each in (job.found, job.target)
        )
    except CoolcalcError:
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
