"""Correct a measured mix: what to take out, what to pour, what to read afterwards."""

import numpy as np

from .. import fluids, units
from ..balance.spread import Hold
from ..errors import BLOCKED, InputError, Reader, Status
from ..instruments import Reading, frac_mass_half_width
from ..mixture import Mixture
from ..system import FILLS
from .inputs import (
    base_of,
    kept,
    read_aim,
    read_found,
    read_low,
    read_on_hand,
    read_shelf,
    read_system,
    read_target,
    read_temp,
    read_unit_system,
    strongest_of,
)
from .mix_correction import MixCorrection
from .mix_plan import (
    DUST,
    aim_row,
    chance_to_hold,
    drains_worth,
    outcome_spread,
    plan_row,
    reach_row,
    row_of,
)

#: Most that a mix may lie on the weak side of the target and be left alone unasked: the accuracy
#: of a good refractometer, source key ``astm-d3321``. [K]
WEAK_SIDE_K = 2 / 1.8

#: Drains that one answer plans; more of them is a flush.
PASSES_MAX = 6


def correct_mix(
    *,
    system,
    found,
    target,
    pour,
    temp="20 °C",
    low="0 L",
    accept=None,
    aim=None,
    on_hand=None,
    drain_temp=None,
    passes=4,
    show_in="metric",
):
    """Bring a measured mix to a target, draining as little as possible.

    Litres are balanced by mass; what is printed has been rounded to a measuring step, and the
    outcome is computed from the rounded figures.

    Parameters
    ----------
    system : CoolingSystem
        A circuit that is not to be corrected by hand is answered without litres.
    found : Reading, Strength, Mixture or text
        What was measured. Text is a freezing point ("-16 °C", taken as read on a refractometer
        made for the glycol that is poured) or a strength ("30 % product"). The old mix is taken
        to carry the additives of the product that is poured; a Mixture names another product.
    target : Strength, text or Quantity
        What is wanted: a freezing point, or a strength that says per cent of what. At most
        60 mass % of glycol.
    pour : sequence of Product
        What there is to pour; of each as much as is needed, unless ``on_hand`` says what is
        left. The strongest goes in first. One glycol only.
    temp : text or Quantity
        Temperature at which litres are measured, on a cold engine; above 0 °C. [K]
    low : text or Quantity
        What is missing below the cold mark. [m3]
    accept : pair of Strength, text or Quantity, optional
        Weakest and strongest mix that is left alone; without it, the target give or take the
        reading's own error, on the weak side at most 2 °F.
    aim : share or text, optional
        Chance that the mix is to hold the target, 0.5 to 0.999: the litres then aim beyond the
        target by what the reading and the capacity may be out. Without it they aim at the target
        itself, and about half of such mixes end a little weaker. [-]
    on_hand : dict of Product to text or Quantity, optional
        What is left of products of which there may not be enough. [m3]
    drain_temp : text or Quantity, optional
        Temperature of what is taken out, where it is not that of the litres poured. [K]
    passes : int
        Most drains that are planned where one brings out too little: 1 to 6.
    show_in : str
        One of `coolcalc.units.SYSTEMS`: "metric", "US", "imperial". Litres are rounded in it.

    Returns
    -------
    MixCorrection
        Also where the target cannot be reached: it then says why, what is within reach, and
        what to do next, and carries no litres.

    Raises
    ------
    InputError
        The field, the value found, the limit and what to do.
    FormError
        If several inputs cannot be used: all of them.

    Examples
    --------
    >>> import coolcalc as cc
    >>> can = cc.Product.generic("ethylene glycol concentrate")
    >>> job = cc.correct_mix(
    ...     system=cc.CoolingSystem(capacity="10 L"), found="30 % product",
    ...     target="50 % product", pour=[can, cc.WATER])
    >>> job.drain.to("L").magnitude
    2.85
    """
    asked = kept(locals())
    pour, accept, on_hand = asked["pour"], asked["accept"], asked["on_hand"]
    reader = Reader()
    # What does not depend on anything else first, so that every slip is told at once.
    system_given = reader(read_system, system)
    shelf = reader(read_shelf, pour)
    temp_k = reader(read_temp, temp)
    drain_k = temp_k if drain_temp is None else reader(read_temp, drain_temp, "drain_temp")
    low_m3 = reader(read_low, low, system_given)
    unit_system = reader(read_unit_system, show_in)
    aim_share = reader(read_aim, aim)
    passes = reader(_passes, passes)
    stock = None if shelf is None else reader(read_on_hand, on_hand, shelf)
    old = None if shelf is None else reader(read_found, found, shelf)
    # Even where the reading is refused, a target can be held against the product's glycol.
    product = base_of(shelf) if old is None else old.mixture.product
    wanted = None
    if product is not None and not product.is_water:
        wanted = reader(read_target, "target", target, product)
    band = None
    if wanted is not None and old is not None:
        band = reader(_band, accept, wanted.frac_mass, old)
    reader.raise_if_any()

    row = row_of(
        old.mixture,
        system_given.worked_m3,
        low_m3,
        shelf,
        temp_k,
        drainable_m3=system_given.drainable_m3,
        on_hand_m3=stock,
        drain_temp_k=drain_k,
    )
    return _answer(
        row,
        old,
        wanted,
        band,
        {
            "asked": asked,
            "system": system_given,
            "shelf": shelf,
            "unit_system": unit_system,
            "aim": aim_share,
            "band_given": accept is not None,
        },
        passes,
    )


