"""What comes out of a system when a part of it is opened: a help where nothing was caught."""

from .. import units
from ..errors import InputError

#: Share of the capacity that comes out for each part that is opened, from least to most, of a
#: system that was full; they add. Common practice, no source: radiator alone 40 to 60 %, with the
#: block plugs about 80 % (so those add 25 to 35 %); the rest by judgement. [m3/m3]
OPENED_SHARES = {
    "radiator": (0.40, 0.60),
    "lower hose": (0.02, 0.08),
    "heater": (0.04, 0.10),
    "block plugs": (0.25, 0.35),
    "head": (0.10, 0.20),
}


def read_opened(opened, shares):
    """Return the parts that were opened, and the least and most share that came out. [m3/m3].

    Parameters
    ----------
    opened : sequence of str
        Keys of the table.
    shares : dict of str to pair, or None
        The table, or the part of it that is to be another one.

    Returns
    -------
    tuple of str, float, float
        The shares add, up to all of the capacity. The head drains no more of what the plugs drain.

    Raises
    ------
    InputError
        For a part that is not in the table, or a share that is none.
    """
    table = dict(OPENED_SHARES)
    for part, pair in _items(shares):
        if not isinstance(part, str):
            raise InputError("shares", part, f"{part!r} is no name of a part; write it as text.")
        table[part] = _read_pair(part, pair)
    parts = (opened,) if isinstance(opened, str) else opened or ()
    if not isinstance(parts, (tuple, list, set, frozenset)):
        raise InputError("opened", opened, f"{opened!r} is no list of parts, e.g. ('radiator',).")
    parts = tuple(parts)
    for part in parts:
        if not isinstance(part, str) or part not in table:
            known = ", ".join(table)
            raise InputError(
                "opened",
                part,
                f"{part!r} is not in the table of parts: {known}. Give its share in shares, "
                "e.g. {'" + str(part) + "': ('5 %', '10 %')}.",
            )
    twice = sorted({part for part in parts if parts.count(part) > 1})
    if twice:
        raise InputError("opened", twice[0], f"{twice[0]} is listed twice; list each part once.")
    # The plugs let out the block; an open head lets out the top of the same block.
    counted = [part for part in parts if not (part == "head" and "block plugs" in parts)]
    low, high = (min(sum(table[part][end] for part in counted), 1.0) for end in (0, 1))
    return parts, low, high


def _items(shares):
    if shares is None:
        return ()
    if not hasattr(shares, "items"):
        raise InputError(
            "shares", shares, "give least and most by part, e.g. {'heater': ('4 %', '10 %')}."
        )
    return shares.items()


def _read_pair(part, pair):
    if isinstance(pair, str) or not hasattr(pair, "__len__") or len(pair) != 2:
        raise InputError(
            f"shares, {part}", pair, f"{pair!r} is no pair; give least and most, ('4 %', '10 %')."
        )
    low, high = (units.read(f"shares, {part}", each, "share", low=0.0, high=1.0) for each in pair)
    if low > high:
        shown = " to ".join(units.show(each, "share", "%", 0) for each in (low, high))
        raise InputError(
            f"shares, {part}", shown, f"{shown}: the least is more than the most; swap them."
        )
    return low, high
