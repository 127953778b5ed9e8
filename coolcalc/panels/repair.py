"""The page after a repair: refill, flush, what top-ups have done, and water to mix with."""

from coolcalc import prints, units
from coolcalc.jobs import WaterCheck, after_topups, check_water, flush, refill
from coolcalc.panels import asking
from coolcalc.panels.repair_form import (
    CHECK,
    DRY_AND_BACK,
    FLUSH,
    FLUSH_WITH,
    FORM,
    NOT_TESTED,
    PARTS,
    REFILL,
    TOPUPS,
    TOPUPS_MAX,
)
from coolcalc.panels.view import MAKE_CARD, Panel
from coolcalc.product import GENERIC


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


def _found(read):
    # Without old mix there is nothing to have been read.
    return None if read["tool"] is None else asking.found(read)


def _inside(read):
    (inside,) = asking.needed(read, "inside")
    return "nothing" if inside == DRY_AND_BACK else inside


def _opened(read):
    return [part for part, (opened, _, _) in PARTS.items() if read[opened]]


def _shares(read):
    """Return what comes out of each opened part, or None where it was caught."""
    if read["caught"] is not None:
        return None
    unit = units.KINDS["share"].si
    return {
        part: tuple(units.Q(share, unit) for share in asking.needed(read, least, most))
        for part, (opened, least, most) in PARTS.items()
        if read[opened]
    }


def _beside_caught(name):
    """Return the part of a volume that counts only where the pan was measured."""
    return lambda read: "0 L" if read["caught"] is None else asking.needed_volume(name)(read)


def _pour_back(read):
    return "0 L" if read["tool"] is None else asking.needed_volume("pour_back")(read)


def _flush_with(read):
    return GENERIC[FLUSH_WITH[read["flush_with"]].format(asking.glycol(read))]


def _topups(read):
    return int(read["topup_count"]) * [asking.needed_volume("topup_each")(read)]


def _additive(read):
    if read["additive"] == NOT_TESTED:
        return None
    (content,) = asking.needed(read, "additive_content")
    return {read["additive"]: content}


def _plain(name):
    return lambda read: read[name]


def _hardness(read):
    return None if read["hardness"] is None else units.Q(read["hardness"], "mg/L")


_JOBS = {
    REFILL: (
        refill,
        {
            "system": asking.system,
            "target": asking.target,
            "pour": asking.shelf,
            "found": _found,
            "inside": _inside,
            "caught": asking.volume("caught"),
            "caught_error": _beside_caught("caught_error"),
            "spilled": _beside_caught("spilled"),
            "spilled_error": asking.volume("spilled_error"),
            "opened": _opened,
            "shares": _shares,
            "pour_back": _pour_back,
            "low": asking.needed_volume("low"),
            "bucket": asking.volume("bucket"),
            "engine_only": asking.volume("engine_only"),
            "went_in": asking.volume("went_in"),
            "temp": asking.temp,
        },
    ),
    FLUSH: (
        flush,
        {
            "system": asking.system,
            "found": asking.found,
            "target": asking.target,
            "pour": asking.shelf,
            "may_stay": lambda read: units.Q(
                *asking.needed(read, "may_stay"), units.KINDS["share"].si
            ),
            "flush_with": _flush_with,
            "temp": asking.temp,
            "low": asking.needed_volume("low"),
        },
    ),
    TOPUPS: (
        after_topups,
        {
            "system": asking.system,
            "found": asking.found,
            "topups": _topups,
            "standard": asking.target,
            "hours": _plain("hours"),
            "temp": asking.temp,
            "lost": _plain("lost"),
            "additive": _additive,
        },
    ),
    CHECK: (
        check_water,
        {
            "hardness": _hardness,
            "chloride": _plain("chloride"),
            "sulphate": _plain("sulphate"),
            "solids": _plain("solids"),
            "ph": _plain("ph"),
            "softened": lambda form: form["softened"] or None,  # no tick tells nothing
        },
    ),
}

#: Field of the page for what a job calls by another name.
_NAMES = {
    "system, drainable": "drainable",
    "standard": "target",
    "opened": "caught",
    "water": "hardness",
    **{f"shares, {part}": least for part, (_, least, _) in PARTS.items()},
    **{f"topups, {at}": "topup_each" for at in range(1, TOPUPS_MAX + 1)},
    **{f"additive, {name}": "additive_content" for name in ("nitrite", "molybdate")},
}


def _ends_with_mix(answer):
    return getattr(answer, "after", None) is not None


def figure_of(answer):
    """Return the figure of an answer as SVG text, or None for water, which is no mix."""
    return None if isinstance(answer, WaterCheck) else asking.figure_of(answer)


def cards_of(answer, values):
    """Return what makes the card of an answer, and the label of the mix that it ends with."""
    made = asking.cards_of(answer, values)
    if not _ends_with_mix(answer):
        return made
    told = {"vehicle": values["vehicle"], "by": values["by"]}
    return made | {
        "label.pdf": (
            "Save the label (PDF)",
            "application/pdf",
            lambda: prints.label_pdf(answer, **told),
        ),
    }


def _make(answer):
    labelled = _ends_with_mix(answer) and not answer.no_label
    return f"{MAKE_CARD} and the label" if labelled else MAKE_CARD


def repair_panel():
    """Return the page's panel, answering for the figures that it starts with."""
    return Panel(FORM, ask, figure_of, cards_of, _make)
