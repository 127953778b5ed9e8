"""Values as screens and answers show them: labels, rounding, unit systems, measuring steps."""

import math
from decimal import ROUND_HALF_EVEN, Decimal
from typing import NamedTuple

from ._unit_tables import KINDS, fold
from .errors import InputError, UnclearInputError, one_of

MINUS = "\N{MINUS SIGN}"
#: Longest text that is read, or quoted whole. [characters]
LONGEST = 60


def to_display(value_si, kind, unit):
    """Return a value in a unit of its kind, not rounded.

    Parameters
    ----------
    value_si : float
        In the unit that `read` gives.
    kind : str
        One of `KINDS`.
    unit : str
        Any spelling that the kind takes; "" for a plain number.
    """
    spec = kind_of(kind)
    return from_si(spec.units[label_of("unit", spec, kind, unit, unit)], float(value_si))


def show(value_si, kind, unit, digits, rounding=ROUND_HALF_EVEN):
    """Return display text, such as "−36.9 °C"; it can be read back.

    Parameters
    ----------
    value_si : float
        Finite, in the unit that `read` gives.
    kind, unit : str
        As for `to_display`.
    digits : int
        Decimals.
    rounding : str
        One of `decimal`: the end of a span is rounded outward.

    Examples
    --------
    >>> show(236.25, "temperature", "°C", 1)
    '−36.9 °C'
    """
    spec = kind_of(kind)
    label = label_of("unit", spec, kind, unit, unit)
    number = finite(kind, from_si(spec.units[label], float(value_si)))
    if rounding != ROUND_HALF_EVEN:
        # Less than a millionth of the last digit is the dust of a conversion.
        exact = Decimal(f"{number:.{digits + 6}f}")
        number = exact.quantize(Decimal(1).scaleb(-digits), rounding)
    return with_label(_signed(f"{number:.{digits}f}"), label)


def write(value_si, kind, unit):
    """Return the bare number that a field shows after a unit switch: five significant digits.

    Parameters
    ----------
    value_si, kind, unit
        As for `show`.

    Examples
    --------
    >>> write(0.010, "volume", "US qt")
    '10.567'
    """
    number = finite(kind, to_display(value_si, kind, unit))
    decimals = 0 if number == 0 else max(0, 4 - math.floor(math.log10(abs(number))))
    return _signed(_trimmed(f"{number:.{decimals}f}"))


class UnitSystem(NamedTuple):
    """The units that a page or print shows together."""

    name: str
    volume: str
    temperature: str
    temperature_difference: str
    mass: str
    length: str
    bore: str
    altitude: str
    gauge_pressure: str
    density: str

    def by_kind(self):
        """Return the unit of each kind that depends on the system, as a form takes it."""
        units = {name.replace("_", " "): unit for name, unit in self._asdict().items()}
        del units["name"]
        return units | {"freezing point": self.temperature}


#: Unit systems by name.
SYSTEMS = {
    system.name: system
    for system in (
        UnitSystem("metric", "L", "°C", "K", "kg", "m", "mm", "m", "kPa gauge", "kg/L"),
        UnitSystem("US", "US qt", "°F", "°F", "lb", "ft", "in", "ft", "psi gauge", "lb/US gal"),
        UnitSystem("imperial", "imp pt", "°C", "K", "kg", "m", "mm", "m", "psi gauge", "kg/L"),
    )
}


class MeasuringStep(NamedTuple):
    """A step in its unit and in m³, and the decimals that show it."""

    in_unit: float
    m3: float
    decimals: int


def measuring_step(capacity_m3, unit):
    """Return the step in which a volume can be measured out for a system of this capacity.

    The member of the series 1, 2, 5 nearest in ratio to half a per cent of the capacity, at
    least 0.01 of the unit. Common practice, no source.

    Parameters
    ----------
    capacity_m3 : float
        Above 0. [m3]
    unit : str
        A unit of volume.

    Returns
    -------
    MeasuringStep

    Examples
    --------
    >>> measuring_step(0.010, "L")
    MeasuringStep(in_unit=0.05, m3=5e-05, decimals=2)
    """
    wanted = 0.005 * finite("capacity", to_display(capacity_m3, "volume", unit))
    if wanted <= 0:
        raise InputError("capacity", f"{capacity_m3:g} m³", "must be above 0 to measure it out.")
    power = math.floor(math.log10(wanted))
    series = [(lead, power + up) for up in (0, 1) for lead in (1, 2, 5)]
    lead, power = min(series, key=lambda step: abs(math.log(step[0] * 10.0 ** step[1] / wanted)))
    if power < -2:
        lead, power = 1, -2
    step = float(f"{lead}e{power}")
    spec = KINDS["volume"]
    step_m3 = to_si(spec.units[label_of("unit", spec, "volume", unit, unit)], step)
    return MeasuringStep(step, step_m3, max(0, -power))


# --- units and number text, shared with the reader -----------------------------------------------


def kind_of(kind):
    """Return what a kind takes."""
    return KINDS[one_of("kind", kind, KINDS)]


def label_of(field, spec, kind, spelling, typed, number=""):
    """Return the label of a spelling, or say why it is not one of this kind."""
    folded = fold(spelling)
    if folded in spec.spellings:
        return spec.spellings[folded]
    typed, spelling = quoted(typed), quoted(spelling)
    if folded in spec.unclear:
        choices = [with_label(number, label) for label in spec.unclear[folded]]
        meanings = " or ".join(choices)
        raise UnclearInputError(
            field, typed, f'"{typed}" could mean {meanings}; write which.', choices
        )
    if folded in spec.wrong:
        raise InputError(
            field, typed, f'"{typed}" {spec.wrong[folded]}. Write e.g. {spec.example}.'
        )
    known = ", ".join(label for label in spec.units if label) or "none: a plain number"
    raise InputError(
        field,
        typed,
        f'"{spelling}" is not a unit of {kind} known here; write e.g. {spec.example} '
        f"(units: {known}).",
    )


def to_si(unit, number):
    """Return a number of a unit in SI."""
    return (number - unit.zero) * unit.factor + unit.base


def from_si(unit, value):
    """Return an SI value in a unit."""
    return (value - unit.base) / unit.factor + unit.zero


def finite(field, value):
    """Return the value as a float, or refuse what is not a finite number."""
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise InputError(field, "no number", "the value is not a finite number; give a number.")
    return number


def quoted(text):
    """Return text as a message can quote it: short and printable."""
    text = str(text)
    short = text if len(text) <= LONGEST else f"{text[:20]}…"
    return short if short.isprintable() else ascii(short)[1:-1]


def with_label(number, label):
    """Join number text and unit label, either of which may be empty."""
    return f"{number} {label}" if number and label else number or label


def plain(number, rounding=None):
    """Return a number as a message prints it: a limit rounded to the side that is accepted."""
    text = f"{number:.10g}"
    if rounding is not None and number:
        exact = Decimal(text)
        text = str(exact.quantize(Decimal(1).scaleb(exact.adjusted() - 5), rounding))
    text = f"{Decimal(text):f}" if abs(number) < 1e12 else f"{number:.3g}"
    return _signed(_trimmed(text))


def _trimmed(text):
    return text.rstrip("0").rstrip(".") if "." in text else text


def _signed(text):
    """Return number text with a minus sign for its hyphen, and no minus before zero."""
    return text.replace("-", MINUS if text.strip("-0.") else "", 1) if text[0] == "-" else text
