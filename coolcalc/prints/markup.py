"""What prints as HTML share: the heights of their type, the fields to fill in, the document."""

import html
import importlib.resources
import re

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
#: Between fields that stand side by side. [mm]
FIELD_GAP_MM = 4.0
PT_PER_MM = 72 / 25.4
#: Left free, for type that is wider than was reckoned with. [mm]
SPARE_MM = 1.0


# -- height --------------------------------------------------------------------------------


def width_of(text):
    """Return the width of text on one line over the size of its type. [-]."""
    return sum(WIDTH.get(each, ALPHABET if each < "\u2e80" else SQUARE) for each in text)


def _lines(text, room):
    """Count the lines of text that is wrapped in so many times its size."""
    lines, used = 1, 0.0
    for word in text.split():
        width = width_of(word)
        if used > 0.0 and used + width > room:
            lines, used = lines + 1, 0.0
        lines += int(width // room)
        used += width % room + WIDTH[" "]
    return lines


def text_mm(text, size, width_mm, bold=1.0):
    """Height of text of a size [pt] that is wrapped in a width. [mm]."""
    return _lines(text, width_mm * PT_PER_MM / (size * bold)) * LINE_HEIGHT * size / PT_PER_MM


def line_mm(fields, sizes, width_mm, bold=1.0):
    """Height of a line of fields, label and what is known of each, in a width. [mm]."""
    place = (width_mm - FIELD_GAP_MM * (len(fields) - 1)) / len(fields)
    words = max(text_mm(f"{label} {known}", sizes.text, place, bold) for label, known in fields)
    return max(sizes.line, words) + 1.0


# -- document ------------------------------------------------------------------------------

# A number stays on one line with its unit.
_NUMBER = re.compile(r"[−\d.]+ (?:°\w+|%|K\b|L\b|US qt|imp pt|kg/L)")


def figure_pt(texts, most_pt, column_mm):
    """Return the type of large figures in which the widest stays on one line. [pt].

    Parameters
    ----------
    texts : iterable of str
    most_pt : float
        [pt]
    column_mm : float
        Width that each has. [mm]
    """
    widest = max(map(width_of, texts))
    return min(most_pt, column_mm * PT_PER_MM / (widest * BOLD))


def escaped(text):
    """Return text as markup."""
    return _NUMBER.sub(r"<span class='unit'>\g<0></span>", html.escape(text))


def line(fields):
    """Return a line of fields: label, and what is known or a line to write on."""
    return f"<div class='line'>{''.join(map(_field, fields))}</div>"


def _field(field):
    label, known = field
    return f"<div class='field'><span>{label}</span> <b>{html.escape(known)}</b></div>"


def document(title, style, body):
    """Return a complete document: its title as text, its style sheet, its blocks as markup."""
    return (
        "<!DOCTYPE html>\n<html lang='en'>\n<head>\n<meta charset='utf-8'>\n"
        f"<title>{html.escape(title)}</title>\n"
        f"<style>\n{style}</style>\n</head>\n<body>\n" + "\n".join(body) + "\n</body>\n</html>\n"
    )


def style(kind, page, margin_mm, lengths):
    """Return the style sheet of a print.

    Parameters
    ----------
    kind : str
        "card" or "label": names what stands in it beside what all prints share.
    page : str
        Size of the page, as CSS writes it.
    margin_mm : float
    lengths : dict of str to str
        What the sheet calls them, and lengths with their units.
    """
    files = importlib.resources.files(__package__)
    sheets = [(files / name).read_text(encoding="utf-8") for name in ("paper.css", f"{kind}.css")]
    named = lengths | {"margin": f"{margin_mm:g}mm"}
    declared = " ".join(f"--{name}: {length};" for name, length in named.items())
    return (
        f"@page {{ size: {page}; margin: {margin_mm:g}mm; }}\n:root {{ {declared} }}\n"
        + "".join(sheets)
    )
