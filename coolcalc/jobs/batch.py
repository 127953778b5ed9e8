"""A batch: a bucket, drum or tank mixed to a strength, with or without a remnant inside."""

from .. import units
from ..balance import ladder
from ..errors import BLOCKED, REASONS, InputError, Reader, Status, one_of
from ..mixture import Mixture
from ..system import CAPACITY_M3
from ..units import Q
from .batch_answer import Batch
from .batch_plan import batch_row, mass_step_of, mass_steps, planned, whole_m3
from .inputs import (
    WORK_TEMP_K,
    Found,
    base_of,
    kept,
    read_found,
    read_shelf,
    read_target,
    read_temp,
    read_unit_system,
)
from .mix_plan import DUST, outcome_spread, reach_row


def batch(
    *,
    volume,
    target,
    pour,
    inside=None,
    inside_volume="0 L",
    container=None,
    temp="20 °C",
    weigh=False,
    show_in="metric",
):
    """Mix a batch outside: what to take out of a remnant, and what to pour or weigh in.

    Litres are balanced by mass; what is printed has been rounded to a measuring step, never above
    the volume wanted and never weaker than the target, and the outcome is computed from the
    rounded figures.

    Parameters
    ----------
    volume : text or Quantity
        Wanted in all, 0.2 L to 10,000 L. [m3]
    target : Strength, text or Quantity
        As for `correct_mix`.
    pour : sequence of Product
        What there is to pour. One glycol only.
    inside : Reading, Strength, Mixture or text, optional
        What is in the container already; told as ``found`` of `correct_mix`.
    inside_volume : text or Quantity
        How much of it; 0 where the container is empty. [m3]
    container : text or Quantity, optional
        What the container holds: the batch must fit into it. [m3]
    temp : text or Quantity
        Temperature of the liquids, 0 to 40 °C. [K]
    weigh : bool
        Whether the steps give masses; they are then what is rounded.
    show_in : str
        One of `coolcalc.units.SYSTEMS`: "metric", "US", "imperial".

    Returns
    -------
    Batch
        Also where the target cannot be reached: it then says why and what is within reach, and
        carries no litres.

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
    >>> drum = batch(volume="20 L", target="50 % product", pour=[can, cc.WATER])
    >>> drum.pour[can].to("L").m, drum.pour[cc.WATER].to("L").m
    (10.2, 10.0)
    """
    asked = kept(locals())
    pour = asked["pour"]
    reader = Reader()
    shelf = reader(read_shelf, pour)
    temp_k = reader(_read_temp, temp)
    holds_m3 = None if container is None else reader(units.read, "container", container, "volume")
    volume_m3 = reader(_read_volume, volume, holds_m3)
    remnant_m3 = reader(_read_remnant, inside, inside_volume, holds_m3)
    unit_system = reader(read_unit_system, show_in)
    by_mass = reader(one_of, "weigh", weigh, (True, False))
    old = None
    if shelf is not None and inside is not None:
        old = reader(read_found, inside, shelf, "inside")
    elif shelf is not None:
        old = reader(_nothing_inside, shelf)
    wanted = None
    if old is not None:
        wanted = reader(read_target, "target", target, old.mixture.product)
    reader.raise_if_any()

    row = batch_row(old.mixture, volume_m3, remnant_m3, shelf, temp_k)
    full = Mixture(product=old.mixture.product, frac_mass=wanted.frac_mass)
    mass_step = mass_step_of(volume_m3 * full.density(Q(temp_k, "kelvin")).m, unit_system.mass)
    step = units.measuring_step(volume_m3, unit_system.volume)
    steps = (
        mass_steps(row, mass_step.kg) if by_mass else ladder.Steps(step.m3, (step.m3,) * len(shelf))
    )
    mixed = planned(row, wanted.frac_mass, steps)
    status = Status(int(mixed.plan.status[0]))
    outcome = reach = whole = None
    if status & BLOCKED:
        _refuse_too_much_inside(remnant_m3, volume_m3, status, unit_system)
        reach = Mixture(product=full.product, frac_mass=reach_row(row, wanted.frac_mass))
    else:
        outcome = outcome_spread(mixed.row, mixed.plan, old.inputs(0.0))
    comes_out = mixed.emptied or mixed.spare_m3 > 0.0 or mixed.plan.drain_m3[0, 0] > 0.0
    if remnant_m3 and (status & BLOCKED or comes_out):
        most_m3 = CAPACITY_M3[1] if holds_m3 is None else min(holds_m3, CAPACITY_M3[1])
        whole = whole_m3(row, wanted.frac_mass, step.m3, most_m3)
    return Batch(
        asked=asked,
        volume_m3=volume_m3,
        container_m3=holds_m3,
        remnant=row.inside,
        remnant_m3=remnant_m3,
        found=old.told,
        offset_share=old.offset_share,
        before=old.mixture,
        target=wanted.told,
        target_frac_mass=wanted.frac_mass,
        shelf=shelf,
        row=mixed.row,
        plan=mixed.plan,
        exact=planned(mixed.row, wanted.frac_mass, ladder.Steps(0.0, (0.0,) * len(shelf))).plan,
        spare_m3=mixed.spare_m3,
        emptied=mixed.emptied,
        status=status,
        outcome=outcome,
        reach=reach,
        whole_m3=whole,
        by_mass=bool(by_mass),
        mass_step=mass_step,
        unit_system=unit_system,
        step=step,
    )


