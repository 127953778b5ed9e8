"""The stack of margins of a frost standard, from the low of the station to what to fill to."""

from .. import fluids, units
from ..jobs.frost_plan import SQUARED
from ..jobs.frost_stack import stack_of, tenths
from .drawing import BLUE, GREY, SCHEMA, VERMILION, config

#: Height of a row. [px]
_ROW = 27

#: Kinds of rows in the stack of margins: filling, outline, and dashes of the outline.
_KINDS = {
    "margin": (BLUE, BLUE, [1, 0]),
    "doubt": ("#8fc1e3", BLUE, [1, 0]),
    "filling": ("#f3c19b", VERMILION, [1, 0]),
    "off": ("#ffffff", GREY, [4, 3]),
}
_KIND_WORDS = {
    "margin": "site, route, margin",
    "doubt": "doubts: shares of the squares",
    "filling": "filling and topping up",
    "off": "switched off: not counted",
}


def margins_chart(job, width=420):
    """Draw the stack of margins, step by step, from the low to what to fill to.

    Parameters
    ----------
    job : coolcalc.jobs.frost_answer.FrostStandard
    width : int
        Of the plot inside its axes. [px]

    Returns
    -------
    dict
        Vega-Lite specification.
    """
    unit, degree = job.unit_system.temperature, job.unit_system.temperature_difference
    steps = stack_of(job)
    fills_k = float(fluids.freeze_temp_k(job.product.fluid, job.standard.fill))
    rows = [_margin_row(job, at, step, degree) for at, step in enumerate(steps)]
    fill = {
        "row": f"{len(rows):02d} Filled: {job.strength_words(job.fill)}",
        "begin": units.to_display(fills_k, "temperature", unit),
        "text": f"{job.temp_words(fills_k, 1)}, {job.decides} decides",
    }
    bars = [row for row in rows if "kind" in row]
    sums = [row for row in rows if "kind" not in row]
    kinds = [kind for kind in _KINDS if any(row["kind"] == kind for row in bars)]
    order = [row["row"] for row in rows] + [fill["row"]]
    ends = [value for row in rows for value in (row["begin"], row["end"])] + [fill["begin"]]
    # Words stand on the warm side of what they name; beyond the warmest is room for them.
    room = 0.62 * (max(ends) - min(ends)) + 1.0
    domain = [min(ends) - 0.05 * room, max(ends) + room]
    x = {
        "field": "begin",
        "type": "quantitative",
        "title": f"air or freezing point, {unit}",
        "scale": {"domain": domain, "nice": False, "zero": False},
        "axis": {"tickCount": 7},
    }
    y = {
        "field": "row",
        "type": "nominal",
        "title": None,
        "sort": None,
        "scale": {"domain": order},
        "axis": {"labelExpr": "slice(datum.label, 3)", "labelLimit": 300, "ticks": False},
    }

    def by_kind(at):
        return {
            "field": "kind",
            "type": "nominal",
            "scale": {"domain": kinds, "range": [_KINDS[kind][at] for kind in kinds]},
            "legend": None,
        }

    legend = {
        "orient": "top",
        "columns": 2,
        "title": None,
        "labelLimit": 300,
        "symbolType": "square",
        "labelExpr": _switch({kind: _KIND_WORDS[kind] for kind in kinds}),
    }
    text = {"type": "text", "align": "left", "fontSize": 14}
    layers = [
        {
            "data": {"values": bars},
            "mark": {"type": "bar", "height": 17, "strokeWidth": 1.5},
            "encoding": {
                "x": x,
                "x2": {"field": "end"},
                "y": y,
                "fill": by_kind(0) | {"legend": legend},
                "stroke": by_kind(1),
                "strokeDash": by_kind(2),
            },
        },
        {
            "data": {"values": bars},
            "mark": text | {"dx": 7},
            "encoding": {"x": x | {"field": "warm"}, "y": y, "text": {"field": "text"}},
        },
        {
            "data": {"values": sums},
            "mark": {"type": "tick", "thickness": 4, "size": 22, "color": "#000000"},
            "encoding": {"x": x, "y": y},
        },
        {
            "data": {"values": sums},
            "mark": text | {"dx": 7, "fontWeight": "bold"},
            "encoding": {"x": x, "y": y, "text": {"field": "text"}},
        },
        {
            "data": {"values": [fill]},
            "mark": {
                "type": "point",
                "shape": "diamond",
                "filled": True,
                "size": 220,
                "color": VERMILION,
                "opacity": 1,
            },
            "encoding": {"x": x, "y": y},
        },
        {
            "data": {"values": [fill]},
            "mark": text | {"dx": 11, "fontWeight": "bold"},
            "encoding": {"x": x, "y": y, "text": {"field": "text"}},
        },
    ]
    told = "; ".join(f"{step.words} {row['text']}" for step, row in zip(steps, rows, strict=True))
    return {
        "$schema": SCHEMA,
        "description": f"The stack of margins: {told}; {fill['row'][3:]}, {fill['text']}.",
        "width": width,
        "height": _ROW * len(order),
        "config": config() | {"axisY": {"labelFontSize": 14}},
        "layer": layers,
    }


def _margin_row(job, at, step, degree):
    row = {"row": f"{at:02d} {step.words}", "begin": step.begin, "end": step.end}
    if step.is_sum:
        return row | {"text": f"{tenths(step.end)} {job.unit_system.temperature}"}
    alone = job.difference_words(step.alone_k, 1)
    takes = f"{tenths(step.takes)} {degree}"
    if not step.counted:
        # Hollow, and beside the stack: what it would have been.
        end = step.begin - units.to_display(step.alone_k, "temperature difference", degree)
        warm = max(step.begin, end)
        return row | {"end": end, "warm": warm, "kind": "off", "text": f"off (would be {alone})"}
    kind = "doubt" if step.name in SQUARED else "margin"
    kind = "filling" if step.name in ("top-ups", "mixing") else kind
    text = f"{takes} (alone {alone})" if kind == "doubt" else takes
    return row | {"warm": max(step.begin, step.end), "kind": kind, "text": text}


def _switch(words):
    """Return an expression of Vega that says a label in other words."""
    said = "datum.label"
    for label, text in words.items():
        said = f"datum.label === '{label}' ? '{text}' : {said}"
    return said
