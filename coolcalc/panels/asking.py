"""What every page does with its fields: make a job's parts of them, ask it, rename refusals.

A part is a function of the form's values as `Form.read_all` gives them. What stands here reads
the fields of `coolcalc.panels.fields`; a page adds parts of its own.
"""

import dataclasses

from coolcalc import charts, prints, units
from coolcalc.errors import CoolcalcError, FormError, InputError
from coolcalc.instruments import Hydrometer, Refractometer, TestStrip
from coolcalc.instruments.scales import one_glycol
from coolcalc.panels.fields import DILUTED, KNOWN, READ, READINGS, SHELVES, STRIP, TOOLS
from coolcalc.panels.form import UNITS
from coolcalc.product import GENERIC
from coolcalc.strength import Strength
from coolcalc.system import CoolingSystem, SideCircuit

#: Stands for what could not be read: a job refuses it, where None would mean that it was left out.
_NOT_READ = object()

#: Field of a page for what a job or an instrument calls by another name.
_FIELDS = {"pour": "shelf", "side_circuits": "side_volume", "steps": "strip_steps"}


class _NotReadError(Exception):
    """A field that is needed has been refused."""


def answer(form, jobs, values, names):
    """Answer a page's question.

    Parameters
    ----------
    form : coolcalc.panels.form.Form
        With a choice "task".
    jobs : dict of str to (callable, dict of str to callable)
        By task: the job, and what makes each of its arguments of the form's values.
    values : dict of str to str
        Text of each field, as ``form.defaults`` gives it.
    names : dict of str to str
        Field of the page for what a job calls by another name.

    Returns
    -------
    coolcalc.answers.Answer

    Raises
    ------
    FormError
        With one error for each field that cannot be used.
    """
    read, errors = form.read_all(values)
    if read["task"] is None:
        raise FormError(errors)
    job, parts_of = jobs[read["task"]]
    parts, told = {}, []
    for name, make in parts_of.items():
        try:
            parts[name] = make(read)
        except _NotReadError:
            parts[name] = _NOT_READ
        except CoolcalcError as error:
            parts[name] = _NOT_READ
            told += error.errors if isinstance(error, FormError) else (error,)
    answered = None
    try:
        answered = job(**parts, show_in=values[UNITS])
    except CoolcalcError as error:
        # What could not be read has been told already; the rest is told with it.
        unread = {name for name, part in parts.items() if part is _NOT_READ}
        of_job = error.errors if isinstance(error, FormError) else (error,)
        told += [each for each in of_job if getattr(each, "field", None) not in unread]
    # A field that may be left empty is not empty where its text was refused.
    refused = {each.field for each in errors}
    renamed = (_on_page(each, form, read, names) for each in told)
    errors += [each for each in renamed if getattr(each, "field", None) not in refused]
    if errors:
        # Several parts may need one field, and each refuses it in the same words.
        raise FormError({str(each): each for each in errors}.values())
    return answered


def _on_page(error, form, read, names):
    """Return a refusal under the name that its field has on the page."""
    if not isinstance(error, InputError):
        return error
    name = (_FIELDS | names).get(error.field, error.field)
    if name == "target" and read["target_as"] == READ:
        name = "target_freezing"
    if name in ("found", "reading"):
        name = {KNOWN: "found", STRIP: "strip_step"}.get(read["tool"]) or READINGS[read["tool"]]
    if name == "sample_temp" and read["sample_temp"] is None:
        name = "prism_temp"
    field = form.fields.get(name)
    return InputError(field.label, error.found, error.what) if field else error


# --- parts ----------------------------------------------------------------------------------------


def needed(read, *names):
    """Return values of fields, of which none may have been refused."""
    values = [read[name] for name in names]
    if any(value is None for value in values):
        raise _NotReadError
    return values


def volume(name):
    """Return the part of a volume that may be left empty."""
    return lambda read: None if read[name] is None else units.Q(read[name], "m^3")


def needed_volume(name):
    """Return the part of a volume that is asked for."""
    return lambda read: units.Q(*needed(read, name), "m^3")


