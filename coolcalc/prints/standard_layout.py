"""A frost standard's sheet as HTML and as PDF, one page."""

import html

from .content import MARGIN_MM
from .markup import (
    BOLD,
    FRAME_MM,
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
)
from .pdf import PAPER_NAMES
from .standard_content import VALID, refuse_too_long
from .standard_drawing import height_mm, svg_of
from .typesetting import one_page

#: Lengths of `SheetSizes`, and their units.
_LENGTHS = {
    **{"text": "pt", "title": "pt", "figure": "pt", "large": "pt", "small": "pt"},
    **{"line": "mm", "gap": "mm"},
}

#: Between the two tables, and beside a figure. [mm]
_GUTTER_MM, _INSET_MM = 6.0, 4.0
#: Shares of the width: of the tables, and of the columns in each. [-]
_SIDES = (0.46, 0.54)
_STACK = (0.56, 0.24, 0.20)
_ROWS = (0.42, 0.58)
#: Above and below the words of a row, over its type. [-]
_PADDING = 0.26

#: The first row of the stack is a sum, over two columns: their widths are told apart from it.
_COLUMNS = "<colgroup><col><col><col></colgroup>"

STACK = "The margins, one by one"
ROWS = "What it rests on"
QUESTIONS = "Not known yet"
CAUTIONS = "Cautions"


def pdf_of(content):
    """Return the PDF of a sheet: the largest type in which it is one page.

    Parameters
    ----------
    content : coolcalc.prints.standard_content.StandardContent

    Raises
    ------
    InputError
        If typst is not installed, a letter is not in its type, or the sheet does not fit.
    """
    trials = (_data(content, *trial) for trial in content.trials)
    return one_page("sheet", content.on, trials) or refuse_too_long()


def _drawing(content):
    return svg_of(*content.drawn, content.axis, content.width_mm)


def _data(content, questions, small, drawn, sizes):
    return {
        "title": content.title,
        "paper": PAPER_NAMES[content.paper],
        "margin_mm": MARGIN_MM,
        "sizes": {name: getattr(sizes, name) for name in _LENGTHS},
        "trial": content.trial,
        "who": content.who,
        "figures": content.figures,
        "alerts": content.alerts,
        "doing": content.doing,
        "drawing": _drawing(content) if drawn else "",
        "drawing_words": content.drawing_words,
        "stack": content.stack,
        "rows": content.rows,
        "questions": questions,
        "cautions": content.cautions,
        "valid": VALID,
        "blanks": content.blanks,
        "small": small,
        "headings": {"stack": STACK, "rows": ROWS, "questions": QUESTIONS, "cautions": CAUTIONS},
    }


def html_of(content):
    """Return the document of a sheet, in the largest type that is sure to be one page.

    A browser prints with the type that it finds, so the height is reckoned for a wide one.

    Parameters
    ----------
    content : coolcalc.prints.standard_content.StandardContent

    Raises
    ------
    InputError
        If the sheet does not fit.
    """
    for trial in content.trials:
        if _height_mm(content, *trial) <= content.room_mm - SPARE_MM:
            return _document(content, *trial)
    return refuse_too_long("; or save it as .pdf, which is set closer")


# -- height --------------------------------------------------------------------------------


def _figure_pt(content, sizes):
    column = content.width_mm / len(content.figures) - _INSET_MM
    return figure_pt((figure.text for figure in content.figures), sizes.figure, column)


