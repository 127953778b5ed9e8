"""The workshop's page: a measured mix in, what to take out and pour out, and the card."""

from coolcalc import units
from coolcalc.jobs import batch, correct_mix, what_now
from coolcalc.panels import asking
from coolcalc.panels.asking import cards_of
from coolcalc.panels.view import Panel
from coolcalc.panels.workshop_form import BATCH, CORRECT, FORM, NOW
from coolcalc.product import GENERIC
from coolcalc.strength import Strength

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
    return asking.answer(FORM, _JOBS, values, _NAMES)


def _drain_temp(read):
    return None if read["drain_temp"] is None else units.Q(read["drain_temp"], "kelvin")


def _on_hand(read):
    if read["can_left"] is None:
        return None
    return {GENERIC[f"{asking.glycol(read)} concentrate"]: units.Q(read["can_left"], "m^3")}


def _aim(read):
    return SAFE_AIM if read["safe"] else None


def _poured(read):
    glycol = asking.glycol(read)
    told = {}
    for name, product in (
        ("put_concentrate", f"{glycol} concentrate"),
        ("put_ready", f"{glycol} ready-mixed 50 %"),
        ("put_water", "water"),
    ):
        (volume,) = asking.needed(read, name)
        if volume > 0.0:
            told[GENERIC[product]] = units.Q(volume, "m^3")
    return told


def _remnant(read):
    volume, strength = asking.needed(read, "remnant", "remnant_strength")
    if volume == 0.0:
        return None
    concentrate = GENERIC[f"{asking.glycol(read)} concentrate"]
    return concentrate.mix(Strength(strength.share, strength.basis))


_JOBS = {
    CORRECT: (
        correct_mix,
        {
            "system": asking.system,
            "found": asking.found,
            "target": asking.target,
            "pour": asking.shelf,
            "temp": asking.temp,
            "low": asking.needed_volume("low"),
            "aim": _aim,
            "on_hand": _on_hand,
            "drain_temp": _drain_temp,
        },
    ),
    NOW: (
        what_now,
        {
            "system": asking.system,
            "found": asking.found,
            "taken_out": asking.needed_volume("taken_out"),
            "poured": _poured,
            "temp": asking.temp,
            "low": asking.needed_volume("low"),
            "target": asking.target,
            "drain_temp": _drain_temp,
        },
    ),
    BATCH: (
        batch,
        {
            "volume": asking.needed_volume("volume"),
            "target": asking.target,
            "pour": asking.shelf,
            "inside": _remnant,
            "inside_volume": asking.needed_volume("remnant"),
            "container": asking.volume("container"),
            "temp": asking.temp,
            "weigh": lambda read: read["weigh"],
        },
    ),
}

#: Field of the page for what a job calls by another name.
_NAMES = {
    "inside_volume": "remnant",
    "inside": "remnant_strength",
    "poured": "put_concentrate",
    "on_hand": "can_left",
}


def workshop_panel():
    """Return the page's panel, answering for the figures that it starts with."""
    return Panel(FORM, ask, asking.figure_of, cards_of)
