"""The only reader of what people type, the one unit registry, and the display of values.

Text never reaches pint's own parser: that one takes ``12,5 L`` as 125 L, ``-34 F`` as farad,
and evaluates sums. Here a number has one pattern and a unit one closed list of spellings.
"""

import functools
import math
import numbers
import re
from collections.abc import Callable
from decimal import ROUND_CEILING, ROUND_FLOOR
from typing import NamedTuple

import pint

from ._unit_display import (
    LONGEST,
    MINUS,
    SYSTEMS,
    UnitSystem,
    finite,
    from_si,
    kind_of,
    label_of,
    measuring_step,
    plain,
    quoted,
    show,
    to_display,
    to_si,
    with_label,
    write,
)
from ._unit_tables import KINDS, STRENGTH_BASES, fold
from .errors import InputError, UnclearInputError

__all__ = [
    "KINDS",
    "STRENGTH_BASES",
    "SYSTEMS",
    "Q",
    "StrengthValue",
    "UnitSystem",
    "measuring_step",
    "read",
    "read_header",
    "show",
    "to_display",
    "ureg",
    "write",
]

ureg = pint.get_application_registry()
Q = ureg.Quantity

_US_MEASURE = re.compile(r"\bUS (?=(?:gallon|quart|pint|fluid_ounce)s?\b)")


def _without_us(text):
    """Let Quantities be asked for in "US quart": pint's own quart is the US one."""
    return _US_MEASURE.sub("", text)


# The registry is shared with the user's other packages: this only adds a spelling that was an
# error before, and changes no unit.
ureg.preprocessors.append(_without_us)

_DASHES = "\u2010\u2011\u2012\u2013\u2014\u2015\ufe58\ufe63\uff0d"
_NUMBER = re.compile(rf"([+\-{MINUS}]?) ?([0-9]+(?:[.,][0-9]+)?|\.[0-9]+) ?(.*)", re.DOTALL)
_MORE_DIGITS = re.compile(r"[.,'’_` ]?[0-9]|[.,]")
_SUM = re.compile(rf"[*/^+\-{MINUS}{_DASHES}×÷]|[eE][+\-{MINUS}]?[0-9]")
_HEADER = re.compile(r"([^\[\]]*)(?:\[([^\[\]]*)\])?")
# Units with a zero of their own: a Quantity in one of them is no difference.
_OFFSET_UNITS = {"degree_Celsius", "degree_Fahrenheit", "degree_Reaumur"}


class StrengthValue(NamedTuple):
    """A strength as read: share from 0 to 1 [-], and one of `STRENGTH_BASES`."""

    share: float
    basis: str


class _Found(NamedTuple):
    """A number with its unit: ``text`` as the user would write the number."""

    number: float
    text: str
    label: str
    si: float
    in_unit: Callable[[float], float]  # from SI

    def __str__(self):
        return with_label(self.text, self.label)


def read(field, value, kind, *, unit=None, low=None, high=None):
    """Read one value; the only way in for what people type or pass.

    Parameters
    ----------
    field : str
        Named in refusals.
    value : text, Quantity or number
        Text is one plain number and a unit; a number alone only where ``unit`` is given or the
        kind has none. A dot is decimal; a comma is decimal unless exactly three digits follow.
    kind : str
        One of `KINDS`.
    unit : str, optional
        The unit that the page or column shows; a bare number takes it.
    low, high : float, optional
        Inclusive limits. [SI unit of the kind]

    Returns
    -------
    float or StrengthValue
        In the SI unit of the kind, gauge pressure above the outside air [Pa]; hours [h],
        concentrations [mg/L] and °Brix as they are; shares from 0 to 1. A StrengthValue for
        kind "strength".

    Raises
    ------
    InputError
        Names the field, the value found, the limit and what to do.
    UnclearInputError
        Where more than one meaning is likely; carries the choices.
    UnknownChoiceError
        For an unknown kind.

    Examples
    --------
    >>> read("capacity", "12,5 L", "volume")
    0.0125
    >>> read("outside", "-40", "temperature", unit="°F")
    233.15
    >>> read("found", "50 % product", "strength")
    StrengthValue(share=0.5, basis='volume % of product')
    """
    spec = kind_of(kind)
    shown = None if unit is None else label_of(field, spec, kind, unit, unit)
    if isinstance(value, str):
        found = _from_text(field, value, spec, kind, shown)
    elif isinstance(value, pint.Quantity):
        found = _from_quantity(field, value, spec, kind, shown)
    else:
        found = _from_number(field, value, spec, kind, shown)
    if kind == "freezing point":
        _ask_for_minus(field, found, spec, low)
    si = _within(field, found, spec, low, high)
    return StrengthValue(si, found.label) if kind == "strength" else si


