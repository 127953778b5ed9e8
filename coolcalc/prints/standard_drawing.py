"""The drawing on a standard sheet: floor, frost, limits and fill over one scale of strength.

Black and grey, as SVG that page and PDF show alike. Each stretch has a row and words of its own,
so that nothing is told by its shade alone.
"""

import html
import math

#: Width of the names of the rows, height of a row and of the axis, and size of the type. [mm]
_NAMES, _ROW, _AXIS, _TYPE = 34.0, 5.6, 10.0, 3.5
#: Free on the right, for the words beyond the end of the axis. [mm]
_RIGHT = 4.0
#: From the weakest that is drawn to the begin of the axis, at least. [% of product]
_BEFORE = 12.0
_BAR = 3.0

_FILLS = {"bounds": "#d9d9d9", "frost": "#a6a6a6", "leave": "#404040"}


def height_mm(rows):
    """Height of the drawing. [mm]."""
    return _ROW * len(rows) + _AXIS


def svg_of(rows, end, axis, width_mm):
    """Return the drawing as SVG text.

    Parameters
    ----------
    rows : list of dict
        As `coolcalc.charts.of_window.window_rows` gives them.
    end : float
        End of the axis. [% of product]
    axis : str
        What it is called.
    width_mm : float
    """
    least = min(row["share"] for row in rows if row["share"] is not None)
    begin = max(0.0, 10.0 * math.floor((least - _BEFORE) / 10.0))
    room = width_mm - _NAMES - _RIGHT

    def x(share):
        return _NAMES + room * (min(max(share, begin), end) - begin) / (end - begin)

    floor = _ROW * len(rows)
    marks = [
        _line(x(mark), 0.0, x(mark), floor + 1.0, "#bfbfbf", 0.15)
        + _words(x(mark), floor + 4.4, f"{mark:.0f} %", "middle")
        for mark in range(int(begin), int(end) + 1, 10)
    ]
    marks.append(_line(x(begin), floor, x(end), floor, "#000000", 0.3))
    marks.append(_words(x(begin) + room / 2, floor + 8.9, axis, "middle"))
    height = height_mm(rows)
    return (
        f"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 {width_mm:.2f} {height:.2f}' "
        f"width='{width_mm:.2f}mm' height='{height:.2f}mm' font-size='{_TYPE}'>"
        + "".join(marks)
        + "".join(_row(row, _ROW * at, x) for at, row in enumerate(rows))
        + "</svg>"
    )


def _row(row, top, x):
    base, middle = top + 0.5 * _ROW + 0.36 * _TYPE, top + 0.5 * _ROW
    parts = [_words(_NAMES - 2.0, base, row["row"], "end", bold=row["kind"] == "fill")]
    if row["kind"] == "fill":
        at = x(row["share"])
        parts.append(
            f"<path d='M{at - 2:.2f} {middle:.2f}L{at:.2f} {middle - 2:.2f}L{at + 2:.2f} "
            f"{middle:.2f}L{at:.2f} {middle + 2:.2f}Z' fill='#000000'/>"
        )
        # To the side on which a bar never begins: the axis ends far beyond most fills.
        parts.append(_words(at - 3.2, base, row["right"], "end", bold=True))
        return "".join(parts)
    if row["share"] is None:
        return parts[0] + _words(x(row["to"]), base, row["none"], "end")
    left, right = x(row["share"]), x(row["to"])
    parts.append(
        f"<rect x='{left:.2f}' y='{middle - _BAR / 2:.2f}' width='{right - left:.2f}' "
        f"height='{_BAR}' fill='{_FILLS[row['kind']]}' stroke='#000000' stroke-width='0.25'/>"
    )
    parts.append(_words(left - 1.2, base, row["left"], "end"))
    if row["right"]:
        parts.append(_words(right + 1.2, base, row["right"], "start"))
    return "".join(parts)


def _words(x, y, text, anchor, bold=False):
    weight = " font-weight='bold'" if bold else ""
    return (
        f"<text x='{x:.2f}' y='{y:.2f}' text-anchor='{anchor}' paint-order='stroke' "
        f"stroke='#ffffff' stroke-width='0.8'{weight}>{html.escape(text)}</text>"
    )


def _line(left, top, right, bottom, color, width):
    return (
        f"<path d='M{left:.2f} {top:.2f}L{right:.2f} {bottom:.2f}' stroke='{color}' "
        f"stroke-width='{width}' fill='none'/>"
    )
