"""The working of `correct_mix`: the balance, the textbook rule beside it, the other meanings."""

import numpy as np

from .. import units
from ..answers import Line
from ..balance import exchange, ledger
from ..balance.composition import (
    product_density_kg_m3,
    product_share_from_frac_mass,
)
from ..errors import BLOCKED, CoolcalcError
from ..fluids import FRAC_MASS_SETTLED_MAX
from ..product import BASIS_SHORT, OF_PRODUCT, Strength


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


def _share(frac_mass):
    return f"{100 * frac_mass:.2f} mass %"


def _strength_lines(job):
    of_product = 100 * job.before.strength().share
    wanted = _of_product(job, job.target_frac_mass)
    yield Line(
        "Found",
        f"{_share(job.before.frac_mass)} of glycol in glycol + water, which is "
        f"{of_product:.1f} % of product.",
    )
    yield Line(
        "Target", f"{_share(job.target_frac_mass)}, which is {100 * wanted:.1f} % of product."
    )


def _of_product(job, frac_mass):
    return float(product_share_from_frac_mass(job.before.product.si(), frac_mass))


def _balance_lines(job):
    inside = job.inside
    total = sum(float(amount[0]) for amount in inside[:3])
    yield Line(
        "Inside before",
        f"{_volume(job, ledger.volume_m3(inside, job.temp_k)[0])} = {total:.3f} kg: glycol "
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
    drained = job.exact.drain_m3[0, 0]
    left = ledger.drain(inside, drained, job.temp_k)
    if drained > 0.0:
        yield Line(
            "Mass balance: take out",
            f"{_volume(job, drained)}, so that glycol {left.glycol_kg[0]:.3f} and water "
            f"{left.water_kg[0]:.3f} kg stay.",
        )
    poured = 0.0
    for product, volume in zip(job.shelf, job.exact.pour_m3[0, :, 0], strict=True):
        if volume > 0.0:
            mass = volume * product_density_kg_m3(product.si(job.before.fluid), job.temp_k)
            yield Line(
                "Mass balance: pour",
                f"{_volume(job, volume)} of {product.name} = {mass:.3f} kg.",
            )
            poured += volume
    after = job.exact.after
    yield Line(
        "Check",
        f"glycol {after.glycol_kg[0]:.3f} / (glycol + water "
        f"{after.glycol_kg[0] + after.water_kg[0]:.3f} kg) = "
        f"{_share(ledger.frac_mass(after)[0])}; volume "
        f"{_volume(job, ledger.volume_m3(after, job.temp_k)[0])}.",
    )
    room = job.low_m3 + drained
    if poured > 0.0:
        yield Line(
            "Shrinking",
            f"The room is {_volume(job, room)} and {_volume(job, poured)} goes in: glycol and "
            f"water take up {_volume(job, poured - room)} less together than apart.",
        )
    yield Line(
        "Rounded",
        f"to {job.step.in_unit:g} {job.unit_system.volume}: never above the mark, never weaker "
        f"than the target; this gives {_share(job.after.frac_mass)}.",
    )


def _textbook(job, found, target):
    """Drain and pours by the rule that volumes add and the product counts as 100 %. [m3].

    Returns None where the rule has no answer.
    """
    strong = max(job.shelf, key=lambda product: product.frac_mass)
    weak = min(job.shelf, key=lambda product: product.frac_mass)
    capacity, low = job.system.capacity_m3, job.low_m3
    weak_share = 0.0 if strong.is_water else _share_in(strong, weak.frac_mass)
    held = capacity - low
    strong_volume = (
        low
        and strong.frac_mass > weak.frac_mass
        and ((capacity * target - held * found - low * weak_share) / (1.0 - weak_share))
    )
    if low and 0.0 <= strong_volume <= low:
        return 0.0, strong_volume, low - strong_volume
    share = 1.0 if target > found else weak_share
    if strong.is_water:
        share = 0.0
    if share == found:
        return None
    drained = (capacity * target - held * found - low * share) / (share - found)
    if not 0.0 <= drained <= held:
        return None
    return drained, *((drained + low, 0.0) if target > found else (0.0, drained + low))


def _share_in(strong, frac_mass):
    return float(product_share_from_frac_mass(strong.si(), frac_mass))


def _textbook_lines(job):
    if job.blocked or not np.any(job.exact.pour_m3[:, :, 0] > 0.0):
        return
    strong = max(job.shelf, key=lambda product: product.frac_mass)
    if strong.is_water:
        strong = job.before.product
    found, target = (_share_in(strong, w) for w in (job.before.frac_mass, job.target_frac_mass))
    rule = _textbook(job, found, target)
    if rule is None:
        return
    drained, first, second = rule
    yield Line(
        "Textbook rule",
        f"With volumes that add, {100 * found:.1f} % to {100 * target:.1f} % of product: take out "
        f"{_volume(job, drained)}, pour {_volume(job, first + second)}.",
    )
    exact_out = job.exact.drain_m3[0, 0]
    exact_in = np.sum(job.exact.pour_m3[0, :, 0])
    yield Line(
        "Why they differ",
        "The rule takes a litre of product and a litre of water to make two litres. They make a "
        f"little less, so the mix inside holds a little more product than it says, and "
        f"{_volume(job, abs(drained - exact_out))} {'less' if exact_out < drained else 'more'} is "
        f"taken out by the balance; and the room left by the shrinking asks for "
        f"{_volume(job, abs(exact_in - first - second))} "
        f"{'more' if exact_in > first + second else 'less'} to be poured than by the rule.",
    )


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
    si = product.si()
    capacity = np.array([job.system.capacity_m3])
    inside = ledger.contents(
        job.before.fluid,
        capacity - job.low_m3,
        np.array([found]),
        si.share.additive / si.share.glycol,
        si.additive_volume_m3_kg,
        job.temp_k,
    )
    wanted = np.array([target])
    plan = exchange.plan_exchange(
        inside,
        capacity,
        capacity,
        wanted,
        tuple(each.si(job.before.fluid) for each in job.shelf),
        exchange.Limits(wanted, wanted),
        job.temp_k,
    )
    if int(plan.status[0]) & BLOCKED:
        return None
    return plan.drain_m3[0, 0], np.sum(plan.pour_m3[0, :, 0])


def _give_or_take_lines(job):
    if job.blocked or not job.half_width:
        return
    words = {"frac_mass": "the reading", "capacity_m3": "the capacity"}
    parts = ", ".join(
        f"{100 * part:.2f} from {words[name]}" for name, part in job.causes.items() if part
    )
    yield Line(
        "Give or take",
        f"{100 * job.half_width:.2f} mass % afterwards, with the printed litres ({parts}).",
    )
