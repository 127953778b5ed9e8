"""Every refusal that coolcalc words, and the sentence and next step of each status.

Nothing below this file in the import order words a sentence: a kernel returns a `Status`,
and the door looks up what to say here.
"""

import copy
import enum
from typing import NamedTuple

#: Letters of a wrong value that a sentence shows.
LONGEST_SHOWN = 60


class CoolcalcError(ValueError):
    """Base class: catch this to catch any refusal by coolcalc."""

    def __reduce__(self):  # pickled, as between processes, by what it holds
        return _remade, (type(self), self.args, self.__dict__)


def _remade(kind, args, held):
    error = kind.__new__(kind)
    error.args = args
    error.__dict__.update(held)
    return error


class InputError(CoolcalcError):
    """What was typed or passed cannot be used.

    Attributes
    ----------
    field : str
        Name of the field or argument, as the user sees it.
    found : str
        The value found, as text.
    what : str
        The sentence after the field's name: value, limit, what to do.
    """

    def __init__(self, field, found, what):
        self.field, self.found, self.what = field, str(found), what
        super().__init__(f"{field}: {what}")

    def under(self, field):
        """Return the same refusal under another field's name."""
        again = copy.copy(self)
        again.field, again.args = field, (f"{field}: {self.what}",)
        return again


class UnclearInputError(InputError):
    """The value has more than one likely meaning, so it is asked about, never assumed.

    Attributes
    ----------
    choices : tuple of str
        Spellings that would be accepted, likeliest first.
    """

    def __init__(self, field, found, what, choices=()):
        self.choices = tuple(choices)
        super().__init__(field, found, what)


class TwoAnswersError(InputError):
    """A reading is that of two mixes, and nothing in it tells which.

    Attributes
    ----------
    answers : tuple of Mixture
        Both, weakest first.
    """

    def __init__(self, field, found, what, answers):
        self.answers = tuple(answers)
        super().__init__(field, found, what)


class FormError(CoolcalcError):
    """Several fields of one form cannot be used; all of them are told at once.

    Attributes
    ----------
    errors : tuple of CoolcalcError
        One for each field, in the order of the form.
    """

    def __init__(self, errors):
        self.errors = tuple(errors)
        super().__init__("\n".join(str(error) for error in self.errors))


class OutOfRangeError(CoolcalcError):
    """A property was asked for outside its source's stated range.

    Attributes
    ----------
    what, value, low, high, unit, source : str, float, float, float, str, str
        Quantity, the value found, the inclusive bounds, their unit, whose bounds they are.
    index : int or None
        Position of the first bad element of an array, counted flat from 0.
    """

    def __init__(self, what, value, low, high, unit, source, index=None, advice=""):
        self.what, self.value, self.low, self.high = what, float(value), float(low), float(high)
        self.unit, self.source, self.index = unit, source, index
        at = "" if index is None else f" (element {index})"
        hint = _likely_slip(self.value, unit) or advice
        super().__init__(
            f"{what}{at} = {value:.6g} {unit} is outside {low:.6g} to {high:.6g} {unit}, "
            f"the range of {source}.{' ' + hint if hint else ''}"
        )


def _likely_slip(value, unit):
    """Return what a value out of range was probably meant as, or "": the usual slips of unit."""
    if unit in ("kg/kg", "m3/m3") and 1.0 < value <= 100.0:
        return f"A share of one is asked for: {value / 100:.4g} for {value:.4g} %."
    if unit == "K" and -60.0 <= value < 150.0:
        return f"Kelvin are asked for: {value + 273.15:.6g} for {value:.4g} °C."
    if unit == "Pa" and 10.0 <= value <= 500.0:
        return f"Pascal, absolute, are asked for: {1000 * value:.6g} for {value:.4g} kPa."
    return ""


class NotSettledError(CoolcalcError):
    """The literature gives bounds here, not a value.

    Attributes
    ----------
    low, high : float
        The bounds. [unit of the property]
    sources : tuple of str
        Keys of the sources that disagree or stop.
    settled : tuple of (float, float)
        The ranges of mass fraction where there is a value. [-]
    """

    def __init__(self, what, low, high, unit, sources, index=None, settled=((0.0, 0.6),)):
        self.low, self.high, self.sources = float(low), float(high), tuple(sources)
        self.index, self.settled = index, tuple(settled)
        at = "" if index is None else f" (element {index})"
        where = " or ".join(f"{100 * start:g} to {100 * end:g}" for start, end in self.settled)
        super().__init__(
            f"{what}{at} is not settled by published work: between {low:.6g} and {high:.6g} {unit} "
            f"({', '.join(self.sources)}). Use the bounds (freeze_bound_k), or ask at "
            f"{where} mass % of glycol."
        )


