"""Figures as Vega-Lite specifications, and the SVG that pages and prints show.

A figure is data: a trainer can take it, change it, and show it live in JupyterLab.
"""

import numpy as np

from . import fluids, units
from .balance.composition import product_share_from_frac_mass
from .errors import InputError

#: Told apart in grey print and by colour-blind eyes: each with a shape of its own.
BLUE, VERMILION, GREY = "#0072B2", "#D55E00", "#595959"
FONT = "DejaVu Sans, Verdana, Arial, sans-serif"


def _config():
    return {
        "font": FONT,
        "axis": {"labelFontSize": 14, "titleFontSize": 15},
        "legend": {"labelFontSize": 15, "symbolSize": 180},
    }


def mixes(job, width=520, height=300):
    """Freezing curve with the mixes of an answer on it, and the target.

    Parameters
    ----------
    job : coolcalc.answers.Answer
        With ``chart_points`` (label and Mixture of each), ``chart_target`` (Mixture and words, or
        None), ``unit_system`` and ``product_word``.
    width, height : int
        Of the plot inside its axes. [px]

    Returns
    -------
    dict
        Vega-Lite specification.
    """
    unit = job.unit_system.temperature
    product = job.chart_points[0][1].product
    si = product.si()

    def point(label, mixture):
        """Return where a mix stands; stronger than 60 mass % it is a span, not a point."""
        known = mixture.frac_mass <= fluids.FRAC_MASS_SETTLED_MAX
        ends = (mixture.freeze_temp,) * 2 if known else mixture.freeze_band
        low, high = (units.to_display(end.m, "temperature", unit) for end in ends)
        return {
            "strength": 100 * mixture.strength().share,
            "temp": high,
            "low": low,
            "what": label,
            "words": f"{high:.0f} {unit}" if known else f"{low:.0f} to {high:.0f} {unit}",
            "known": known,
        }

    def curve_of(fracs, side):
        shares = product_share_from_frac_mass(si, fracs)
        temps = fluids.freeze_temp_k(product.fluid, fracs)
        return [
            {
                "strength": 100 * float(share),
                "temp": units.to_display(temp, "temperature", unit),
                "side": side,
            }
            for share, temp in zip(shares, temps, strict=True)
        ]

    curve = curve_of(np.linspace(0.0, fluids.FRAC_MASS_SETTLED_MAX, 61), "water")
    points = [point(*each) for each in job.chart_points]
    targets = []
    if job.chart_target is not None:
        wanted, words = job.chart_target
        targets = [{**point("target", wanted), "text": f"target, {words}"}]
    names = [each["what"] for each in points]
    end = curve[-1]["strength"]
    right = max(100.0 if _beyond(points, end) else 72.0, end + 4)
    melt_from = fluids.FLUIDS[product.fluid].melt_from
    if _beyond(points, end) and product.frac_mass > melt_from:
        curve += curve_of(np.linspace(melt_from, product.frac_mass, 21), "glycol")
    x = {
        "field": "strength",
        "type": "quantitative",
        "title": f"% of {job.product_word}, as on the can",
        "axis": {"tickCount": 8},
        "scale": {"domain": [0, right], "nice": False},
    }
    y = {
        "field": "temp",
        "type": "quantitative",
        "title": f"freezing point, {unit}",
        "axis": {"tickCount": 6},
    }
    beyond = [{"from": end, "to": right, "text": "nothing to count on"}]
    return {
        "$schema": "https://vega.github.io/schema/vega-lite/v5.json",
        "description": (
            "Freezing point over strength: "
            + "; ".join(
                f"{p['what']} {p['strength']:.0f} %, {p['words']}" for p in (*points, *targets)
            )
        ),
        "width": width,
        "height": height,
        "config": _config(),
        "layer": [
            {
                "data": {"values": beyond},
                "mark": {"type": "rect", "color": "#BBBBBB", "opacity": 0.35},
                "encoding": {
                    "x": {"field": "from", "type": "quantitative"},
                    "x2": {"field": "to"},
                },
            },
            {
                "data": {"values": beyond},
                "mark": {"type": "text", "align": "right", "dx": -6, "dy": 12, "fontSize": 14},
                "encoding": {
                    "x": {"field": "to", "type": "quantitative"},
                    "y": {"value": 0},
                    "text": {"field": "text"},
                },
            },
            {
                "data": {"values": curve},
                "mark": {"type": "line", "color": GREY, "strokeWidth": 2.5},
                "encoding": {
                    "x": x,
                    "y": y,
                    "strokeDash": {
                        "field": "side",
                        "scale": {"domain": ["water", "glycol"], "range": [[1, 0], [3, 4]]},
                        "legend": None,
                    },
                },
            },
            *(_target_layers(targets, y) if targets else ()),
            *_marks(points, x, y, names),
        ],
    }