def temp(read):
    """Return the temperature of the liquids."""
    return units.Q(*needed(read, "temp"), "kelvin")


def glycol(read):
    """Return the glycol that is worked on; a mix of two is refused."""
    return one_glycol("glycol", *needed(read, "glycol"), "the system")


def system(read):
    """Return the cooling system."""
    capacity, error = needed(read, "capacity", "capacity_error")
    sides = ()
    if read.get("side") not in (None, "none"):
        held = needed_volume("side_volume")(read)
        sides = (SideCircuit(name="the side circuit", volume=held, state=read["side"]),)
    return CoolingSystem(
        capacity=units.Q(capacity, "m^3"),
        capacity_error=units.Q(error, "m^3"),
        drainable=volume("drainable")(read) if "drainable" in read else None,
        side_circuits=sides,
        **({"fill": read["fill"]} if read.get("fill") else {}),
    )


def shelf(read):
    """Return the products that there are to pour."""
    inside = glycol(read)
    return [GENERIC[name.format(inside)] for name in SHELVES[read["shelf"]]]


def target(read):
    """Return the target: a freezing point, or a Strength."""
    if read["target_as"] == READ:
        return units.Q(*needed(read, "target_freezing"), "kelvin")
    (wanted,) = needed(read, "target")
    return Strength(wanted.share, wanted.basis)


def found(read):
    """Return what was measured: a Reading, or what is known as per cent."""
    inside = glycol(read)
    if read["tool"] == KNOWN:
        known, error = needed(read, "found", "found_error")
        strength = Strength(known.share, known.basis, error)
        if read.get("shelf") is not None and SHELVES[read["shelf"]] != ("water",):
            return strength
        # What is poured does not say which product is inside: the page does.
        return GENERIC[f"{inside} concentrate"].mix(strength)
    if read["tool"] == STRIP:
        steps = [step.strip() for step in read["strip_steps"].split(",")]
        return TestStrip(made_for=inside, steps=steps).read(read["strip_step"])
    return _read_instrument(read, inside)


def _read_instrument(read, inside):
    kind, scale = TOOLS[read["tool"]]
    name = READINGS[read["tool"]]
    value, error = needed(read, name, f"{name}_error")
    line = read["line"] if read["line"] is not None else inside
    common = {"scale": scale, "made_for": line}
    sample = {"inside": inside, "diluted": 1 if read["sample"] == DILUTED else 0}
    if kind == "hydrometer":
        sample["sample_temp"] = units.Q(*needed(read, "sample_temp"), "kelvin")
        tool = Hydrometer(**common, reference_temp=read["reference"])
    else:
        tool = Refractometer(**common, compensated=read["compensated"], zeroed=read["zeroed"])
        if not read["compensated"]:
            sample["sample_temp"] = units.Q(*needed(read, "prism_temp"), "kelvin")
    spec = tool.spec
    tool = _with_error(tool, spec, error)
    return tool.read(units.Q(value, units.KINDS[spec.kind].si), **sample)


def _with_error(tool, spec, error):
    unit = "delta_degC" if spec.kind == "freezing point" else units.KINDS[spec.error_kind].si
    return dataclasses.replace(tool, error=units.Q(error, unit))


# --- what is shown beside the answer --------------------------------------------------------------


def figure_of(shown):
    """Return the freezing curve with the mixes of an answer on it, as SVG text."""
    return charts.to_svg(charts.mixes(shown))


def cards_of(shown, values):
    """Return what makes the printed card of an answer, as PDF and as HTML."""
    told = {"vehicle": values["vehicle"], "by": values["by"], "paper": values["paper"]}
    return {
        "job-card.pdf": (
            "Save the card (PDF)",
            "application/pdf",
            lambda: prints.card_pdf(shown, **told),
        ),
        "job-card.html": (
            "Save the card (HTML)",
            "text/html",
            lambda: prints.card_html(shown, **told).encode("utf-8"),
        ),
    }