class NoGlycolSideError(InputError):
    """A freezing point was to be read on a glycol side that the fluid does not have."""

    def __init__(self, field, found, fluid):
        super().__init__(
            field,
            found,
            f"{fluid} has no {found} side: above 60 mass % it stiffens to a glass, and no "
            "published work gives a temperature at which its crystals form. Ask on the water "
            "side, or use the bounds of the freezing point.",
        )


class Reader:
    """Reads inputs one by one, and keeps every refusal, so that all are told at once."""

    def __init__(self):
        self.errors = []

    def __call__(self, read, *args):
        """Return what ``read`` makes of its arguments, or None if it refuses."""
        try:
            return read(*args)
        except FormError as error:
            self.errors.extend(error.errors)
        except CoolcalcError as error:
            self.errors.append(error)
        return None

    def raise_if_any(self):
        """Raise the refusals: one as it is, several as a `FormError`."""
        if self.errors:
            raise self.errors[0] if len(self.errors) == 1 else FormError(self.errors)


class Status(enum.IntFlag):
    """What a kernel found out about a row, as bit flags; 0 is a plain answer."""

    PLAIN = 0
    IN_BAND = 1
    TOO_STRONG = 2
    ONE_DRAIN_GIVES_PART = 4
    PRODUCT_TOO_WEAK = 8
    NO_DILUENT = 16
    START_NOT_SETTLED = 32
    TARGET_NOT_SETTLED = 64
    STOCK_RUNS_OUT = 128
    AIM_NOT_REACHED = 256
    NOT_TO_BE_CORRECTED = 512
    UNUSABLE = 1024
    REFILL_NOT_REACHED = 2048
    REFILL_MAY_MISS = 4096
    FLUSH_NOT_REACHED = 8192


#: A row with any of these carries no litres.
BLOCKED = (
    Status.PRODUCT_TOO_WEAK
    | Status.NO_DILUENT
    | Status.TARGET_NOT_SETTLED
    | Status.NOT_TO_BE_CORRECTED
    | Status.UNUSABLE
    | Status.REFILL_NOT_REACHED
    | Status.FLUSH_NOT_REACHED
)


class Reason(NamedTuple):
    """What a status means to the reader, and what to do next."""

    code: str
    sentence: str
    next_step: str


