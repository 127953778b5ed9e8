"""The job card as an HTML document that prints on one page."""

import html
import importlib.resources
import re

from .content import HEADING, MARGIN_MM, PAPERS, SIZES, refuse_too_long

#: Widths of letters over their size, of the widest sans-serif type that is common. [-]
WIDTHS = (
    (" ,.:;'|/\\-Iijlf", 0.34),
    ("()[]!rt", 0.41),
    ("ABCDEFGHKLNOPQRSTUVXYZ&ÄÖÜ", 0.73),
    ("#%+<=>@^~−…MWmw", 0.96),
)
WIDTH = {letter: width for letters, width in WIDTHS for letter in letters}
#: Of other letters: of alphabets, and of scripts that fill a square; and how much wider bold is.
ALPHABET, SQUARE, BOLD = 0.62, 1.0, 1.14
LINE_HEIGHT = 1.2
#: Above and below in a frame, with its lines. [mm]
FRAME_MM = 3.4
#: Before a step, for its number, over the size of the type. [-]
INDENT = 2.0
PT_PER_MM = 72 / 25.4
#: Left free, for type that is wider than was reckoned with. [mm]
SPARE_MM = 1.0


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


def _width(word):
    return sum(WIDTH.get(each, ALPHABET if each < "\u2e80" else SQUARE) for each in word)


def _lines(text, room):
    """Count the lines of text that is wrapped in so many times its size."""
    lines, used = 1, 0.0
    for word in text.split():
        width = _width(word)
        if used > 0.0 and used + width > room:
            lines, used = lines + 1, 0.0
        lines += int(width // room)
        used += width % room + WIDTH[" "]
    return lines


def _text_mm(text, size, width_mm, bold=1.0):
    """Height of text of a size [pt] that is wrapped in a width. [mm]."""
    return _lines(text, width_mm * PT_PER_MM / (size * bold)) * LINE_HEIGHT * size / PT_PER_MM


def _height_mm(content, sizes, details):
    width = PAPERS[content.paper][0] - 2 * MARGIN_MM
    row = LINE_HEIGHT * sizes.text / PT_PER_MM
    inside = width - 8.0
    beside = width - INDENT * sizes.steps / PT_PER_MM

    def rows_mm(rows):
        cell = (width - 6.0) / 4
        return sum(
            max(_text_mm(text, sizes.text, cell, BOLD) for text in pair) + 0.3 * row
            for pair in rows
        )

    def line_mm(fields):
        place = (width - 4.0 * (len(fields) - 1)) / len(fields)
        words = max(_text_mm(f"{label} {known}", sizes.text, place) for label, known in fields)
        return max(sizes.line, words) + 1.0

    blocks = [
        _text_mm(f"{HEADING}: {content.title}", sizes.steps, width),
        sum(map(line_mm, content.who)),
        max(map(rows_mm, _halves(content.rows))),
        *(_text_mm(note, sizes.text, inside, BOLD) + FRAME_MM for note in content.notes),
        sum(
            _text_mm("".join(words for words, _ in step), sizes.steps, beside)
            + 0.25 * sizes.steps / PT_PER_MM
            for step in content.steps
        ),
        row + FRAME_MM + sum(_text_mm(caution, sizes.text, inside) for caution in content.cautions),
        row + sum(map(line_mm, content.blanks)),
        sum(_text_mm(text, sizes.small, width) for text in _details(details)),
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
        f"<div>{''.join(map(_line, content.who))}</div>",
        f"<div class='figures'>{''.join(map(_table, _halves(content.rows)))}</div>",
        *(f"<p class='note'>{_escaped(note)}</p>" for note in content.notes),
        f"<ol>{''.join(map(_step, content.steps))}</ol>",
        f"<div class='cautions'><h2>Cautions</h2><ul>{_items(content.cautions)}</ul></div>",
        f"<div><h2>To fill in</h2>{''.join(map(_line, content.blanks))}</div>",
        f"<div class='small'>{_paragraphs(_details(details))}</div>",
    )
    return (
        "<!DOCTYPE html>\n<html lang='en'>\n<head>\n<meta charset='utf-8'>\n"
        f"<title>{HEADING}: {html.escape(content.title)}</title>\n"
        f"<style>\n{_style(content.paper, sizes)}</style>\n</head>\n<body>\n"
        + "\n".join(body)
        + "\n</body>\n</html>\n"
    )


def _style(paper, sizes):
    css = (importlib.resources.files(__package__) / "card.css").read_text(encoding="utf-8")
    width = PAPERS[paper][0] - 2 * MARGIN_MM
    return (
        f"@page {{ size: {paper}; margin: {MARGIN_MM:g}mm; }}\n"
        f":root {{ --width: {width:g}mm; --margin: {MARGIN_MM:g}mm; --steps: {sizes.steps:g}pt; "
        f"--text: {sizes.text:g}pt; --small: {sizes.small:g}pt; --line: {sizes.line:g}mm; "
        f"--gap: {sizes.gap:g}mm; }}\n{css}"
    )


# A number stays on one line with its unit.
_NUMBER = re.compile(r"[−\d.]+ (?:°\w+|%|K\b|L\b|US qt|imp pt|kg/L)")


def _escaped(text):
    return _NUMBER.sub(r"<span class='unit'>\g<0></span>", html.escape(text))


def _line(fields):
    return f"<div class='line'>{''.join(map(_field, fields))}</div>"


def _field(field):
    label, known = field
    return f"<div class='field'><span>{label}</span> <b>{html.escape(known)}</b></div>"


def _table(rows):
    return f"<table><tbody>{''.join(map(_row, rows))}</tbody></table>" if rows else ""


def _row(row):
    label, text = map(_escaped, row)
    return f"<tr><th scope='row'>{label}</th><td>{text}</td></tr>"


def _step(pieces):
    words = (
        f"<strong>{html.escape(text)}</strong>" if is_volume else _escaped(text)
        for text, is_volume in pieces
    )
    return f"<li>{''.join(words)}</li>"


def _items(texts):
    return "".join(f"<li>{_escaped(text)}</li>" for text in texts)


def _paragraphs(texts):
    return "".join(f"<p>{_escaped(text)}</p>" for text in texts)
