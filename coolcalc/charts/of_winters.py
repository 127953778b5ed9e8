"""The lowest of each winter: how seldom it comes, and year by year."""

import numpy as np

from .. import units
from ..climate import bounds, extremes
from ..climate.winters import colder_left_out
from ..jobs.frost_words import winter_name
from .drawing import BLUE, GREY, SCHEMA, VERMILION, config

#: Winters that are marked on the scale, so far as it reaches.
MARKED = (2, 5, 10, 20, 50, 100, 200, 500)

#: Winters that the line is drawn up to, at least.
DRAWN_TO = 120.0
#: Left free before the mildest winter. [reduced variate]
_BEFORE = 0.15
_POINTS = 49

#: Vega's words for the winters at a reduced variate.
_WINTERS = "format(1 / (1 - exp(-exp(-datum.value))), '.0f')"


def winters_chart(job, width=520, height=320):
    """Draw the lowest of each winter against how seldom it comes.

    Parameters
    ----------
    job : coolcalc.jobs.frost_answer.FrostStandard
    width, height : int
        Of the plot inside its axes. [px]

    Returns
    -------
    dict or None
        Vega-Lite specification; None where the low was not fitted to winters.
    """
    fitted = job.winter_low.fitted
    if fitted is None:
        return None
    years = job.winter_low.years
    shown = extremes.plotting_years(fitted.lowest_k)
    most = max(DRAWN_TO, 1.3 * years, 1.1 * float(shown.max()))
    ends = extremes.reduced_variate(np.array((shown.min(), most))) - (_BEFORE, 0.0)
    variate = np.linspace(*ends, _POINTS)
    curve = bounds.level_curve(
        fitted.lowest_k,
        confidence=2.0 * job.needs.chance - 1.0,
        family=fitted.family.casefold(),
        years=extremes.years_at(variate),
    )
    x = {
        "field": "variate",
        "type": "quantitative",
        "title": "comes once in so many winters",
        "scale": {"domain": list(map(float, ends)), "nice": False},
        "axis": {
            "values": [float(extremes.reduced_variate(n)) for n in MARKED if n <= most],
            "labelExpr": _WINTERS,
            "grid": True,
        },
    }
    y = _temperature(job)
    line = [
        {"variate": float(at), "temp": temp, "low": low, "high": high}
        for at, temp, low, high in zip(
            variate,
            *(_degrees(job, each) for each in (curve.level_k, curve.low_k, curve.high_k)),
            strict=True,
        )
    ]
    days = fitted.each.lowest_day[fitted.each.used]
    points = [
        {"variate": float(at), "temp": temp, "day": str(day), "winter": name}
        for at, temp, day, name in zip(
            extremes.reduced_variate(shown),
            _degrees(job, fitted.lowest_k),
            days,
            _names(job, fitted.each, fitted.each.used),
            strict=True,
        )
    ]
    here = [
        {
            "variate": float(extremes.reduced_variate(years)),
            "temp": _degrees(job, [job.winter_low.low_k])[0],
            "start": float(ends[0]),
            "text": f"once in {years:g}: {job.temp_words(job.winter_low.low_k, 1)}",
        }
    ]
    layers = [
        {
            "data": {"values": line},
            "mark": {"type": "area", "color": GREY, "opacity": 0.18},
            "encoding": {"x": x, "y": y | {"field": "low"}, "y2": {"field": "high"}},
        },
        {
            "data": {"values": line},
            "mark": {"type": "line", "color": VERMILION, "strokeWidth": 2.5},
            "encoding": {"x": x, "y": y},
        },
        {
            "data": {"values": points},
            "mark": _point("circle", BLUE, filled=True),
            "encoding": {"x": x, "y": y, "tooltip": _tooltip()},
        },
        _rule(here, {"x": x, "x2": {"field": "variate"}, "y": y}, start="start"),
        {
            "data": {"values": here},
            "mark": _point("diamond", VERMILION, filled=True, size=220),
            "encoding": {"x": x, "y": y},
        },
        {
            "data": {"values": here},
            "mark": _text(align="left", dx=8, dy=-11, bold=True),
            "encoding": {"x": {"value": 0}, "y": y, "text": {"field": "text"}},
        },
    ]
    colder = colder_left_out(fitted.each)
    apart = [
        {"temp": temp, "text": f"{name}, days missing: not counted"}
        for temp, name in zip(
            _degrees(job, fitted.each.lowest_k[colder]),
            _names(job, fitted.each, colder),
            strict=True,
        )
    ]
    if apart:
        layers += [
            {
                "data": {"values": apart},
                "mark": _point("square", GREY),
                "encoding": {"x": {"value": 14}, "y": y},
            },
            {
                "data": {"values": apart},
                "mark": _text(align="left", dx=10),
                "encoding": {"x": {"value": 14}, "y": y, "text": {"field": "text"}},
            },
        ]
    span = job.doubt
    return _whole(
        f"Lowest of {fitted.lowest_k.size} winters against how seldom each comes, with "
        f"{fitted.family}'s line and its band of {_percent(2.0 * job.needs.chance - 1.0)}; "
        f"once in {years:g} winters {job.temp_words(span.value, 1)}, band "
        f"{job.temp_words(span.low, 1)} to {job.temp_words(span.high, 1)}."
        + "".join(f" {each['text']}." for each in apart),
        width,
        height,
        layers,
    )


