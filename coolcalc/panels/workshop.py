"""The workshop's page: a measured mix in, what to take out and pour out."""

from coolcalc import charts, units
from coolcalc.errors import CoolcalcError, FormError, InputError
from coolcalc.instruments import Refractometer

ERROR_MAX_K = 10.0
from coolcalc.jobs import correct_mix
from coolcalc.panels.form import UNITS, Field, Form, Group
from coolcalc.panels.view import Panel
from coolcalc.product import GENERIC
from coolcalc.strength import (
    ERROR_MAX_SHARE,
    GLYCOL_BY_MASS,
    GLYCOL_BY_VOLUME,
    OF_PRODUCT,
    Strength,
)
from coolcalc.system import CAPACITY_M3, CoolingSystem

READ, TYPED = "freezing point", "strength"
BASES = (
    (OF_PRODUCT, "% of concentrate, as on the can"),
    (GLYCOL_BY_VOLUME, "% of pure glycol by volume"),
    (GLYCOL_BY_MASS, "% of pure glycol by mass"),
)
GLYCOLS = ("ethylene glycol", "propylene glycol")

#: What there can be to pour, by what a page calls it; names of `coolcalc.product.GENERIC`.
SHELVES = {
    "concentrate and water": ("{} concentrate", "water"),
    "concentrate only": ("{} concentrate",),
    "ready-mixed 50 % and water": ("{} ready-mixed 50 %", "water"),
    "ready-mixed 50 % only": ("{} ready-mixed 50 %",),
    "water only": ("water",),
}


def _same(*names):
    return tuple((name, name) for name in names)


FORM = Form(
    groups=(
        Group(
            "The system",
            (
                Field("glycol", "Glycol inside", "choice", GLYCOLS[0], choices=_same(*GLYCOLS)),
                Field(
                    "capacity",
                    "Capacity",
                    "volume",
                    "10",
                    low=CAPACITY_M3[0],
                    high=CAPACITY_M3[1],
                    help="Full to the cold mark, with heater and hoses.",
                ),
                Field(
                    "capacity_error",
                    "Capacity, give or take",
                    "volume",
                    "0.5",
                    help="0 if it was measured by filling.",
                ),
                Field(
                    "drainable",
                    "Comes out at the drain",
                    "volume",
                    "6.5",
                    help="Leave empty if not known. The rest stays in block and heater.",
                    optional=True,
                ),
                Field("low", "Missing below the cold mark", "volume", "0"),
            ),
        ),
        Group(
            "The reading",
            (
                Field(
                    "found_as",
                    "Read as",
                    "choice",
                    READ,
                    choices=(
                        (READ, "freezing point on a refractometer"),
                        (TYPED, "per cent"),
                    ),
                ),
                Field(
                    "reading",
                    "Reading",
                    "freezing point",
                    "−16",
                    help="On the scale for the glycol inside, with its minus.",
                    only_if=("found_as", (READ,)),
                ),
                Field(
                    "error",
                    "Reading, give or take",
                    "temperature difference",
                    "1",
                    low=0.0,
                    high=ERROR_MAX_K,
                    only_if=("found_as", (READ,)),
                ),
                Field(
                    "found",
                    "Found",
                    "strength",
                    "30",
                    unit_choices=BASES,
                    only_if=("found_as", (TYPED,)),
                ),
                Field(
                    "found_error",
                    "Found, give or take",
                    "share",
                    "2 %",
                    high=ERROR_MAX_SHARE,
                    only_if=("found_as", (TYPED,)),
                ),
            ),
        ),
        Group(
            "What is wanted",
            (
                Field(
                    "target_as",
                    "Target as",
                    "choice",
                    READ,
                    choices=((READ, "freezing point"), (TYPED, "per cent")),
                ),
                Field(
                    "target_freezing",
                    "Target freezing point",
                    "freezing point",
                    "−37",
                    help="Several degrees colder than the coldest night.",
                    only_if=("target_as", (READ,)),
                ),
                Field(
                    "target",
                    "Target",
                    "strength",
                    "50",
                    unit_choices=BASES,
                    only_if=("target_as", (TYPED,)),
                ),
            ),
        ),
        Group(
            "What there is to pour",
            (
                Field(
                    "shelf",
                    "To pour",
                    "choice",
                    "concentrate and water",
                    choices=_same(*SHELVES),
                    help="Concentrate is taken as 94 % glycol by mass, as most are.",
                ),
                Field(
                    "temp",
                    "Temperature of the liquids",
                    "temperature",
                    "20",
                    help="Of what is taken out and poured, on a cold engine.",
                ),
            ),
        ),
    ),
    systems={name: system.by_kind() for name, system in units.SYSTEMS.items()},
)


