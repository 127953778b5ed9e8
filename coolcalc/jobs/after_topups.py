"""What repeated topping up with plain water leaves of a mix."""

from .. import units
from ..balance import dilution
from ..errors import InputError, Reader, Status, one_of
from ..fluids import FRAC_MASS_SETTLED_MAX
from ..product import WATER
from ..system import FILLS
from .after_topups_answer import LOST, MIX, STEAM, AfterTopups
from .correct_mix import hold_of
from .inputs import (
    kept,
    read_found,
    read_system,
    read_target,
    read_temp,
    read_unit_system,
)
from .mix_plan import row_of
from .topup_plan import count_until_lost, topup_chance, topup_spread

#: Most top-ups of one question. [count]
TOPUPS_MAX = 500

#: A single top-up of more than this share of what is inside is a fill; as for a low level. [-]
ONE_TOPUP_MAX = 0.9

#: Fewer engine hours tell no rate of loss; common practice, no source. [h]
LEAST_HOURS = 1.0


def after_topups(
    *,
    system,
    found,
    topups,
    standard=None,
    hours=None,
    temp="20 °C",
    lost=MIX,
    additive=None,
    show_in="metric",
):
    """Tell what is left of a mix that was topped up with plain water, again and again.

    Before each top-up as much was lost as was poured. The strength is balanced by mass; the
    textbook rule for volumes that add stands in the working.

    Parameters
    ----------
    system : CoolingSystem
        Full to the cold mark when ``found`` was read.
    found : Reading or Mixture
        What was inside before the first loss. It must say which glycol is inside: a reading of
        an instrument made for it, or ``product.mix("50 % product")``.
    topups : sequence of text or Quantity
        Volume of plain water of each top-up, in their order: ``6 * ["0.5 L"]``. [m3]
    standard : Strength, text or Quantity, optional
        What the mix should hold, as ``target`` of `what_now`.
    hours : text or number, optional
        Engine hours over which these top-ups were poured; gives the volume in 1,000 h. [h]
    temp : text or Quantity
        Temperature at which volumes were measured, on a cold engine. [K]
    lost : str
        "mix" (it leaked, or was pushed out) or "steam" (only water boiled off).
    additive : dict of str to text, optional
        What was tested before, such as ``{"nitrite": "1200 mg/L"}``: carried by dilution alone.
        [mg/L]
    show_in : str
        One of `coolcalc.units.SYSTEMS`: "metric", "US", "imperial".

    Returns
    -------
    AfterTopups

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
    >>> job = after_topups(
    ...     system=cc.CoolingSystem(capacity="10 L"), found=can.mix("50 % product"),
    ...     topups=6 * ["0.5 L"], standard="45 % product")
    >>> round(job.after.strength().share, 2), job.lost_after
    (0.37, 3)
    """
    asked = kept(locals())
    reader = Reader()
    system_given = reader(read_system, system)
    old = reader(_read_inside, found)
    lost = reader(one_of, "lost", lost, LOST)
    volumes = reader(_read_topups, asked["topups"], system_given)
    temp_k = reader(read_temp, temp)
    run_hours = None if hours is None else reader(_read_hours, hours)
    contents = reader(_read_additive, asked["additive"])
    unit_system = reader(read_unit_system, show_in)
    wanted = None
    if standard is not None and old is not None:
        wanted = reader(read_target, "standard", standard, old.mixture.product)
    reader.raise_if_any()

    steam = lost == STEAM
    row = row_of(old.mixture, system_given.worked_m3, 0.0, (), temp_k)
    if steam:
        _check_steam(row, volumes, unit_system)
    inputs = old.inputs(system_given.capacity_error_m3)
    outcome = topup_spread(row, volumes, steam, inputs)
    hold = chance = lost_after = None
    if wanted is not None:
        hold = hold_of(wanted, old.mixture.fluid)
        chance = topup_chance(row, volumes, steam, inputs, outcome, hold)
        if not steam:
            weakest = float(hold.weakest[0])
            lost_after = count_until_lost(row, sum(volumes) / len(volumes), weakest)
    status = Status.PLAIN
    if old.mixture.frac_mass > FRAC_MASS_SETTLED_MAX:
        status |= Status.START_NOT_SETTLED
    if system_given.fill != FILLS[0]:
        status |= Status.NOT_TO_BE_CORRECTED
    return AfterTopups(
        asked=asked,
        system=system_given,
        found=old.told,
        offset_share=old.offset_share,
        before=old.mixture,
        lost=lost,
        topups_m3=volumes,
        row=row,
        states=dilution.top_up(row.inside, volumes, temp_k, steam=steam),
        outcome=outcome,
        target=None if wanted is None else wanted.told,
        target_frac_mass=None if wanted is None else wanted.frac_mass,
        hold=hold,
        chance_to_hold=chance,
        lost_after=lost_after,
        hours=run_hours,
        additive=contents,
        status=status,
        unit_system=unit_system,
        step=units.measuring_step(system_given.worked_m3, unit_system.volume),
    )