# --- reading --------------------------------------------------------------------------------------


def _shown(volume_m3):
    return units.show(float(volume_m3), "volume", "L", 2)


def _read_temp(temp):
    temp_k = units.read("temp", temp, "temperature")
    if temp_k > WORK_TEMP_K[1]:
        shown, most = (
            units.show(each, "temperature", "°C", 0) for each in (temp_k, WORK_TEMP_K[1])
        )
        raise InputError(
            "temp",
            shown,
            f"{shown} is above {most}, up to which liquids are measured out here. Let them cool in "
            "the shade, and enter their temperature then.",
        )
    return read_temp(temp)


def _read_volume(volume, container_m3):
    low, high = CAPACITY_M3
    read = units.read("volume", volume, "volume", low=low, high=high)
    if container_m3 is not None and read > container_m3 * (1.0 + DUST):
        raise InputError(
            "volume",
            _shown(read),
            f"{_shown(read)} does not fit into the container ({_shown(container_m3)}). Ask for "
            "what fits, or take a larger container.",
        )
    return read


def _read_remnant(inside, inside_volume, container_m3):
    read = units.read("inside_volume", inside_volume, "volume")
    if inside is None and read > 0.0:
        raise InputError(
            "inside",
            "",
            f"nothing was entered, and {_shown(read)} is inside. Read it and enter what was read; "
            "or empty the container, and set inside_volume to 0 L.",
        )
    if inside is not None and read <= 0.0:
        raise InputError(
            "inside_volume",
            _shown(read),
            f"{_shown(read)} of what was told to be inside. Enter how much of it there is, or "
            "leave inside out where the container is empty.",
        )
    if container_m3 is not None and read > container_m3 * (1.0 + DUST):
        raise InputError(
            "inside_volume",
            _shown(read),
            f"{_shown(read)} is more than the container holds ({_shown(container_m3)}). Check "
            "both.",
        )
    return read


def _nothing_inside(shelf):
    base = base_of(shelf)
    if base.is_water:
        raise InputError(
            "pour",
            base.name,
            "only water is listed, and nothing is inside that it could thin. List the product "
            "that is mixed with it.",
        )
    return Found(Mixture(product=base, frac_mass=0.0), None)


def _refuse_too_much_inside(remnant_m3, volume_m3, status, unit_system):
    if remnant_m3 <= volume_m3:
        return
    held, wanted = (
        units.show(each, "volume", unit_system.volume, 2) for each in (remnant_m3, volume_m3)
    )
    nexts = " ".join(
        reason.next_step for flag, reason in REASONS.items() if flag & status & BLOCKED
    )
    raise InputError(
        "inside_volume",
        held,
        f"{held} is inside, more than the {wanted} wanted, and taking some out does not bring it "
        f"to the target with what is listed. {nexts}",
    )
