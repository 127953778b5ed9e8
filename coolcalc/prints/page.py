"""The job card as an HTML document that prints on one page."""

import html

from .content import HEADING, MARGIN_MM, PAPERS, SIZES, refuse_too_long
from .markup import (
    BOLD,
    FRAME_MM,
    LINE_HEIGHT,
    PT_PER_MM,
    SPARE_MM,
    document,
    escaped,
    line,
    line_mm,
    style,
    text_mm,
)

#: Before a step, for its number, over the size of the type. [-]
INDENT = 2.0


def html_of(content):
    """Return the document of a card, in the largest type that is sure to be one page.

    A browser prints with the type that it finds, so the height is reckoned for a wide one.

    Parameters
    ----------
    content : coolcalc.prints.content.Content

    Raises
    ------
    InputError
        If the card does not fit.
    """
    room = PAPERS[content.paper][1] - 2 * MARGIN_MM - SPARE_MM
    for details in content.details:
        for sizes in SIZES:
            if _height_mm(content, sizes, details) <= room:
                return _document(content, sizes, details)
    return refuse_too_long("; or save it as .pdf, which is set closer")


# -- height --------------------------------------------------------------------------------


def _height_mm(content, sizes, details):
    width = PAPERS[content.paper][0] - 2 * MARGIN_MM
    row = LINE_HEIGHT * sizes.text / PT_PER_MM
    inside = width - 8.0
    beside = width - INDENT * sizes.steps / PT_PER_MM

    def rows_mm(rows):
        cell = (width - 6.0) / 4
        return sum(
            max(text_mm(text, sizes.text, cell, BOLD) for text in pair) + 0.3 * row for pair in rows
        )

    blocks = [
        text_mm(f"{HEADING}: {content.title}", sizes.steps, width),
        sum(line_mm(fields, sizes, width) for fields in content.who),
        max(map(rows_mm, _halves(content.rows))),
        *(text_mm(note, sizes.text, inside, BOLD) + FRAME_MM for note in content.notes),
        sum(
            text_mm("".join(words for words, _ in step), sizes.steps, beside)
            + 0.25 * sizes.steps / PT_PER_MM
            for step in content.steps
        ),
        row + FRAME_MM + sum(text_mm(caution, sizes.text, inside) for caution in content.cautions),
        row + sum(line_mm(fields, sizes, width) for fields in content.blanks),
        sum(text_mm(text, sizes.small, width) for text in _details(details)),
    ]
    return sum(blocks) + sizes.gap * len(blocks)


def _halves(rows):
    middle = (len(rows) + 1) // 2
    return rows[:middle], rows[middle:]


def _details(details):
    return tuple(f"{label}: {text}" for label, text in details)


# -- document ------------------------------------------------------------------------------


def _document(content, sizes, details):
    body = (
        f"<h1>{HEADING}: {html.escape(content.title)}</h1>",
        f"<div>{''.join(map(line, content.who))}</div>",
        f"<div class='figures'>{''.join(map(_table, _halves(content.rows)))}</div>",
        *(f"<p class='note'>{escaped(note)}</p>" for note in content.notes),
        f"<ol>{''.join(map(_step, content.steps))}</ol>",
        f"<div class='cautions'><h2>Cautions</h2><ul>{_items(content.cautions)}</ul></div>",
        f"<div><h2>To fill in</h2>{''.join(map(line, content.blanks))}</div>",
        f"<div class='small'>{_paragraphs(_details(details))}</div>",
    )
    lengths = {
        "width": f"{PAPERS[content.paper][0] - 2 * MARGIN_MM:g}mm",
        "steps": f"{sizes.steps:g}pt",
        "text": f"{sizes.text:g}pt",
        "small": f"{sizes.small:g}pt",
        "line": f"{sizes.line:g}mm",
        "gap": f"{sizes.gap:g}mm",
    }
    title = f"{HEADING}: {content.title}"
    return document(title, style("card", content.paper, MARGIN_MM, lengths), body)


def _table(rows):
    return f"<table><tbody>{''.join(map(_row, rows))}</tbody></table>" if rows else ""


def _row(row):
    label, text = map(escaped, row)
    return f"<tr><th scope='row'>{label}</th><td>{text}</td></tr>"


def _step(pieces):
    words = (
        f"<strong>{html.escape(text)}</strong>" if is_volume else escaped(text)
        for text, is_volume in pieces
    )
    return f"<li>{''.join(words)}</li>"


def _items(texts):
    return "".join(f"<li>{escaped(text)}</li>" for text in texts)


def _paragraphs(texts):
    return "".join(f"<p>{escaped(text)}</p>" for text in texts)