def _passes(passes):
    if isinstance(passes, bool) or not isinstance(passes, int) or not 1 <= passes <= PASSES_MAX:
        raise InputError(
            "passes",
            passes,
            f"{passes!r} is not a number of drains from 1 to {PASSES_MAX}; more of them is a "
            "flush: drain, flush and fill.",
        )
    return passes


def _band(accept, target, old):
    if accept is None:
        width = old.mixture.half_width
        weak = frac_mass_half_width(old.mixture.fluid, target, WEAK_SIDE_K)
        if isinstance(old.told, Reading):
            # The reading's error as it is at the target, where the two are compared.
            own = old.told.instrument.own_half_widths(target, old.told, old.mixture.product)
            width = sum(each**2 for each in own) ** 0.5
        return target - min(width, weak), target + width
    try:
        weakest, strongest = accept
    except (TypeError, ValueError):
        raise InputError(
            "accept", accept, "give two: the weakest and the strongest mix that is left alone."
        ) from None
    product = old.mixture.product
    weak = read_target("accept, weakest", weakest, product).frac_mass
    strong = read_target("accept, strongest", strongest, product).frac_mass
    if not weak <= target <= strong:
        raise InputError(
            "accept",
            f"{weakest} to {strongest}",
            f"{weakest} to {strongest} does not hold the target; give the weakest first.",
        )
    return weak, strong


def hold_of(wanted, fluid):
    """Return what counts as holding a target, as `Hold`.

    A target in per cent is held by every mix at least as strong. A freezing point is held up to
    the strength beyond 60 mass % at which it may be lost again, and the band of the curve is the
    give or take of its weak end.
    """
    weakest, strongest, curve = wanted.frac_mass, 1.0, 0.0
    if isinstance(wanted.told, units.Q):
        low, high, _ = fluids.band("freeze_temp_k", fluid, weakest)
        curve = frac_mass_half_width(fluid, weakest, (high - low) / 2)
        beyond = np.linspace(weakest, 1.0, 401)
        warm = fluids.freeze_bound_k(fluid, beyond)[1]
        lost = warm > fluids.freeze_temp_k(fluid, weakest) + DUST
        strongest = float(beyond[np.argmax(lost) - 1]) if np.any(lost) else 1.0
    return Hold(np.array([weakest]), np.array([strongest]), np.array([curve]))


def _answer(row, old, wanted, band, given, passes):
    system, shelf = given["system"], given["shelf"]
    mixture = old.mixture
    # A ready-mixed product a hair weaker than the target never reaches it. Where it lies inside
    # what is near enough, the litres aim at that edge instead, and the answer says so.
    strongest = strongest_of(shelf).frac_mass
    edge_aimed = mixture.frac_mass < band[0] < strongest <= wanted.frac_mass
    target = band[0] if edge_aimed else wanted.frac_mass
    step = units.measuring_step(system.worked_m3, given["unit_system"].volume)
    inputs = old.inputs(system.capacity_error_m3)
    hold = hold_of(wanted, mixture.fluid)
    if given["aim"] is not None and not edge_aimed:
        target = aim_row(row, target, band, inputs, hold, given["aim"], step.m3, passes)
        band = (target, max(band[1], target))
    plan = plan_row(row, target, band, step.m3, passes)
    worth = drains_worth(row, plan)
    cut = worth < int(plan.passes[0])
    if cut:
        passes = worth
        plan = plan_row(row, target, band, step.m3, passes)
    status = Status(int(plan.status[0]))
    if system.fill != FILLS[0]:
        status = (status & ~BLOCKED) | Status.NOT_TO_BE_CORRECTED
    after = chance = reach = None
    if status & BLOCKED:
        reach = Mixture(product=mixture.product, frac_mass=reach_row(row, target))
    else:
        after = outcome_spread(row, plan, inputs)
        chance = float(chance_to_hold(row, plan, inputs, after, hold)[0])
        if given["aim"] is not None and chance < given["aim"]:
            status |= Status.AIM_NOT_REACHED
    return MixCorrection(
        **given,
        found=old.told,
        offset_share=old.offset_share,
        before=mixture,
        target=wanted.told,
        target_frac_mass=wanted.frac_mass,
        aimed_frac_mass=target,
        edge_aimed=edge_aimed,
        row=row,
        band=band,
        step=step,
        plan=plan,
        inputs=inputs,
        most_passes=passes,
        drains_cut=cut,
        status=status,
        outcome=after,
        hold=hold,
        chance_to_hold=chance,
        reach=reach,
    )