def _read_inside(found):
    if found is None:
        raise InputError(
            "found",
            "",
            "nothing was entered; give a reading of an instrument made for the glycol inside, or "
            "product.mix('50 % product').",
        )
    old = read_found(found, (WATER,))
    if old.mixture.frac_mass <= 0.0:
        raise InputError(
            "found",
            found,
            "that is plain water, which water does not make weaker. If it should hold coolant, "
            "enter it in a correction of the mix.",
        )
    return old


def _read_topups(topups, system):
    """Return the volume of each top-up. [m3]."""
    try:
        listed = () if isinstance(topups, (str, dict)) else tuple(topups)
    except TypeError:
        listed = ()
    if not listed:
        nothing = topups is None or isinstance(topups, (tuple, list))
        found = "nothing was entered" if nothing else f"{str(topups)!r} is no list of top-ups"
        raise InputError(
            "topups",
            topups,
            f"{found}; give the volume of each, in their order, "
            "such as ['0.5 L', '0.4 L'] or 6 * ['0.5 L'].",
        )
    if len(listed) > TOPUPS_MAX:
        raise InputError(
            "topups",
            len(listed),
            f"{len(listed)} top-ups are more than {TOPUPS_MAX}; read the mix, and enter those "
            "since.",
        )
    return tuple(_read_topup(f"topups, {at}", each, system) for at, each in enumerate(listed, 1))


def _read_topup(field, value, system):
    volume = units.read(field, value, "volume")
    if volume <= 0.0:
        raise InputError(field, value, "0 L is no top-up; leave it out.")
    if system is not None:
        most = ONE_TOPUP_MAX * (system.worked_m3 - system.capacity_error_m3)
        if volume > most:
            shown = units.show(volume, "volume", "L", 2)
            raise InputError(
                field,
                shown,
                f"{shown} is more than nine tenths of what the system holds "
                f"({units.show(most, 'volume', 'L', 2)}): that is a fill, not a top-up. Enter it "
                "as what was taken out and poured in what is inside now.",
            )
    return volume


def _read_hours(hours):
    value = units.read("hours", hours, "hours")
    if value < LEAST_HOURS:
        shown = units.write(value, "hours", "h")
        raise InputError(
            "hours",
            hours,
            f"{shown} h give no rate; enter the hours over which it was topped up, at least "
            f"{LEAST_HOURS:g}.",
        )
    return value


def _read_additive(additive):
    """Return contents by name. [mg/L]."""
    if additive is None:
        return {}
    if not hasattr(additive, "items"):
        raise InputError(
            "additive",
            additive,
            f"{additive!r} names nothing; give what was tested by name, such as "
            "{'nitrite': '1200 mg/L'}.",
        )
    for name in additive:
        if not isinstance(name, str) or not name.strip():
            raise InputError("additive", name, f"{name!r} is no name; write what was tested.")
    return {
        name: units.read(f"additive, {name}", value, "concentration in water")
        for name, value in additive.items()
    }


def _check_steam(row, volumes, unit_system):
    """Refuse more steam before one top-up than there is water inside."""
    inside = float(row.inside.water_kg[0])
    for at, volume in enumerate(volumes, 1):
        if float(dilution.water_kg(row.mix.fluid, volume, row.temp_k)) >= inside:
            shown = units.show(volume, "volume", unit_system.volume, 2)
            raise InputError(
                f"topups, {at}",
                shown,
                f"{shown} is as much water as is in the mix, or more: that cannot have boiled "
                f"off. Enter lost={MIX!r}, or check the volume.",
            )