def winters_in_time_chart(job, width=520, height=260):
    """Draw the lowest of each winter year by year, with its trend and the low.

    Parameters
    ----------
    job : coolcalc.jobs.frost_answer.FrostStandard
    width, height : int
        Of the plot inside its axes. [px]

    Returns
    -------
    dict or None
        Vega-Lite specification; None where the low was not fitted to winters.
    """
    fitted = job.winter_low.fitted
    if fitted is None:
        return None
    each, good = fitted.each, fitted.goodness
    known = np.isfinite(each.lowest_k)
    x = {
        "field": "year",
        "type": "quantitative",
        "title": "winter that begins in",
        "scale": {"nice": False, "zero": False, "padding": 12},
        "axis": {"format": "d", "tickCount": 8, "grid": False},
    }
    y = _temperature(job)
    names = ["counted"] + (["days missing: not counted"] if (known & ~each.used).any() else [])
    points = [
        {
            "year": int(each.first_year[at]),
            "temp": _degrees(job, [each.lowest_k[at]])[0],
            "what": names[0 if each.used[at] else -1],
            "day": str(each.lowest_day[at]),
            "winter": winter_name(job, each, at),
        }
        for at in known.nonzero()[0]
    ]
    years = each.first_year[each.used]
    slope = good.trend_k_decade / 10.0
    middle = float(np.median(fitted.lowest_k - slope * years))
    ends = [int(years.min()), int(years.max())]
    trend = [
        {"year": year, "temp": temp}
        for year, temp in zip(
            ends, _degrees(job, [middle + slope * each for each in ends]), strict=True
        )
    ]
    low = [
        {
            "temp": _degrees(job, [job.winter_low.low_k])[0],
            "text": [
                f"once in {job.winter_low.years:g} winters:",
                job.temp_words(job.winter_low.low_k, 1),
            ],
        }
    ]
    by_what = {"field": "what", "type": "nominal", "title": None}
    legend = {"orient": "top", "title": None, "labelLimit": 260} if len(names) > 1 else None
    decade = job.difference_words(good.trend_k_decade, 1)
    trend_words = (
        f"trend {decade} in ten years, {job.difference_words(good.trend_low_k_decade, 1)} to "
        f"{job.difference_words(good.trend_high_k_decade, 1)}"
    )
    layers = [
        {
            "data": {"values": trend},
            "mark": {"type": "line", "color": VERMILION, "strokeWidth": 2.5, "strokeDash": [7, 4]},
            "encoding": {"x": x, "y": y},
        },
        {
            "data": {"values": points},
            "mark": {"type": "point", "size": 90, "strokeWidth": 2, "opacity": 1},
            "encoding": {
                "x": x,
                "y": y,
                "tooltip": _tooltip(),
                "color": by_what
                | {"scale": {"domain": names, "range": [BLUE, GREY]}, "legend": legend},
                "shape": by_what
                | {"scale": {"domain": names, "range": ["circle", "square"]}, "legend": legend},
            },
        },
        _rule(low, {"y": y}),
        {
            "data": {"values": low},
            "mark": _text(align="left", dx=8, bold=True) | {"baseline": "middle"},
            "encoding": {"x": {"value": width}, "y": y, "text": {"field": "text"}},
        },
        {
            "data": {"values": [trend[-1] | {"text": [f"trend {decade}", "in ten years"]}]},
            "mark": _text(align="left", dx=8) | {"baseline": "middle"},
            "encoding": {"x": {"value": width}, "y": y, "text": {"field": "text"}},
        },
    ]
    return _whole(
        f"Lowest of each winter from {ends[0]} to {ends[1]}, {trend_words} (above 0 is milder); "
        f"{' '.join(low[0]['text'])}.",
        width,
        height,
        layers,
    )


# --- what both share ------------------------------------------------------------------------------


def _degrees(job, temps_k):
    unit = job.unit_system.temperature
    return [units.to_display(float(each), "temperature", unit) for each in temps_k]


def _percent(share):
    return f"{100 * share:.0f} %"


def _names(job, each, which):
    return [winter_name(job, each, at) for at in which.nonzero()[0]]


def _temperature(job):
    return {
        "field": "temp",
        "type": "quantitative",
        "title": f"lowest of the winter, {job.unit_system.temperature}",
        "axis": {"tickCount": 6},
        "scale": {"zero": False, "nice": False, "padding": 14},
    }


def _tooltip():
    return [
        {"field": "winter", "type": "nominal"},
        {"field": "day", "type": "nominal"},
        {"field": "temp", "type": "quantitative", "format": ".1f"},
    ]


def _point(shape, color, *, filled=False, size=90):
    return {
        "type": "point",
        "shape": shape,
        "color": color,
        "filled": filled,
        "size": size,
        "strokeWidth": 2,
        "opacity": 1,
    }


def _text(*, align, dx=0, dy=0, bold=False):
    weight = {"fontWeight": "bold"} if bold else {}
    return {"type": "text", "align": align, "dx": dx, "dy": dy, "fontSize": 14} | weight


def _rule(values, encoding, start=None):
    if start is not None:
        encoding = encoding | {"x": encoding["x"] | {"field": start}}
    return {
        "data": {"values": values},
        "mark": {"type": "rule", "color": GREY, "strokeDash": [3, 3], "strokeWidth": 1.5},
        "encoding": encoding,
    }


def _whole(description, width, height, layers):
    return {
        "$schema": SCHEMA,
        "description": description,
        "width": width,
        "height": height,
        "config": config(),
        "layer": layers,
    }
