"""The page of capacity, growth and boiling."""

from coolcalc import charts, units
from coolcalc.errors import InputError
from coolcalc.jobs import (
    BoilMargin,
    Expansion,
    PartsCapacity,
    boil_margin,
    capacity_from_fill,
    capacity_from_parts,
    capacity_from_swap,
    expansion,
)
from coolcalc.jobs.parts_table import parts_csv
from coolcalc.panels import asking
from coolcalc.panels.fields import KNOWN, READINGS, STRIP
from coolcalc.panels.holding_form import (
    AFTER,
    BOIL,
    CAP,
    FILL,
    FORM,
    GROWTH,
    PARTS,
    PLAIN_WATER,
    SWAP,
    SWAP_WITH,
)
from coolcalc.panels.view import Panel
from coolcalc.product import GENERIC, WATER


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
    return asking.answer(FORM, _JOBS, values, _names(values))


def _inside(read):
    return WATER if read["inside"] == PLAIN_WATER else asking.found(read)


def _temp(name):
    """Return the part of a temperature that may be left empty."""
    return lambda read: None if read[name] is None else units.Q(read[name], "kelvin")


def _needed_temp(name):
    return lambda read: units.Q(*asking.needed(read, name), "kelvin")


def _cap(read):
    if read["cap_fitted"] != CAP:
        return None
    return units.Q(*asking.needed(read, "cap"), "pascal")


def _cap_holds(read):
    return None if read["cap_holds"] is None else units.Q(read["cap_holds"], "pascal")


def _altitude(read):
    return units.Q(*asking.needed(read, "altitude"), "m")


def _share(name):
    return lambda read: units.Q(*asking.needed(read, name), units.KINDS["share"].si)


def _plain(name):
    return lambda read: read[name]


def _poured(read):
    poured, measures = asking.needed(read, "poured", "measures")
    if measures != int(measures):
        raise InputError(
            "measures",
            measures,
            f"{measures:g} is no whole number; count how often the can was filled.",
        )
    return int(measures) * [units.Q(poured / measures, "m^3")]


def _swap_with(read):
    return GENERIC[SWAP_WITH[read["swap_with"]].format(asking.glycol(read))]


def _after(read):
    """Return the second reading: as the first, with what was read afterwards in its place."""
    tool = read["tool"]
    (told,) = asking.needed(read, AFTER[tool])
    name = {KNOWN: "found", STRIP: "strip_step"}.get(tool) or READINGS[tool]
    try:
        return asking.found(read | {name: told})
    except InputError as error:
        raise error.under("after") from None


_JOBS = {
    GROWTH: (
        expansion,
        {
            "system": asking.system,
            "found": _inside,
            "temp": _needed_temp("cold"),
            "hottest": _needed_temp("hot"),
            "tank": _plain("tank"),
            "room": asking.volume("room"),
            "below": asking.volume("below"),
            "cap": _cap,
            "altitude": _altitude,
            "metal": _plain("metal"),
            "gas": _temp("gas"),
            "coldest": _temp("coldest"),
        },
    ),
    BOIL: (
        boil_margin,
        {
            "found": _inside,
            "cap": _cap,
            "cap_holds": _cap_holds,
            "altitude": _altitude,
            "hottest": _temp("hottest"),
            "top_tank": _temp("top_tank"),
            "outside": _temp("outside"),
            "system": asking.system,
        },
    ),
    FILL: (
        capacity_from_fill,
        {
            "poured": _poured,
            "topped_up": asking.needed_volume("topped_up"),
            "still_inside": asking.needed_volume("still_inside"),
            "still_inside_error": asking.needed_volume("still_inside_error"),
            "jug_error": _share("jug_error"),
            "each_error": asking.needed_volume("each_error"),
        },
    ),
    PARTS: (capacity_from_parts, {"parts": _plain("parts")}),
    SWAP: (
        capacity_from_swap,
        {
            "before": asking.found,
            "after": _after,
            "swapped": asking.needed_volume("swapped"),
            "pour": _swap_with,
            "swapped_error": asking.needed_volume("swapped_error"),
            "wanted": _share("wanted"),
            "about": asking.volume("about"),
            "temp": asking.temp,
        },
    ),
}


def _names(values):
    """Return the field of the page for what a job calls by another name."""
    return {
        GROWTH: {"temp": "cold", "hottest": "hot"},
        SWAP: {"before": "found", "after": AFTER.get(values["tool"], "found")},
    }.get(values["task"], {})


def figure_of(answer):
    """Return the figure of an answer as SVG text, or None for a capacity, which is a number."""
    if isinstance(answer, Expansion):
        return charts.to_svg(charts.growth(answer))
    if isinstance(answer, BoilMargin):
        return charts.to_svg(charts.boiling(answer))
    return None


def cards_of(answer, values):
    """Return what makes the card of an answer; and of parts, their table."""
    made = asking.cards_of(answer, values)
    if not isinstance(answer, PartsCapacity) or answer.bad:
        return made
    parts = answer.asked["parts"]
    return made | {
        "parts.csv": ("Save the table (CSV)", "text/csv", lambda: parts_csv(parts)),
    }


def holding_panel():
    """Return the page's panel, answering for the figures that it starts with."""
    return Panel(FORM, ask, figure_of, cards_of)