def read_header(text):
    """Split a column header ``name [unit]``.

    Parameters
    ----------
    text : str
        For example "capacity [L]", "strength [vol% product]", "cap [kPa gauge]".

    Returns
    -------
    tuple of (str, str or None)
        Name, and the unit as written (`read` takes it as ``unit``); None without brackets.

    Examples
    --------
    >>> read_header("cap [kPa gauge]")
    ('cap', 'kPa gauge')
    """
    collapsed = " ".join(text.split()) if isinstance(text, str) else ""
    match = _HEADER.fullmatch(collapsed)
    name, unit = (match[1].strip(), match[2]) if match else ("", None)
    if not name or (unit is not None and not unit.strip()):
        raise InputError(
            "header",
            quoted(text),
            f'"{quoted(text)}" is not a name, or a name with one unit in square brackets at the '
            'end; write e.g. "capacity [L]".',
        )
    return name, None if unit is None else unit.strip()


# --- from text, Quantity or number ----------------------------------------------------------------


def _from_text(field, text, spec, kind, shown):
    if len(text) > LONGEST:
        raise InputError(
            field,
            quoted(text),
            f'"{quoted(text)}" has {len(text)} characters; at most {LONGEST} are read. '
            f"Write e.g. {spec.example}.",
        )
    typed = " ".join(text.split())
    if not typed:
        raise _nothing(field, spec)
    match = _NUMBER.fullmatch(typed)
    if match is None:
        raise _no_number(field, typed, spec)
    sign, digits, rest = match.groups()
    if _MORE_DIGITS.match(rest):
        raise InputError(
            field,
            quoted(typed),
            f'"{quoted(typed)}" groups its digits or has more than one number; write one number '
            "without spaces or marks between thousands, e.g. 1234.5.",
        )
    if _SUM.match(rest):
        raise InputError(
            field,
            quoted(typed),
            f'"{quoted(typed)}" is a sum, a range or a power; work it out and write one plain '
            f"number, e.g. {spec.example}.",
        )
    sign = MINUS if sign in ("-", MINUS) else ""
    whole, comma, decimals = digits.partition(",")
    if comma and len(decimals) == 3:
        choices = [
            with_label(f"{sign}{number}", rest)
            for number in (f"{whole}.{decimals}", (whole + decimals).lstrip("0") or "0")
        ]
        raise UnclearInputError(
            field,
            quoted(typed),
            f'"{quoted(typed)}" has a comma before exactly three digits; write '
            f"{choices[0]} for a decimal or {choices[1]} for thousands.",
            choices,
        )
    number = float(digits.replace(",", "."))
    number = -number if sign and number else number
    shown_text = f"{sign}{digits}" if number else "0"
    if not rest or fold(rest) in spec.unit_less:
        label = _bare(field, with_label(shown_text, rest), shown_text, spec, kind, shown)
    else:
        label = label_of(field, spec, kind, rest, typed, shown_text)
    return _found(spec, number, shown_text, label)


def _from_number(field, value, spec, kind, shown):
    if value is None:
        raise _nothing(field, spec)
    if isinstance(value, bool) or not isinstance(value, numbers.Real):
        what = "a yes or no" if isinstance(value, bool) else f"of type {type(value).__name__}"
        raise InputError(
            field,
            type(value).__name__,
            f"what was given is {what}; give one value as text or quantity, e.g. {spec.example}.",
        )
    number = finite(field, value) + 0.0
    text = plain(number)
    return _found(spec, number, text, _bare(field, text, text, spec, kind, shown))