def _target_layers(targets, y):
    """Return the layers of the target: a line across, and its words."""
    return [
        {
            "data": {"values": targets},
            "mark": {"type": "rule", "strokeDash": [7, 4], "color": GREY, "strokeWidth": 1.5},
            "encoding": {"y": y},
        },
        {
            "data": {"values": targets},
            "mark": {
                "type": "text",
                "align": "left",
                "baseline": "top",
                "dx": 6,
                "dy": 5,
                "fontSize": 15,
            },
            "encoding": {"x": {"value": 0}, "y": y, "text": {"field": "text"}},
        },
    ]


def _marks(points, x, y, names):
    """Return the layers of the mixes: points, and spans where there is nothing to count on.

    A layer without a mark has no name for a reader of the screen, so it is left out.
    """
    spans = [point for point in points if not point["known"]]
    known = [point for point in points if point["known"]]
    layers = [
        (
            spans,
            {"type": "rule", "strokeWidth": 7, "strokeCap": "round"},
            {"y": {"field": "low", "type": "quantitative"}, "y2": {"field": "temp"}},
        ),
        (
            known,
            {"type": "point", "filled": True, "size": 220, "opacity": 1},
            {"y": y, "shape": _by_name(names, "shape")},
        ),
    ]
    return [
        {
            "data": {"values": values},
            "mark": mark,
            "encoding": {"x": x, "color": _by_name(names, "color"), **encoding},
        }
        for values, mark, encoding in layers
        if values
    ]


def _beyond(points, end):
    # A point right of the settled curve needs the whole axis.
    return any(point["strength"] > end for point in points)


def _by_name(names, channel):
    ranges = {
        "color": [VERMILION, BLUE][-len(names) :],
        "shape": ["circle", "square"][-len(names) :],
    }
    return {
        "field": "what",
        "type": "nominal",
        "title": None,
        "scale": {"domain": names, "range": ranges[channel]},
        "legend": {"orient": "top", "title": None},
    }


#: Mass per cent of glycol left free above and below the readings of a history.
_ROOM = 5.0

#: More readings than these are not read out one by one.
_MOST_TOLD = 12


