"""The words of a `WaterCheck`: notes, steps, rows, assumptions, working."""

from .. import units
from ..answers import Line, Row
from ..sources import SOURCES
from .water_limits import LIMITS, LOOSER

INSTEAD = "distilled or deionised water, or ready-mixed coolant"

#: What is not known of water where nothing was told of a softener.
SOFTENER = "whether a softener with salt is used"

#: Unit of hardness in brackets beside mg/L.
_DEGREES = {"US": "gr/US gal"}


def figure(job, name, value):
    """Return a figure as printed; hardness in degrees too. [mg/L; pH as it is]."""
    text = LIMITS[name].show(value)
    if LIMITS[name].kind != "hardness":
        return text
    unit = _DEGREES.get(job.unit_system.name, "°dH")
    return f"{text} as CaCO3 ({units.show(value, 'hardness', unit, 1)})"


def _listed(names):
    return _joined([LIMITS[name].words for name in names])


def _unchecked(job):
    """Return all that was not told, as printed; an empty text where all was."""
    words = [LIMITS[name].words for name in job.not_checked]
    return _joined(words + [SOFTENER] * (job.softened is None))


def _joined(words):
    if not words:
        return ""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def _against(job, names, figures):
    return "; ".join(
        f"{LIMITS[name].words} {figure(job, name, figures[name])} is "
        f"{LIMITS[name].verdict(figures[name])} ({LIMITS[name].rule})"
        for name in names
    )


def percent(share):
    """Return a share as printed: whole per cent where it is one."""
    return f"{100.0 * share:.4g} %"


# --- notes ----------------------------------------------------------------------------------------


def notes(job):
    """Yield the verdict, what was not checked, and the blend."""
    if job.softened:
        yield (
            "Not to be mixed with coolant: water softened with salt is never right, whatever its "
            "hardness. It is low in hardness because sodium has taken the place of the lime, and "
            "salt from the softener brings chloride."
        )
    if job.over:
        begin = "It is also not" if job.softened else "Not"
        yield f"{begin} within the limits: {_against(job, job.over, job.told)}."
    elif not job.softened:
        yield (
            f"What was told ({_listed(job.told)}) is within these limits. The maker's handbook "
            "decides: it may ask for less, or for distilled water only."
        )
    if _unchecked(job):
        yield f"Not checked, since not told, and so not passed: {_unchecked(job)}."
    if not job.softened:
        yield from _blend_notes(job)


def _blend_notes(job):
    if job.blend:
        of = f"With {percent(job.distilled)} distilled water"
        if job.blend_over:
            yield f"{of} still not: {_against(job, job.blend_over, job.blend)}."
        else:
            yield f"{of}, {_listed(job.blend)} would be within."
    if "ph" in job.told and (job.distilled is not None or "ph" in job.over):
        yield "pH is not carried by mixing: it cannot be reckoned for a blend. Test the blend."


# --- steps ----------------------------------------------------------------------------------------


def steps(job):
    """Yield what to do next."""
    if job.softened:
        yield f"Do not mix coolant with this water. Use {INSTEAD}."
        yield (
            "Where the tap before the softener can be drawn from, have that water tested and enter "
            "its figures."
        )
        return
    if job.over:
        yield f"Do not mix coolant with this water as it is. Use {INSTEAD}."
        yield from _blend_step(job)
    else:
        yield "Look up in the maker's handbook which water it asks for, and go by that."
        if _unchecked(job):
            yield (
                f"For {_unchecked(job)}, read the waterworks' report, ask, or have it tested; "
                f"until then, use {INSTEAD}."
            )
        else:
            yield f"Where the handbook asks for less, or nothing can be found, use {INSTEAD}."


def _blend_step(job):
    share = job.share_within
    if not share:
        return
    others = " for what was told" if _unchecked(job) else ""
    text = (
        f"Or mix it with distilled water first: at most {percent(share)} of this water, the rest "
        f"distilled or deionised, is within the limits{others}."
    )
    if "ph" in job.told:
        text += " pH is not carried by mixing: test the blend."
    yield text