def _from_quantity(field, value, spec, kind, shown):
    if not isinstance(value.magnitude, numbers.Real) or isinstance(value.magnitude, bool):
        raise InputError(
            field,
            type(value.magnitude).__name__,
            f"a quantity of type {type(value.magnitude).__name__} is not one single number; "
            "give one value at a time.",
        )
    number = finite(field, value.magnitude) + 0.0
    name = f"{value.units:D}"
    label = _labels(kind).get(name, name)
    text = plain(number)
    found = with_label(text, label)
    try:
        si = float(value.m_as(spec.si))
    except pint.errors.PintError:
        what = f"is not a {kind}; give it in a unit such as {', '.join(spec.offer)}."
        if spec.offer == ("",):
            what = f"is not a plain number; {kind} takes one without a unit, e.g. {spec.example}."
        raise InputError(field, found, f"{found} {what}") from None
    if kind in ("temperature", "freezing point") and name.startswith("delta_"):
        raise InputError(
            field, found, f"{found} is a difference of temperatures; give e.g. {spec.example}."
        )
    if kind == "temperature difference" and name in _OFFSET_UNITS:
        raise InputError(
            field,
            found,
            f"{found} is a temperature, not a difference; give the difference in kelvin, "
            "delta_degC or delta_degF.",
        )
    if kind == "strength":
        percent = 100 * si
        text = plain(percent)
        return _found(spec, percent, text, _bare(field, f"{text} %", text, spec, kind, shown))

    def in_unit(limit_si):
        return float(type(value)(limit_si, spec.si).m_as(value.units))

    return _Found(number, text, label, finite(field, si), in_unit)


def _found(spec, number, text, label):
    unit = spec.units[label]
    return _Found(number, text, label, to_si(unit, number), functools.partial(from_si, unit))


# --- units ----------------------------------------------------------------------------------------


def _bare(field, found, number, spec, kind, shown):
    """Return the label that a number without a unit takes."""
    label = spec.bare if shown is None else shown
    if label is not None:
        return label
    if kind == "strength":
        raise UnclearInputError(
            field,
            found,
            f"{found}: per cent of what? Write '{number} % product' (of concentrate, as on the "
            f"can), '{number} % vol glycol' or '{number} % mass glycol'.",
            [f"{number} % product", f"{number} % vol glycol", f"{number} % mass glycol"],
        )
    choices = " or ".join(f"'{with_label(number, label)}'" for label in spec.offer)
    raise InputError(field, found, f"{found} has no unit; write e.g. {choices}.")


@functools.cache
def _labels(kind):
    """Label of each unit of a kind by pint's long name."""
    named = ((label, unit.pint) for label, unit in KINDS[kind].units.items() if unit.pint)
    return {f"{ureg.Unit(pint_name):D}": label for label, pint_name in named}


# --- limits ---------------------------------------------------------------------------------------


def _within(field, found, spec, low, high):
    """Return the SI value if it lies within the limits, both inclusive."""
    value = found.si + 0.0
    for own, asked, side in ((spec.low, low, -1), (spec.high, high, 1)):
        natural = asked is None or side * own <= side * asked
        limit = own if natural else asked
        if side * value > side * limit:
            # Float dust of a conversion must not refuse the limit itself.
            dust = 1e-12 if found.in_unit(0.0) else 0.0
            if math.isclose(value, limit, rel_tol=1e-14, abs_tol=dust):
                return limit
            word, rounding = ("below", ROUND_CEILING) if side < 0 else ("above", ROUND_FLOOR)
            shown = with_label(plain(found.in_unit(limit), rounding), found.label)
            rule = spec.low_rule if side < 0 else spec.high_rule
            advice = rule if natural and rule else "Check the number and its unit."
            raise InputError(
                field, str(found), f"{found} is {word} {shown}, the limit here. {advice}"
            )
    return value


def _ask_for_minus(field, found, spec, low):
    """Ask about a freezing point above that of water, where a minus would make sense of it."""
    if found.si <= spec.high or math.isclose(found.si, spec.high, rel_tol=1e-12):
        return
    unit = spec.units.get(found.label)
    floor = spec.low if low is None else max(spec.low, low)
    if unit is not None and unit.base and to_si(unit, -found.number) >= floor:
        meant = f"{MINUS}{found}"
        raise UnclearInputError(
            field,
            str(found),
            f"{found}: coolant freezes below zero; did you mean {meant}?",
            [meant],
        )


# --- words ----------------------------------------------------------------------------------------


def _nothing(field, spec):
    return InputError(field, "", f"nothing was entered; write e.g. {spec.example}.")


def _no_number(field, typed, spec):
    found = quoted(typed)
    if any(letter.isdecimal() and not letter.isascii() for letter in typed):
        return InputError(
            field, found, f'"{found}" has other digits than 0 to 9; write e.g. {spec.example}.'
        )
    bare = typed[1:].lstrip()
    if typed[0] in _DASHES and _NUMBER.fullmatch(bare):
        choices = [f"{MINUS}{bare}", bare]
        return UnclearInputError(
            field,
            found,
            f'"{found}" begins with a dash that is not a minus sign; write {choices[0]} or '
            f"{choices[1]}.",
            choices,
        )
    return InputError(
        field, found, f'"{found}" does not begin with a plain number; write e.g. {spec.example}.'
    )