def history(history, width=520, height=300):
    """Strength of a vehicle's coolant over time, with a rule at each work.

    Parameters
    ----------
    history : coolcalc.record.History
    width, height : int
        Of the plot inside its axes. [px]

    Returns
    -------
    dict
        Vega-Lite specification.

    Raises
    ------
    InputError
        If there is no reading in it.
    """
    if not history.points:
        raise InputError(
            "history", history.vehicle, "there is no reading to draw; add one, or begin earlier."
        )
    points = [
        {
            "on": f"{point.on}",
            "strength": 100 * point.kept.frac_mass,
            "what": point.when,
            "words": f"freezes at {point.kept.freeze_words}",
            "stretch": point.stretch,
            "at": at,
        }
        for at, point in enumerate(history.points)
    ]
    names = [name for name in ("found", "after") if any(p["what"] == name for p in points)]
    works = [{"on": f"{on}", "text": "work"} for on in dict.fromkeys(history.works)]
    strengths = [point["strength"] for point in points]
    x = {
        "field": "on",
        "type": "temporal",
        "title": "date",
        # Days are not to move with the clock of whoever looks at them.
        "scale": {"type": "utc", "padding": 20},
        "axis": {"format": "%Y-%m-%d", "tickCount": 4, "labelOverlap": True},
    }
    y = {
        "field": "strength",
        "type": "quantitative",
        "title": "mass % of glycol",
        "axis": {"tickCount": 6},
        "scale": {
            "domain": [max(0.0, min(strengths) - _ROOM), min(100.0, max(strengths) + _ROOM)],
            "zero": False,
        },
    }
    return {
        "$schema": "https://vega.github.io/schema/vega-lite/v5.json",
        "description": _history_words(history, points, works),
        "width": width,
        "height": height,
        "config": _config(),
        "layer": [
            *(_work_layers(works, x) if works else ()),
            {
                "data": {"values": points},
                "mark": {"type": "line", "color": GREY, "strokeWidth": 1.5},
                "encoding": {
                    "x": x,
                    "y": y,
                    "detail": {"field": "stretch", "type": "nominal"},
                    "order": {"field": "at", "type": "quantitative"},
                },
            },
            {
                "data": {"values": points},
                "mark": {"type": "point", "filled": True, "size": 220, "opacity": 1},
                "encoding": {
                    "x": x,
                    "y": y,
                    "color": _by_name(names, "color"),
                    "shape": _by_name(names, "shape"),
                },
            },
            {
                "data": {"values": points[-1:]},
                "mark": {"type": "text", "align": "right", "dx": -12, "dy": -12, "fontSize": 14},
                "encoding": {"x": x, "y": y, "text": {"field": "words"}},
            },
        ],
    }


def _work_layers(works, x):
    """Return the layers of the works: a rule down, and its word."""
    return [
        {
            "data": {"values": works},
            "mark": {"type": "rule", "strokeDash": [7, 4], "color": GREY, "strokeWidth": 1.5},
            "encoding": {"x": x},
        },
        {
            "data": {"values": works},
            "mark": {"type": "text", "align": "left", "dx": 5, "dy": 10, "fontSize": 14},
            "encoding": {"x": x, "y": {"value": 0}, "text": {"field": "text"}},
        },
    ]


def _history_words(history, points, works):
    shown = points if len(points) <= _MOST_TOLD else [points[0], points[-1]]
    told = [f"{p['on']} {p['what']} {p['strength']:.0f} mass %, {p['words']}" for p in shown]
    if len(shown) < len(points):
        told.insert(1, f"{len(points) - 2} readings between")
    told += [f"work on {work['on']}" for work in works]
    return (
        f"Strength of {history.vehicle} over time: {'; '.join(told)}. {history.drift.sentences[0]}"
    )


def to_svg(spec):
    """Render a specification to SVG text; the first call in a process takes about a second."""
    import vl_convert

    return vl_convert.vegalite_to_svg(spec)


def to_png(spec, scale=1.0):
    """Render a specification to PNG bytes, for where an SVG is not shown.

    In 256 colours: an eighth of the size. With 64 some sources lose their colour.
    """
    import io

    import vl_convert
    from PIL import Image

    full = Image.open(io.BytesIO(vl_convert.vegalite_to_png(spec, scale=scale))).convert("RGB")
    small = io.BytesIO()
    full.quantize(256).save(small, format="PNG", optimize=True)
    return small.getvalue()


def to_image(spec):
    """Render a specification to an HTML image with its description.

    JupyterLab shows it before a run too, and drops the description of a bare PNG.
    """
    import base64
    import html

    text = base64.b64encode(to_png(spec)).decode("ascii")
    words = html.escape(spec["description"], quote=True)
    return f'<img alt="{words}" src="data:image/png;base64,{text}">'