# --- rows -----------------------------------------------------------------------------------------


def rows(job):
    """Yield each figure, its limit, and how it stands to it."""
    for name, limit in LIMITS.items():
        label = limit.words[:1].upper() + limit.words[1:] if name != "ph" else limit.words
        if name not in job.told:
            yield Row(label, f"not checked ({limit.rule})")
            continue
        value = job.told[name]
        text = f"{figure(job, name, value)}: {limit.verdict(value)} ({limit.rule})"
        if name in job.over and limit.looser is not None and limit.looser > limit.high:
            side = "within" if value <= limit.looser else "over"
            text += f"; looser limit {limit.looser:g} {limit.unit}, {LOOSER}: {side}"
        yield Row(label, text)
        if name in job.blend:
            part = job.blend[name]
            yield Row(
                f"{label}, with {percent(job.distilled)} distilled water",
                f"{figure(job, name, part)}: {limit.verdict(part)} ({limit.rule})",
            )
    softened = {None: "not told", True: "yes: never right", False: "no, as told"}[job.softened]
    yield Row("Softened with salt", softened)
    if job.over and job.share_within:
        yield Row("Largest share of this water with distilled", percent(job.share_within))


# --- assumptions ----------------------------------------------------------------------------------


def assumptions(job):
    """Yield what the verdict takes for granted."""
    yield (
        "The limits are for water before it is mixed with concentrate; those for coolant in "
        "service are others. Each is “at most”, so a figure exactly at it is within."
    )
    yield "In water, mg/L and ppm are the same."
    if "hardness" in job.told:
        yield (
            "Hardness is reckoned as calcium carbonate: 1 °dH is 17.848 mg/L, 1 grain in a US "
            "gallon 17.118 mg/L."
        )
    yield "The figures are taken as they were told, without give or take."
    if (job.over and not job.softened) or job.blend:
        yield (
            "In a blend each figure falls in proportion to volume, and distilled or deionised "
            "water brings none of it; pH does not follow that."
        )
    yield (
        "Looser limits are in use too: hardness 300, chloride and sulphate 100 mg/L each "
        f"({LOOSER}). They are not what this answer goes by."
    )


# --- working --------------------------------------------------------------------------------------


def working_lines(job):
    """Yield each comparison with its source, and the blend."""
    for name, value in job.told.items():
        limit = LIMITS[name]
        # What follows the semicolon of a title is what it says, not what it is.
        sources = "; ".join(SOURCES[key].title.partition(",")[0] for key in limit.sources)
        yield Line(
            limit.words,
            f"{figure(job, name, value)}, limit {limit.rule} ({sources}): {limit.verdict(value)}.",
        )
    for name, value in job.blend.items():
        yield Line(
            f"{LIMITS[name].words} of the blend",
            f"{LIMITS[name].show(job.told[name])} × (1 − {job.distilled:.4g}) = "
            f"{LIMITS[name].show(value)}.",
        )
    if job.over and job.share_within is not None:
        worst = min(
            (name for name in job.over if LIMITS[name].mixes),
            key=lambda name: LIMITS[name].high / job.told[name],
        )
        limit = LIMITS[worst]
        yield Line(
            "Largest share",
            f"{limit.words}: {limit.high:g} / {limit.show(job.told[worst])} = "
            f"{100.0 * job.share_at_limit:.2f} %, rounded down to {percent(job.share_within)}.",
        )


# --- how sure it is -------------------------------------------------------------------------------


def odds_lines(job):
    """Yield why there is no chance to give."""
    yield Line(
        "How sure",
        "No chance is worked out: the figures are compared as they were told. A figure near its "
        "limit is only as sure as its test, and a test strip is coarse.",
    )
    if _unchecked(job):
        yield Line("Not counted", f"{_unchecked(job)}: nothing was told.")
