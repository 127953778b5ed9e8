"""The filler label as HTML and as PDF, one page."""

import html

from .label_content import EDGE_MM, INSET_MM, LABELS, refuse_too_long
from .markup import (
    BOLD,
    LINE_HEIGHT,
    PT_PER_MM,
    SPARE_MM,
    document,
    escaped,
    figure_pt,
    line,
    line_mm,
    style,
    text_mm,
    width_of,
)
from .typesetting import one_page

#: Beside the words of a figure, on both sides together. [mm]
FIGURE_INSET_MM = 2.4
#: Above and below in the frame, with its lines. [mm]
FRAME_MM = 2.6


def html_of(content):
    """Return the document of a label, in the largest type that is sure to be one page.

    A browser prints with the type that it finds, so the height is reckoned for a wide one.

    Parameters
    ----------
    content : coolcalc.prints.label_content.LabelContent

    Raises
    ------
    InputError
        If the label does not fit.
    """
    for sizes in content.sizes:
        if _height_mm(content, sizes) <= content.room_mm[1] - SPARE_MM:
            return _document(content, sizes)
    return refuse_too_long("; or save it as .pdf, which is set closer")


def pdf_of(content):
    """Return the PDF of a label: the largest type in which it is one page.

    Parameters
    ----------
    content : coolcalc.prints.label_content.LabelContent

    Raises
    ------
    InputError
        If typst is not installed, a letter is not in its type, or the label does not fit.
    """
    trials = (_data(content, sizes) for sizes in content.sizes)
    return one_page("label", content.on, trials) or refuse_too_long()


def _data(content, sizes):
    return {
        "title": content.title,
        "page_mm": LABELS[content.size],
        "edge_mm": EDGE_MM,
        "inset_mm": INSET_MM,
        "sizes": {name: getattr(sizes, name) for name in _LENGTHS},
        "glycol": content.glycol,
        "since": content.since,
        "product": content.product,
        "figures": content.figures,
        "never_open": content.never_open,
        "lines": content.lines,
        "who": content.who,
    }


#: Lengths of `LabelSizes`, and their units.
_LENGTHS = {"text": "pt", "title": "pt", "figure": "pt", "small": "pt", "line": "mm", "gap": "mm"}


def _figure_pt(content, sizes):
    column = content.room_mm[0] / len(content.figures) - FIGURE_INSET_MM
    return figure_pt((figure.text for figure in content.figures), sizes.figure, column)


def _height_mm(content, sizes):
    width = content.room_mm[0]
    column = width / len(content.figures) - FIGURE_INSET_MM
    figure = _figure_pt(content, sizes)
    beside = sizes.title * width_of(content.glycol) + sizes.text * (1.0 + width_of(content.since))
    head = 1 if beside * BOLD <= width * PT_PER_MM else 2
    blocks = [
        head * LINE_HEIGHT * sizes.title / PT_PER_MM + text_mm(content.product, sizes.text, width),
        max(
            text_mm(each.text, figure, 2 * width)
            + text_mm(each.name, sizes.text, column, BOLD)
            + text_mm(each.rests_on, sizes.small, column)
            for each in content.figures
        ),
        text_mm(" ".join(content.never_open), sizes.text, width - 5.0, BOLD) + FRAME_MM,
        text_mm(content.lines[0], sizes.text, width, BOLD),
        *(text_mm(text, sizes.text, width) for text in content.lines[1:]),
        sum(line_mm(fields, sizes, width, BOLD) for fields in content.who),
    ]
    return sum(blocks) + sizes.gap * len(blocks)


def _document(content, sizes):
    first, rest = content.never_open
    top_up, *others = content.lines
    body = (
        f"<div><div class='head'><h1>{html.escape(content.glycol)}</h1><b>{content.since}</b></div>"
        f"<p>{html.escape(content.product)}</p></div>",
        f"<div class='figures'>{''.join(map(_figure, content.figures))}</div>",
        f"<p class='never'><b>{html.escape(first)}</b> {html.escape(rest)}</p>",
        f"<p><b>{escaped(top_up)}</b></p>",
        *(f"<p>{escaped(text)}</p>" for text in others),
        f"<div>{''.join(map(line, content.who))}</div>",
    )
    width, height = LABELS[content.size]
    lengths = {name: f"{getattr(sizes, name):g}{unit}" for name, unit in _LENGTHS.items()}
    lengths |= {
        "figure": f"{_figure_pt(content, sizes):.1f}pt",
        "width": f"{width - 2 * EDGE_MM:g}mm",
        "height": f"{height - 2 * EDGE_MM - SPARE_MM / 2:g}mm",
        "inset": f"{INSET_MM:g}mm",
    }
    page = f"{width:g}mm {height:g}mm"
    return document(content.title, style("label", page, EDGE_MM, lengths), body)


def _figure(figure):
    return (
        f"<div><p class='figure'>{escaped(figure.text)}</p><p><b>{escaped(figure.name)}</b></p>"
        f"<p class='small'>{escaped(figure.rests_on)}</p></div>"
    )