def ask(values):
    """Answer the page's question.

    Parameters
    ----------
    values : dict of str to str
        Text of each field, as `FORM.defaults` gives it.

    Returns
    -------
    coolcalc.jobs.MixCorrection

    Raises
    ------
    FormError
        With one error for each field that cannot be used.
    """
    form, errors = FORM.read_all(values)
    parts = {}
    for name, make in (
        ("system", _system),
        ("found", _found),
        ("target", _target),
        ("temp", lambda form: units.Q(*_needed(form, "temp"), "kelvin")),
        ("low", lambda form: units.Q(*_needed(form, "low"), "m^3")),
        ("pour", _pour),
    ):
        try:
            parts[name] = make(form)
        except _NotReadError:
            parts[name] = None
        except CoolcalcError as error:
            parts[name] = None
            errors.append(error)
    try:
        answer = correct_mix(**parts, show_in=values[UNITS])
    except CoolcalcError as error:
        # What could not be read has been told already; the rest is told with it.
        refused = {name for name, part in parts.items() if part is None}
        told = error.errors if isinstance(error, FormError) else (error,)
        errors += [each for each in told if getattr(each, "field", None) not in refused]
    if errors:
        raise FormError([_on_page(error, form) for error in errors])
    return answer


class _NotReadError(Exception):
    """A field that is needed has been refused."""


def _needed(form, *names):
    values = [form[name] for name in names]
    if any(value is None for value in values):
        raise _NotReadError
    return values


def _system(form):
    capacity, error = _needed(form, "capacity", "capacity_error")
    return CoolingSystem(
        capacity=units.Q(capacity, "m^3"),
        capacity_error=units.Q(error, "m^3"),
        drainable=None if form["drainable"] is None else units.Q(form["drainable"], "m^3"),
    )


def _pour(form):
    glycol, shelf = _needed(form, "glycol", "shelf")
    return [GENERIC[name.format(glycol)] for name in SHELVES[shelf]]


def _found(form):
    if form["found_as"] == READ:
        _needed(form, "glycol", "reading", "error")
        tool = Refractometer(made_for=form["glycol"], error=units.Q(form["error"], "delta_degC"))
        return tool.read(units.Q(form["reading"], "kelvin"))
    found, error = _needed(form, "found", "found_error")
    strength = Strength(found.share, found.basis, error)
    glycol, shelf = _needed(form, "glycol", "shelf")
    if SHELVES[shelf] == ("water",):  # nothing else says which product is inside
        return GENERIC[f"{glycol} concentrate"].mix(strength)
    return strength


def _target(form):
    if form["target_as"] == READ:
        (temp_k,) = _needed(form, "target_freezing")
        return units.Q(temp_k, "kelvin")
    (target,) = _needed(form, "target")
    return Strength(target.share, target.basis)


def _on_page(error, form):
    """Return a refusal under the name that its field has on the page."""
    if not isinstance(error, InputError):
        return error
    name = error.field
    if name == "target" and form["target_as"] == READ:
        name = "target_freezing"
    field = FORM.fields.get(name)
    return InputError(field.label, error.found, error.what) if field else error


def workshop_panel():
    """Return the page's panel, answering for the figures that it starts with."""
    return Panel(FORM, ask, lambda answer: charts.to_svg(charts.mix_correction(answer)))
