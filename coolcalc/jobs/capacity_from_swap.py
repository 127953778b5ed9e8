"""How much a system holds, from what a swap does to the reading."""

import math

import numpy as np

from .. import units
from ..balance import capacity as kernel
from ..balance.composition import mix_of_product
from ..errors import InputError, Reader
from ..instruments import Interval, Reading
from ..system import CAPACITY_M3
from .capacity_from_fill import check_capacity
from .capacity_swap_answer import SwapCapacity
from .inputs import kept, read_found, read_pour, read_temp, read_unit_system
from .mix_plan import EQUAL

#: Precisions that can be asked for: half of the span at 95 %, over the capacity. [-]
WANTED = (0.01, 0.5)


def capacity_from_swap(
    *,
    before,
    after,
    swapped,
    pour,
    swapped_error="0 L",
    wanted="10 %",
    about=None,
    drainable=None,
    temp="20 °C",
    show_in="metric",
):
    """Say how much a full system holds, from a swap that moved its reading.

    So much mix was taken out, as much of a product poured in, the engine run until all had gone
    round, and the same instrument read again. It is a poor way to a capacity, but it needs no empty
    system. The span is as skewed as it is: much wider upward.

    Parameters
    ----------
    before, after : Reading, Mixture, Strength or text
        The two readings, with the give or take of each. Two readings of one instrument share its
        offset, and that counts little; readings told as plain per cent share nothing.
    swapped : text or Quantity
        What was taken out, and poured in, up to the cold mark. [m3]
    pour : Product
        What was poured, or `WATER`.
    swapped_error : text or Quantity
        Give or take of those litres at 95 %. [m3]
    wanted : text or share
        Half of the span over the capacity that would do: the answer says which swap gives it.
        1 to 50 %. [-]
    about : text or Quantity, optional
        A capacity to reckon the next swap with, where this one tells none. [m3]
    drainable : text or Quantity, optional
        What comes out at the drain in one go: a swap that takes more is not advised. Without it,
        0.6 of the capacity. [m3]
    temp : text or Quantity
        At which the litres were measured, 0 to 40 °C. [K]
    show_in : str
        One of `coolcalc.units.SYSTEMS`: "metric", "US", "imperial".

    Returns
    -------
    SwapCapacity
        Without a capacity where the readings differ by less than three standard deviations of
        their difference.

    Raises
    ------
    InputError
        The field, the value found, the limit and what to do.
    FormError
        If several inputs cannot be used: all of them.

    Notes
    -----
    By mass: glycol before, less what came out, plus what was poured, is the glycol afterwards.
    The span is that of 4,096 fixed draws of both readings' own errors, their shared offset and the
    litres.

    Examples
    --------
    >>> import coolcalc as cc
    >>> can = cc.Product.generic("ethylene glycol concentrate")
    >>> def read(per_cent):
    ...     return cc.Strength(per_cent / 100, "volume % of product", half_width=0.02)
    >>> job = capacity_from_swap(before=read(35), after=read(41.5), swapped="1 L", pour=can)
    >>> [round(each.m_as("L"), 1) for each in job.interval]
    [7.1, 9.9, 17.2]
    """
    asked = kept(locals())
    reader = Reader()
    product = reader(read_pour, pour)
    first = second = None
    if product is not None:
        first = reader(read_found, before, (product,), "before")
        second = reader(read_found, after, (product,), "after")
    litres = reader(_read_swapped, swapped)
    error = reader(units.read, "swapped_error", swapped_error, "volume")
    precision = reader(_read_wanted, wanted)
    guess = None if about is None else reader(_read_about, about)
    drain_m3 = None if drainable is None else reader(_read_drainable, drainable, litres)
    temp_k = reader(read_temp, temp)
    unit_system = reader(read_unit_system, show_in)
    if litres is not None and error is not None:
        reader(_check_error, litres, error)
    reader.raise_if_any()
    swap = _swap(first, second, product, litres, error, temp_k)
    _check_way(first, second, product)
    change = float(kernel.change_in_sd(swap)[0])
    likeliest = _capacity(swap)
    known = None
    if change >= kernel.LEAST_SD:
        low, high = (float(each[0]) for each in kernel.spread_m3(swap))
        known = Interval(low, likeliest, high)
        check_capacity("swapped", likeliest)
    reckoned = guess if known is None else likeliest
    return SwapCapacity(
        asked=asked,
        found=first.told,
        read_after=second.told,
        before=first.mixture,
        after=second.mixture,
        same_instrument=_same_instrument(first, second),
        product=product,
        swap=swap,
        swapped_m3=litres,
        known=known,
        likeliest_m3=likeliest if math.isfinite(likeliest) else None,
        change_sd=change,
        wanted=precision,
        reckoned_m3=reckoned,
        drainable_m3=drain_m3,
        unit_system=unit_system,
        step=units.measuring_step(reckoned or 10 * litres, unit_system.volume),
    )


