"""What is inside now: after what was taken out and what was poured, in that order."""

import numpy as np

from .. import units
from ..balance import ledger
from ..errors import LONGEST_SHOWN, InputError, Reader, Status
from ..fluids import FRAC_MASS_SETTLED_MAX
from ..instruments import Reading
from ..mixture import Mixture
from ..product import WATER, Product
from ..system import FILLS
from .correct_mix import hold_of
from .inputs import (
    kept,
    read_found,
    read_low,
    read_shelf,
    read_system,
    read_target,
    read_temp,
    read_unit_system,
)
from .mix_plan import DUST, chance_to_hold, outcome_spread, row_of, told_plan
from .what_now_answer import WhatNow

#: Further above the mark than this share of the capacity, figures are not to be believed: room
#: for hot coolant is about a tenth; common practice, no source. [-]
OVER_MAX_SHARE = 0.25


def what_now(
    *,
    system,
    found,
    taken_out="0 L",
    poured=None,
    temp="20 °C",
    low="0 L",
    target=None,
    drain_temp=None,
    show_in="metric",
):
    """Tell what is inside after what was taken out and what was poured, in that order.

    For a top-up, a repair, an emergency with plain water: the litres are known, the strength is
    asked for. The litres are taken as they were told, and printed so, and balanced by mass.

    Parameters
    ----------
    system : CoolingSystem
    found : Reading, Strength, Mixture or text
        What was inside before, as for `correct_mix`. Where only water was poured, or nothing, it
        must say which glycol is inside: a reading of an instrument made for it, or a Mixture.
    taken_out : text or Quantity
        What came out first, well mixed; more than 0 where nothing was poured. [m3]
    poured : dict of Product to text or Quantity, optional
        What went in after that, in the order of pouring. One glycol only. [m3]
    temp : text or Quantity
        Temperature at which litres were measured, on a cold engine. [K]
    low : text or Quantity
        What was missing below the cold mark before. [m3]
    target : Strength, text or Quantity, optional
        What the mix should hold; the answer then says how likely it does.
    drain_temp : text or Quantity, optional
        Temperature of what was taken out, where it is not that of the litres poured. [K]
    show_in : str
        One of `coolcalc.units.SYSTEMS`: "metric", "US", "imperial".

    Returns
    -------
    WhatNow

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
    >>> now = what_now(
    ...     system=cc.CoolingSystem(capacity="10 L"), found=can.mix("50 % product"),
    ...     taken_out="2 L", poured={cc.WATER: "1.5 L"})
    >>> round(now.after.strength().share, 2), now.level.to("L").m
    (0.42, 0.5)
    """
    asked = kept(locals())
    poured = asked["poured"]
    reader = Reader()
    system_given = reader(read_system, system)
    pours = reader(_read_poured, poured)
    temp_k = reader(read_temp, temp)
    drain_k = temp_k if drain_temp is None else reader(read_temp, drain_temp, "drain_temp")
    low_m3 = reader(read_low, low, system_given)
    taken_m3 = reader(units.read, "taken_out", taken_out, "volume")
    unit_system = reader(read_unit_system, show_in)
    old = None if pours is None else reader(_read_inside, found, tuple(pours))
    wanted = None
    if target is not None and old is not None:
        wanted = reader(read_target, "target", target, old.mixture.product)
    reader.raise_if_any()

    shelf = tuple(product for product, volume in pours.items() if volume > 0.0)
    row = row_of(
        old.mixture,
        system_given.worked_m3,
        low_m3,
        shelf,
        temp_k,
        drainable_m3=system_given.drainable_m3,
        drain_temp_k=drain_k,
    )
    plan = told_plan(row, taken_m3, [pours[product] for product in shelf])
    _check_litres(row, plan, taken_m3, unit_system)
    inputs = old.inputs(system_given.capacity_error_m3)
    # Where nothing goes in, what is left is as strong as it was, however much it is.
    moving = plan if shelf else told_plan(row, 0.0, [])
    outcome = outcome_spread(row, moving, inputs)
    hold = chance = None
    if wanted is not None:
        hold = hold_of(wanted, old.mixture.fluid)
        chance = float(chance_to_hold(row, moving, inputs, outcome, hold)[0])
    status = Status.PLAIN
    if old.mixture.frac_mass > FRAC_MASS_SETTLED_MAX:
        status |= Status.START_NOT_SETTLED
    if system_given.fill != FILLS[0]:
        status |= Status.NOT_TO_BE_CORRECTED
    return WhatNow(
        asked=asked,
        system=system_given,
        found=old.told,
        offset_share=old.offset_share,
        before=old.mixture,
        shelf=shelf,
        taken_out_m3=taken_m3,
        row=row,
        plan=plan,
        outcome=outcome,
        target=None if wanted is None else wanted.told,
        target_frac_mass=None if wanted is None else wanted.frac_mass,
        hold=hold,
        chance_to_hold=chance,
        status=status,
        unit_system=unit_system,
        step=units.measuring_step(system_given.worked_m3, unit_system.volume),
    )


