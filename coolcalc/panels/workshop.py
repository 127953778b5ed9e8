"""The workshop's page: a measured mix in, what to take out and pour out, and the card."""

import dataclasses

from coolcalc import charts, prints, units
from coolcalc.errors import CoolcalcError, FormError, InputError
from coolcalc.instruments import Hydrometer, Refractometer, TestStrip
from coolcalc.instruments.scales import one_glycol
from coolcalc.jobs import batch, correct_mix, what_now
from coolcalc.panels.form import UNITS
from coolcalc.panels.view import Panel
from coolcalc.panels.workshop_form import (
    BATCH,
    CORRECT,
    DILUTED,
    FORM,
    KNOWN,
    NOW,
    READ,
    READINGS,
    SHELVES,
    STRIP,
    TOOLS,
)
from coolcalc.product import GENERIC
from coolcalc.strength import Strength
from coolcalc.system import CoolingSystem, SideCircuit

#: Chance that "on the safe side" aims at. [-]
SAFE_AIM = 0.95


def ask(values):
    """Answer the page's question.

    Parameters
    ----------
    values : dict of str to str
        Text of each field, as `FORM.defaults` gives it.

    Returns
    -------
    coolcalc.answers.Answer

    Raises
    ------
    FormError
        With one error for each field that cannot be used.
    """
    form, errors = FORM.read_all(values)
    if form["task"] is None:
        raise FormError(errors)
    job, parts_of = _JOBS[form["task"]]
    parts = {}
    for name, make in parts_of.items():
        try:
            parts[name] = make(form)
        except _NotReadError:
            parts[name] = _NOT_READ
        except CoolcalcError as error:
            parts[name] = _NOT_READ
            errors.append(error)
    answer = None
    try:
        answer = job(**parts, show_in=values[UNITS])
    except CoolcalcError as error:
        # What could not be read has been told already; the rest is told with it.
        refused = {name for name, part in parts.items() if part is _NOT_READ}
        told = error.errors if isinstance(error, FormError) else (error,)
        errors += [each for each in told if getattr(each, "field", None) not in refused]
    if errors:
        # Several parts may need one field, and each refuses it in the same words.
        told = {str(error): error for error in (_on_page(each, form) for each in errors)}
        raise FormError(told.values())
    return answer


class _NotReadError(Exception):
    """A field that is needed has been refused."""


#: Stands for what could not be read: a job refuses it, where None would mean that it was left out.
_NOT_READ = object()


def _needed(form, *names):
    values = [form[name] for name in names]
    if any(value is None for value in values):
        raise _NotReadError
    return values


def _volume(form, name):
    return None if form[name] is None else units.Q(form[name], "m^3")


def _needed_volume(name):
    return lambda form: units.Q(*_needed(form, name), "m^3")


def _temp(form):
    return units.Q(*_needed(form, "temp"), "kelvin")


def _drain_temp(form):
    return None if form["drain_temp"] is None else units.Q(form["drain_temp"], "kelvin")


def _glycol(form):
    (glycol,) = _needed(form, "glycol")
    return one_glycol("Glycol inside", glycol, "the system")


def _system(form):
    capacity, error = _needed(form, "capacity", "capacity_error")
    sides = ()
    if form["side"] not in (None, "none"):
        (volume,) = _needed(form, "side_volume")
        sides = (
            SideCircuit(name="the side circuit", volume=units.Q(volume, "m^3"), state=form["side"]),
        )
    return CoolingSystem(
        capacity=units.Q(capacity, "m^3"),
        capacity_error=units.Q(error, "m^3"),
        drainable=_volume(form, "drainable"),
        side_circuits=sides,
        **({"fill": form["fill"]} if form["fill"] else {}),
    )


def _shelf(form):
    glycol = _glycol(form)
    return [GENERIC[name.format(glycol)] for name in SHELVES[form["shelf"]]]


def _on_hand(form):
    if form["can_left"] is None:
        return None
    return {GENERIC[f"{_glycol(form)} concentrate"]: units.Q(form["can_left"], "m^3")}


def _aim(form):
    return SAFE_AIM if form["safe"] else None


def _target(form):
    if form["target_as"] == READ:
        (temp_k,) = _needed(form, "target_freezing")
        return units.Q(temp_k, "kelvin")
    (target,) = _needed(form, "target")
    return Strength(target.share, target.basis)


# --- the reading ----------------------------------------------------------------------------------


def _found(form):
    glycol = _glycol(form)
    if form["tool"] == KNOWN:
        found, error = _needed(form, "found", "found_error")
        strength = Strength(found.share, found.basis, error)
        if form["shelf"] is not None and SHELVES[form["shelf"]] != ("water",):
            return strength
        # What is poured does not say which product is inside: the page does.
        return GENERIC[f"{glycol} concentrate"].mix(strength)
    if form["tool"] == STRIP:
        steps = [step.strip() for step in form["strip_steps"].split(",")]
        return TestStrip(made_for=glycol, steps=steps).read(form["strip_step"])
    return _read_instrument(form, glycol)