REASONS = {
    Status.IN_BAND: Reason(
        "in_band",
        "The mix is near enough to the target: nearer than this reading can tell, or inside the "
        "limits given for leaving it alone.",
        "Leave it. Read again at the next service.",
    ),
    Status.TOO_STRONG: Reason(
        "too_strong",
        "The mix is too strong. More concentrate makes it worse: less cooling, a thicker "
        "liquid, and above about 60 mass % of glycol it freezes sooner.",
        "Take mix out and pour water, as listed.",
    ),
    Status.ONE_DRAIN_GIVES_PART: Reason(
        "one_drain_gives_part",
        "What comes out at the drain is not enough to reach the target.",
        "Let out more (lower hose, block plugs, as the maker's handbook says); or drain, flush and "
        "fill; or do what is listed, read again, and correct from the new reading.",
    ),
    Status.PRODUCT_TOO_WEAK: Reason(
        "product_too_weak",
        "Not reachable: nothing stronger than the target is listed to pour, and the mix needs it; "
        "no amount of what is listed gets there.",
        "List a stronger product (concentrate) to pour, or set the target within reach.",
    ),
    Status.NO_DILUENT: Reason(
        "no_diluent",
        "Not reachable: nothing weaker than the target is listed to pour, and the mix needs it.",
        "List water that meets the maker's limits among what can be poured.",
    ),
    Status.REFILL_NOT_REACHED: Reason(
        "refill_not_reached",
        "Not reachable: what is still inside takes up the room that the target needs, and what is "
        "listed to pour does not make up for it.",
        "With the engine off and cold to the hand, pour a stronger product, or let out more of "
        "what is still inside before filling.",
    ),
    Status.REFILL_MAY_MISS: Reason(
        "refill_may_miss",
        "If most of what may still be inside is there, the target is out of reach in this fill.",
        "Fill as listed, read, and correct from the reading.",
    ),
    Status.START_NOT_SETTLED: Reason(
        "start_not_settled",
        "The mix as found is stronger than 60 mass % of glycol. There laboratories disagree on the "
        "freezing point, or more glycol freezes sooner, so only bounds are given for it; the "
        "litres are not affected.",
        "Go by the reading after the correction.",
    ),
    Status.TARGET_NOT_SETTLED: Reason(
        "target_not_settled",
        "The target is stronger than 60 mass % of glycol, where more glycol is no gain in frost "
        "protection that can be counted on.",
        "Set the target at 60 mass % of glycol or weaker.",
    ),
    Status.STOCK_RUNS_OUT: Reason(
        "stock_runs_out",
        "What is left of a product does not reach the target; the litres use up what brings the "
        "mix nearer, and no more.",
        "Fetch more of it, read again, and enter the new reading.",
    ),
    Status.AIM_NOT_REACHED: Reason(
        "aim_not_reached",
        "The chance that was aimed at cannot be reached with these figures.",
        "Measure better what most of the give or take comes from, or read again afterwards and "
        "correct again.",
    ),
    Status.NOT_TO_BE_CORRECTED: Reason(
        "not_to_be_corrected",
        "Such a circuit is not corrected by pouring concentrate or water.",
        "For another strength, with the engine off and cold to the hand: drain it, flush it and "
        "fill it with what its maker specifies, as the handbook says.",
    ),
    Status.UNUSABLE: Reason(
        "unusable",
        "A figure of this row is missing, or cannot be.",
        "Look over reading, capacity, what comes out at the drain, and target.",
    ),
    Status.FLUSH_NOT_REACHED: Reason(
        "flush_not_reached",
        "Not to be begun so: what stays inside after the last drain leaves no last fill that "
        "stands at the target with what is listed.",
        "Leave the drain shut until there is a flush whose last fill is at the target; then begin "
        "with the engine off and cold to the hand.",
    ),
}


def _short(found):
    """Return a value as text, cut off where it is too long to be read in a sentence."""
    text = str(found)
    return text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}…"


class UnknownChoiceError(InputError):
    """A name is not in a closed list.

    Attributes
    ----------
    choices : tuple of str
        What would be accepted.
    """

    def __init__(self, field, found, choices):
        self.choices = tuple(choices)
        listed = ", ".join(f'"{choice}"' for choice in self.choices)
        super().__init__(
            field, found, f'"{_short(found)}" is not one of the choices; use one of {listed}.'
        )


class NotNumericError(InputError):
    """A property was asked for something that is not a number or an array of numbers."""

    def __init__(self, field, found):
        super().__init__(
            field,
            found,
            f"{_short(repr(found))} is not a number or an array of numbers; give plain numbers in "
            "SI units, without text, truth values, masks or units of their own.",
        )


class ShapesError(InputError):
    """Two arrays that a property was asked with do not go together."""

    def __init__(self, field, shape, other, other_shape):
        super().__init__(
            field,
            shape,
            f"its shape {shape} does not go with that of {other}, {other_shape}; give both one "
            "shape, or one of them a single value.",
        )


class ArgumentCountError(InputError):
    """A property was asked with too few or too many arguments."""

    def __init__(self, field, found, wanted):
        super().__init__(
            field,
            found,
            f"it is asked with {' and '.join(wanted)} after the fluid; {found} given.",
        )


#: What a temperature below the range of a mix means.
COLDER_THAN_COVERED = "Colder than its first number, ice or crystals of the glycol form."

#: What to do about a boiling point that is out of range.
HOTTER_THAN_COVERED = "Ask for less glycol or less pressure: hotter than 200 °C is not covered."


def one_of(field, value, choices):
    """Return a value that is one of the choices, or refuse it with the list."""
    try:
        known = value in choices
    except (TypeError, ValueError):  # a list, a dict or an array where a name is asked for
        known = False
    if not known:
        raise UnknownChoiceError(field, value, choices)
    return value