def _read_poured(poured):
    """Return what was poured, in order: a dict of product to volume. [m3]."""
    if not poured:
        return {}
    if not hasattr(poured, "items"):
        raise InputError(
            "poured",
            poured,
            "give what was poured by product, in the order of pouring, e.g. {can: '2 L'}; leave it "
            "out where nothing was.",
        )
    glycols = {p.fluid for p in poured if isinstance(p, Product) and not p.is_water}
    if len(glycols) > 1:
        both = " and ".join(sorted(glycols))
        raise InputError(
            "poured",
            both,
            f"{both} were both poured. No instrument can read a mixture of glycols, and nothing "
            "here tells where it freezes: drain, flush and fill with one.",
        )
    try:
        read_shelf(tuple(poured))
    except InputError as error:
        raise error.under("poured") from None
    return {
        product: units.read(f"poured, {product.name}", volume, "volume")
        for product, volume in poured.items()
    }


def _read_inside(found, poured):
    if any(not product.is_water for product in poured):
        return read_found(found, poured)
    told = isinstance(found, Mixture) or (
        isinstance(found, Reading) and (found.inside or found.line)
    )
    if not told and not poured:
        give = "give a reading of an instrument made for it, or product.mix('50 % product')."
        if found is None:
            raise InputError("found", "", f"nothing was entered; which glycol is inside? {give}")
        raise InputError(
            "found",
            found,
            f"{str(found)[:LONGEST_SHOWN]} does not say which glycol is inside, and nothing was "
            f"poured that would tell; {give}",
        )
    return read_found(found, (WATER,))


def _check_litres(row, plan, taken_m3, unit_system):
    """Refuse litres that cannot have been taken out of, or poured into, this system."""

    def shown(volume_m3):
        return units.show(float(volume_m3), "volume", unit_system.volume, 2)

    held = float(ledger.volume_m3(row.inside, row.drain_temp_k)[0])
    poured = float(np.sum(plan.pour_m3))
    if taken_m3 <= 0.0 and poured <= 0.0:
        raise InputError(
            "taken_out",
            shown(0.0),
            f"{shown(0.0)} was taken out, and nothing was poured: what is inside is as it was "
            "found. Enter what was taken out or poured.",
        )
    if taken_m3 > held * (1.0 + DUST):
        raise InputError(
            "taken_out",
            shown(taken_m3),
            f"{shown(taken_m3)} is more than was inside ({shown(held)}: the capacity less what was "
            "missing). Check all three; if that much came out, the capacity is larger.",
        )
    if poured <= 0.0 and taken_m3 > held * (1.0 - DUST):
        raise InputError(
            "taken_out",
            shown(taken_m3),
            f"{shown(taken_m3)} is all that was inside, and nothing was poured: nothing is left to "
            "tell the strength of. Enter what was poured.",
        )
    over = float(ledger.volume_m3(plan.after, row.temp_k)[0]) - row.capacity_m3
    if over > OVER_MAX_SHARE * row.capacity_m3:
        raise InputError(
            "poured",
            shown(poured),
            f"{shown(poured)} would stand {shown(over)} above the mark, more than a quarter of the "
            f"capacity ({shown(row.capacity_m3)}). Check the capacity, what was missing, and what "
            "came out before; what ran over was not poured in.",
        )