def _read_instrument(form, glycol):
    kind, scale = TOOLS[form["tool"]]
    name = READINGS[form["tool"]]
    value, error = _needed(form, name, f"{name}_error")
    line = form["line"] if form["line"] is not None else glycol
    common = {"scale": scale, "made_for": line}
    sample = {"inside": glycol, "diluted": 1 if form["sample"] == DILUTED else 0}
    if kind == "hydrometer":
        (temp_k,) = _needed(form, "sample_temp")
        tool = Hydrometer(**common, reference_temp=form["reference"])
        sample["sample_temp"] = units.Q(temp_k, "kelvin")
    else:
        tool = Refractometer(**common, compensated=form["compensated"], zeroed=form["zeroed"])
        if not form["compensated"]:
            (temp_k,) = _needed(form, "prism_temp")
            sample["sample_temp"] = units.Q(temp_k, "kelvin")
    spec = tool.spec
    tool = _with_error(tool, spec, error)
    return tool.read(units.Q(value, units.KINDS[spec.kind].si), **sample)


def _with_error(tool, spec, error):
    unit = "delta_degC" if spec.kind == "freezing point" else units.KINDS[spec.error_kind].si
    return dataclasses.replace(tool, error=units.Q(error, unit))


# --- the jobs of the page -------------------------------------------------------------------------


def _poured(form):
    glycol = _glycol(form)
    told = {}
    for name, product in (
        ("put_concentrate", f"{glycol} concentrate"),
        ("put_ready", f"{glycol} ready-mixed 50 %"),
        ("put_water", "water"),
    ):
        (volume,) = _needed(form, name)
        if volume > 0.0:
            told[GENERIC[product]] = units.Q(volume, "m^3")
    return told


def _remnant(form):
    volume, strength = _needed(form, "remnant", "remnant_strength")
    if volume == 0.0:
        return None
    return GENERIC[f"{_glycol(form)} concentrate"].mix(Strength(strength.share, strength.basis))


_JOBS = {
    CORRECT: (
        correct_mix,
        {
            "system": _system,
            "found": _found,
            "target": _target,
            "pour": _shelf,
            "temp": _temp,
            "low": _needed_volume("low"),
            "aim": _aim,
            "on_hand": _on_hand,
            "drain_temp": _drain_temp,
        },
    ),
    NOW: (
        what_now,
        {
            "system": _system,
            "found": _found,
            "taken_out": _needed_volume("taken_out"),
            "poured": _poured,
            "temp": _temp,
            "low": _needed_volume("low"),
            "target": _target,
            "drain_temp": _drain_temp,
        },
    ),
    BATCH: (
        batch,
        {
            "volume": _needed_volume("volume"),
            "target": _target,
            "pour": _shelf,
            "inside": _remnant,
            "inside_volume": _needed_volume("remnant"),
            "container": lambda form: _volume(form, "container"),
            "temp": _temp,
            "weigh": lambda form: form["weigh"],
        },
    ),
}

#: Field of the page for what a job or an instrument calls by another name.
_FIELDS = {
    "inside_volume": "remnant",
    "inside": "remnant_strength",
    "poured": "put_concentrate",
    "side_circuits": "side_volume",
    "on_hand": "can_left",
    "pour": "shelf",
}


def _on_page(error, form):
    """Return a refusal under the name that its field has on the page."""
    if not isinstance(error, InputError):
        return error
    name = _FIELDS.get(error.field, error.field)
    if name == "target" and form["target_as"] == READ:
        name = "target_freezing"
    if name in ("found", "reading"):
        name = {KNOWN: "found", STRIP: "strip_step"}.get(form["tool"]) or READINGS[form["tool"]]
    if name == "steps":
        name = "strip_steps"
    if name == "sample_temp" and form["sample_temp"] is None:
        name = "prism_temp"
    field = FORM.fields.get(name)
    return InputError(field.label, error.found, error.what) if field else error


def cards_of(answer, values):
    """Return what makes the printed card of an answer, as PDF and as HTML."""
    told = {"vehicle": values["vehicle"], "by": values["by"], "paper": values["paper"]}
    return {
        "job-card.pdf": (
            "Save the card (PDF)",
            "application/pdf",
            lambda: prints.card_pdf(answer, **told),
        ),
        "job-card.html": (
            "Save the card (HTML)",
            "text/html",
            lambda: prints.card_html(answer, **told).encode("utf-8"),
        ),
    }


def workshop_panel():
    """Return the page's panel, answering for the figures that it starts with."""
    return Panel(FORM, ask, lambda answer: charts.to_svg(charts.mixes(answer)), cards_of)
