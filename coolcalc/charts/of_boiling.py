"""The boiling point over altitude, with and without the cap."""

from .. import units
from .drawing import BLUE, GREY, SCHEMA, VERMILION, config


def boiling(job, width=520, height=300):
    """Draw the boiling point over the height above the sea, with the cap and without.

    Parameters
    ----------
    job : coolcalc.jobs.BoilMargin
    width, height : int
        Of the plot inside its axes. [px]

    Returns
    -------
    dict
        Vega-Lite specification.
    """
    unit, long = job.unit_system.temperature, job.unit_system.altitude
    curve = job.curve

    def degrees(temp_k):
        return units.to_display(float(temp_k), "temperature", unit)

    def metres(altitude_m):
        return units.to_display(float(altitude_m), "altitude", long)

    lines = [("without a cap", curve.open_k, job.open_k)]
    if job.cap_pa is not None:
        lines.append(("cap as marked", curve.marked_k, job.marked_k))
    if job.tested:
        lines.append(("what the cap holds", curve.held_k, job.held_k))
    names = [name for name, *_ in lines]
    styles = {
        "without a cap": (BLUE, [1, 0]),
        "cap as marked": (VERMILION, [7, 4]),
        "what the cap holds": (GREY, [2, 3]),
    }
    points = [
        {"altitude": metres(height_m), "temp": degrees(temp_k), "what": name}
        for name, line, _ in lines
        for height_m, temp_k in zip(curve.altitude_m, line, strict=True)
    ]
    here = [
        {
            "altitude": metres(job.altitude_m),
            "temp": degrees(span.value),
            "low": degrees(span.low),
            "high": degrees(span.high),
            "what": name,
        }
        for name, _, span in lines
    ]
    hot = []
    if job.hot_k is not None:
        words = f"{job.hot_name}, {job.temp_words(job.hot_k)}"
        hot = [{"temp": degrees(job.hot_k), "text": words}]
    x = {
        "field": "altitude",
        "type": "quantitative",
        "title": f"height above the sea, {long}",
        "axis": {"tickCount": 6},
        "scale": {"nice": False},
    }
    y = {
        "field": "temp",
        "type": "quantitative",
        "title": f"boiling point, {unit}",
        "axis": {"tickCount": 6},
        "scale": {"zero": False},
    }
    color, dash = (
        {
            "field": "what",
            "type": "nominal",
            "title": None,
            "scale": {"domain": names, "range": [styles[name][at] for name in names]},
            "legend": {"orient": "top", "title": None, "labelLimit": 260},
        }
        for at in (0, 1)
    )
    layers = [
        {
            "data": {"values": points},
            "mark": {"type": "line", "strokeWidth": 2.5},
            "encoding": {"x": x, "y": y, "color": color, "strokeDash": dash},
        },
        {
            "data": {"values": here},
            "mark": {"type": "rule", "strokeWidth": 6, "opacity": 0.35},
            "encoding": {
                "x": x,
                "y": y | {"field": "low"},
                "y2": {"field": "high"},
                "color": color | {"legend": None},
            },
        },
        {
            "data": {"values": here},
            "mark": {"type": "point", "filled": True, "size": 160, "opacity": 1},
            "encoding": {"x": x, "y": y, "color": color | {"legend": None}},
        },
    ]
    if hot:
        layers += [
            {
                "data": {"values": hot},
                "mark": {"type": "rule", "strokeDash": [7, 4], "color": GREY, "strokeWidth": 1.5},
                "encoding": {"y": y},
            },
            {
                "data": {"values": hot},
                "mark": {"type": "text", "align": "right", "dx": -6, "dy": -8, "fontSize": 14},
                "encoding": {"x": {"value": width}, "y": y, "text": {"field": "text"}},
            },
        ]
    told = [
        f"{name} {job.temp_words(span.value)}, band {job.temp_words(span.low)} to "
        f"{job.temp_words(span.high)}"
        for name, _, span in lines
    ]
    told += [each["text"] for each in hot]
    return {
        "$schema": SCHEMA,
        "description": (
            "Boiling point over the height above the sea; at "
            f"{job.altitude_words(job.altitude_m)}: {'; '.join(told)}."
        ),
        "width": width,
        "height": height,
        "config": config(),
        "layer": layers,
    }
