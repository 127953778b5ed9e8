"""How much a system holds, by measuring what goes into it."""

from .. import units
from ..errors import InputError, Reader
from ..system import CAPACITY_M3
from .capacity_answer import FilledCapacity
from .inputs import kept, read_unit_system

#: A can that is further out measures nothing. [-]
JUG_ERROR_MAX = 0.2

#: Most measures that one fill is told as. [count]
MEASURES_MAX = 200


def capacity_from_fill(
    *,
    poured,
    topped_up="0 L",
    still_inside="0 L",
    still_inside_error="0 L",
    jug_error="2 %",
    each_error="0 L",
    show_in="metric",
):
    """Say how much a system holds, from what was measured into it: the way to be preferred.

    Parameters
    ----------
    poured : text, Quantity or sequence of them
        What went in up to the cold mark, one volume for each time the can was filled. [m3]
    topped_up : text or Quantity
        What was made up to the mark, cold, after it had run and air had come out. [m3]
    still_inside, still_inside_error : text or Quantity
        What was inside before, and its give or take at 95 %: 0 in a dry system. [m3]
    jug_error : text or share
        How far the can may be out, at 95 %: the same way for every measure. [-]
    each_error : text or Quantity
        Give or take of reading one measure, at 95 %. [m3]
    show_in : str
        One of `coolcalc.units.SYSTEMS`: "metric", "US", "imperial".

    Returns
    -------
    FilledCapacity

    Raises
    ------
    InputError
        The field, the value found, the limit and what to do.
    FormError
        If several inputs cannot be used: all of them.

    Notes
    -----
    The can's 2 % is by judgement, no source: use what stands on it.

    Examples
    --------
    >>> job = capacity_from_fill(poured=["5 L", "3.8 L"], topped_up="0.4 L", still_inside="0.8 L",
    ...                          still_inside_error="0.3 L")
    >>> job.capacity.m_as("L"), round(job.capacity_error.m_as("L"), 2)
    (10.0, 0.36)
    """
    asked = kept(locals())
    reader = Reader()
    volumes = reader(_read_poured, asked["poured"])
    topped = reader(units.read, "topped_up", topped_up, "volume")
    inside = reader(units.read, "still_inside", still_inside, "volume")
    inside_error = reader(units.read, "still_inside_error", still_inside_error, "volume")
    jug = reader(_read_jug, jug_error)
    each = reader(units.read, "each_error", each_error, "volume")
    unit_system = reader(read_unit_system, show_in)
    reader.raise_if_any()
    _check_inside(inside, inside_error)
    if not sum(volumes):
        raise InputError("poured", poured, "nothing was poured in, so nothing was measured.")
    _check_each(each, volumes)
    value = sum(volumes) + topped + inside
    check_capacity("poured", value)
    return FilledCapacity(
        asked=asked,
        poured_m3=volumes,
        topped_up_m3=topped,
        still_inside_m3=inside,
        still_inside_error_m3=inside_error,
        jug_error=jug,
        each_error_m3=each,
        unit_system=unit_system,
        step=units.measuring_step(value, unit_system.volume),
    )


def _read_poured(poured):
    """Return each measure. [m3]."""
    one = isinstance(poured, (str, units.Q))
    try:
        listed = (poured,) if one else tuple(poured)
    except TypeError:
        listed = ()
    if not listed:
        raise InputError(
            "poured",
            poured,
            "nothing is listed; give what went in, one volume for each measure, such as "
            "['5 L', '3.8 L'].",
        )
    if len(listed) > MEASURES_MAX:
        raise InputError(
            "poured",
            len(listed),
            f"{len(listed)} measures are more than {MEASURES_MAX}; use a larger can, or add some "
            "up.",
        )
    if len(listed) == 1:
        return (units.read("poured", listed[0], "volume"),)
    return tuple(units.read(f"poured, {at}", each, "volume") for at, each in enumerate(listed, 1))


def _read_jug(jug_error):
    return units.read("jug_error", jug_error, "share", high=JUG_ERROR_MAX)


def _check_inside(inside, inside_error):
    if inside_error > inside:
        shown = units.show(inside_error, "volume", "L", 2)
        raise InputError(
            "still_inside_error",
            shown,
            f"{shown} is more than what was still inside "
            f"({units.show(inside, 'volume', 'L', 2)}). Give what may be inside as its middle, and "
            "half of its span.",
        )


def _check_each(each, volumes):
    least = min(volumes)
    if each > least / 2:
        shown = units.show(each, "volume", "L", 2)
        raise InputError(
            "each_error",
            shown,
            f"{shown} is more than half of the smallest measure "
            f"({units.show(least, 'volume', 'L', 2)}). Use a can with marks.",
        )


def check_capacity(field, value):
    """Refuse a capacity that no cooling system has. [m3]."""
    low, high = CAPACITY_M3
    if not low <= value <= high:
        shown, least, most = (units.show(each, "volume", "L", 1) for each in (value, low, high))
        raise InputError(
            field,
            shown,
            f"in all {shown}, which is not between {least} and {most}: no cooling system holds "
            "that. Check the figures and their units.",
        )