def _height_mm(content, questions, small, drawn, sizes):
    width = content.width_mm
    inside = width - 6.0
    left, right = (share * (width - _GUTTER_MM) for share in _SIDES)
    column = width / len(content.figures) - _INSET_MM
    row = LINE_HEIGHT * sizes.text / PT_PER_MM
    figure = _figure_pt(content, sizes)

    def table_mm(rows, shares, side):
        """Height of a table, of whose rows the cells and how wide their type is are told."""
        heights = (
            max(
                text_mm(words, sizes.text, share * side - 1.0, bold)
                for words, share, bold in zip(cells, shares, bolds, strict=True)
            )
            for cells, bolds in rows
        )
        return 1.2 * row + sum(each + _PADDING * row for each in heights)

    stack = [(each[:3], [BOLD if each.is_sum else 1.0] * 3) for each in content.stack]
    rows = [(each, (1.0, BOLD)) for each in content.rows]
    blocks = [
        text_mm(content.title, sizes.title, width, BOLD),
        sum(line_mm(fields, sizes, width, BOLD) for fields in content.who),
        max(
            text_mm(each.name, sizes.large, column, BOLD)
            + text_mm(each.text, figure, 2 * width)
            + text_mm(each.means, sizes.text, column, BOLD)
            for each in content.figures
        )
        + FRAME_MM,
        sum(text_mm(text, sizes.large, width - 4.0) + 0.3 * row for text in content.doing),
        height_mm(content.drawn[0]) if drawn else 0.0,
        max(
            table_mm(stack, _STACK, left),
            table_mm(rows, _ROWS, right),
        ),
        row + FRAME_MM + sum(text_mm(each, sizes.text, inside) for each in content.cautions),
        row + sum(line_mm(fields, sizes, width) for fields in content.blanks),
        sum(text_mm(f"{label}: {text}", sizes.small, width) for label, text in small),
    ]
    blocks += [text_mm(each, sizes.text, inside, BOLD) + FRAME_MM for each in content.alerts]
    if content.trial:
        blocks.append(text_mm(content.trial, sizes.large, inside, BOLD) + FRAME_MM)
    if questions:
        blocks.append(row + sum(text_mm(each, sizes.text, inside) for each in questions))
    return sum(blocks) + sizes.gap * len(blocks)


# -- document ------------------------------------------------------------------------------


def _document(content, questions, small, drawn, sizes):
    body = (
        f"<h1>{html.escape(content.title)}</h1>",
        *([_framed("trial", content.trial)] if content.trial else []),
        f"<div>{''.join(map(line, content.who))}</div>",
        f"<div class='figures'>{''.join(map(_figure, content.figures))}</div>",
        *(_framed("alert", each) for each in content.alerts),
        f"<ul class='doing'>{_items(content.doing)}</ul>",
        *([_image(content)] if drawn else []),
        "<div class='tables'>"
        f"<div><h2>{STACK}</h2><table class='stack'>{_COLUMNS}<tbody>"
        f"{''.join(map(_stack_row, content.stack))}</tbody></table></div>"
        f"<div><h2>{ROWS}</h2><table><tbody>{''.join(map(_row, content.rows))}</tbody></table>"
        "</div></div>",
        *([f"<div><h2>{QUESTIONS}</h2><ul>{_items(questions)}</ul></div>"] if questions else []),
        f"<div class='cautions'><h2>{CAUTIONS}</h2><ul>{_items(content.cautions)}</ul></div>",
        f"<div><b>{VALID}</b>{''.join(map(line, content.blanks))}</div>",
        f"<div class='small'>{''.join(_paragraph(*each) for each in small)}</div>",
    )
    lengths = {name: f"{getattr(sizes, name):g}{unit}" for name, unit in _LENGTHS.items()}
    lengths |= {
        "figure": f"{_figure_pt(content, sizes):.1f}pt",
        "width": f"{content.width_mm:g}mm",
    }
    return document(content.title, style("sheet", content.paper, MARGIN_MM, lengths), body)


def _image(content):
    """Return the drawing and what it says; in a page it needs no name space."""
    drawing = _drawing(content).replace(" xmlns='http://www.w3.org/2000/svg'", "")
    words = html.escape(content.drawing_words, quote=True)
    return f"<div class='drawing' role='img' aria-label=\"{words}\">{drawing}</div>"


def _framed(name, text):
    return f"<p class='{name}'>{escaped(text)}</p>"


def _figure(figure):
    return (
        f"<div><p class='name'>{escaped(figure.name)}</p>"
        f"<p class='figure'>{escaped(figure.text)}</p><p><b>{escaped(figure.means)}</b></p></div>"
    )


def _stack_row(row):
    words, takes, ends = map(escaped, row[:3])
    if row.is_sum:
        return f"<tr class='sum'><th scope='row' colspan='2'>{words}</th><td>{ends}</td></tr>"
    return f"<tr><th scope='row'>{words}</th><td>{takes}</td><td></td></tr>"


def _row(row):
    label, text = map(escaped, row)
    return f"<tr><th scope='row'>{label}</th><td>{text}</td></tr>"


def _items(texts):
    return "".join(f"<li>{escaped(text)}</li>" for text in texts)


def _paragraph(label, text):
    return f"<p>{escaped(label)}: {escaped(text)}</p>"