def _read_swapped(swapped):
    litres = units.read("swapped", swapped, "volume")
    if litres <= 0.0:
        raise InputError("swapped", swapped, "nothing was swapped, so nothing can be told from it.")
    return litres


def _check_error(litres, error):
    if error >= litres / 2:
        shown = units.show(error, "volume", "L", 2)
        raise InputError(
            "swapped_error",
            shown,
            f"{shown} is half of what was swapped or more; measure it with a can that has marks.",
        )


def _read_drainable(drainable, litres):
    value = units.read("drainable", drainable, "volume")
    if litres is not None and value < litres:
        shown = units.show(value, "volume", "L", 2)
        raise InputError(
            "drainable",
            shown,
            f"{shown} is less than what was taken out "
            f"({units.show(litres, 'volume', 'L', 2)}). Check both.",
        )
    return value


def _read_wanted(wanted):
    return units.read("wanted", wanted, "share", low=WANTED[0], high=WANTED[1])


def _read_about(about):
    return units.read("about", about, "volume", low=CAPACITY_M3[0], high=CAPACITY_M3[1])


def _same_instrument(first, second):
    tools = [each.told.instrument if isinstance(each.told, Reading) else None
             for each in (first, second)]  # fmt: skip
    return tools[0] is not None and tools[0] == tools[1]


def _swap(first, second, product, litres, error, temp_k):
    """Return the `kernel.Swap` of one row."""
    widths = [each.mixture.half_width for each in (first, second)]
    shares = [each.offset_share if _same_instrument(first, second) else 0.0
              for each in (first, second)]  # fmt: skip
    offset = sum(width * share for width, share in zip(widths, shares, strict=True)) / 2
    own = [width * math.sqrt(1.0 - share**2) for width, share in zip(widths, shares, strict=True)]
    row = (first.mixture.frac_mass, second.mixture.frac_mass, offset, *own, litres, error)
    return kernel.Swap(
        mix_of_product(first.mixture.product.si()),
        product.si(first.mixture.fluid),
        *(np.array([each]) for each in row),
        temp_k,
    )


def _capacity(swap):
    return float(
        kernel.capacity_m3(
            swap.mix, swap.product, swap.before, swap.after, swap.swapped_m3, swap.temp_k
        )[0]
    )


def _check_way(first, second, product):
    """Refuse readings that no swap with this product can give."""
    before, after = first.mixture.frac_mass, second.mixture.frac_mass
    if first.mixture.fluid != second.mixture.fluid:
        raise InputError(
            "after",
            second.mixture.fluid,
            f"{second.mixture.fluid} was read afterwards and {first.mixture.fluid} before; read "
            "both as the glycol that is inside.",
        )
    poured = product.frac_mass
    words = [each.mixture.strength() for each in (first, second)]
    if abs(poured - before) < EQUAL:
        raise InputError(
            "pour",
            product.name,
            f"{product.name} is as strong as the mix ({words[0]}): swapping it moves no reading. "
            "Swap in water or concentrate, whichever is further from the mix.",
        )
    # The other way by more than both errors is no chance.
    both = math.hypot(first.mixture.half_width, second.mixture.half_width)
    way = math.copysign(1.0, poured - before)
    if way * (after - before) < -both - EQUAL:
        raise InputError(
            "after",
            str(words[1]),
            f"the reading went from {words[0]} to {words[1]}, away from what was poured "
            f"({product.name}). It has not gone round, another thing was poured, or a reading "
            "slipped: run it with the heater on hot, let it cool, and read again.",
        )
    if way * (poured - after) <= 0.0:
        raise InputError(
            "after",
            str(words[1]),
            f"{words[1]} is as far as {product.name} itself: that would be a system with nothing "
            "else in it. Read a sample that has gone round.",
        )
