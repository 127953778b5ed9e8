"""Base of every answer: steps, rows, text, HTML, DataFrame, working.

A job's answer fills in the parts; this file is the only one that lays them out. Rows and steps
arrive as finished text from a plan that has been rounded already.
"""

import html
import re
from typing import Any, NamedTuple

from .sources import SOURCES

#: A volume or mass to measure out stands out in the steps.
VOLUME = re.compile(r"\d+(?:\.\d+)? (?:L|US qt|imp pt|kg|lb)\b")


def _strong(match):
    return f"<strong>{match[0]}</strong>"


class Row(NamedTuple):
    """One figure of an answer, as printed."""

    label: str
    text: str


class Line(NamedTuple):
    """One line of the working: what is worked out, and how."""

    label: str
    text: str


def _table(caption, pairs):
    rows = "".join(
        f"<tr><th scope='row'>{html.escape(label)}</th><td>{html.escape(text)}</td></tr>"
        for label, text in pairs
    )
    return f"<table><caption>{html.escape(caption)}</caption><tbody>{rows}</tbody></table>"


class Working:
    """How an answer was worked out, or how sure it is, line by line."""

    def __init__(self, lines, caption="How it was worked out"):
        self.lines, self.caption = tuple(lines), caption

    def __str__(self):
        return "\n".join(f"{line.label}: {line.text}" for line in self.lines)

    def _repr_html_(self):
        return _table(self.caption, self.lines)


class Answer:
    """What a job gives back.

    A job's own class holds its figures and defines the properties below.

    Attributes
    ----------
    title : str
        What was asked, in a few words.
    notes : tuple of str
        What the reader must know before the steps: what cannot be done, what is odd.
    steps : tuple of str
        Actions, in the order of the work.
    rows : tuple of Row
        The figures behind them.
    cautions : tuple of Caution
    assumptions : tuple of str
        Each a sentence.
    source_keys : tuple of str
        Keys of `coolcalc.sources.SOURCES`.
    working_lines, odds_lines : iterable of Line
        Made when asked for.
    """

    title: str
    notes: tuple
    steps: tuple
    rows: tuple
    cautions: tuple
    assumptions: tuple
    source_keys: tuple
    working_lines: tuple
    odds_lines: tuple

    @property
    def sources(self):
        """The published sources that the figures rest on, as `coolcalc.sources.Source`."""
        return tuple(SOURCES[key] for key in self.source_keys)

    @property
    def working(self):
        """How it was worked out, as `Working`."""
        return Working(self.working_lines)

    @property
    def odds(self):
        """How sure it is, as `Working`: chance to hold, give or take, what to measure better."""
        return Working(self.odds_lines, "How sure it is")

    #: What writes a card and a label, put in by the package: `coolcalc.prints` stands below in
    #: the order.
    card_writer: Any = None
    label_writer: Any = None

    #: Why no label may promise what this answer ends at; empty where one may.
    no_label: str = ""

    def shown_in(self, show_in):
        """Return the same job in another unit system: rounded in it, so litres differ a little."""
        raise NotImplementedError

    def save_card(self, path, *, vehicle="", by="", on=None, paper="A4", units=None):
        """Save the job card: one page to take to the work.

        Parameters
        ----------
        path : str or path
            Ends in .pdf or .html.
        vehicle, by : str
            Left empty, there is a line to write on.
        on : datetime.date, optional
            Today unless given.
        paper : str
            "A4" or "Letter".
        units : str, optional
            One of `coolcalc.units.SYSTEMS`, where the card is to be in another one.

        Returns
        -------
        pathlib.Path

        Raises
        ------
        InputError
            If it cannot be written, or does not fit one page.
        """
        answer = self if units is None else self.shown_in(units)
        return self.card_writer(answer, path, vehicle=vehicle, by=by, on=on, paper=paper)

    def save_label(self, path, **options):
        """Save the filler label of the mix that the answer ends with.

        Parameters
        ----------
        path : str or path
            Ends in .pdf or .html.
        **options
            As for `coolcalc.prints.label_html`: ``vehicle``, ``by``, ``on``, ``margin``,
            ``instrument``, ``units``, ``size``.

        Returns
        -------
        pathlib.Path

        Raises
        ------
        InputError
            If the answer ends with no mix, no freezing point can be promised for it, or the label
            cannot be written.
        """
        return self.label_writer(self, path, **options)

    def columns(self):
        """Return the figures of `to_frame`: column name with unit, value or None."""
        raise NotImplementedError

    def to_frame(self):
        """Return one row as a pandas DataFrame; the unit stands in the column's name."""
        import pandas as pd

        return pd.DataFrame([self.columns()])

    def __str__(self):
        parts = [self.title, *self.notes]
        parts += [f"{at}. {step}" for at, step in enumerate(self.steps, 1)]
        parts += ["Cautions:", *(f"- {caution.text}" for caution in self.cautions)]
        parts += ["Assumed:", *(f"- {text}" for text in self.assumptions)]
        return "\n".join(parts)

    @property
    def html_steps(self):
        """Notes and numbered steps as an HTML fragment."""
        notes = "".join(f"<p class='coolcalc-note'>{html.escape(note)}</p>" for note in self.notes)
        steps = "".join(f"<li>{VOLUME.sub(_strong, html.escape(step))}</li>" for step in self.steps)
        return f"{notes}<ol>{steps}</ol>"

    @property
    def html_cautions(self):
        """Cautions as an HTML fragment."""
        items = "".join(f"<li>{html.escape(caution.text)}</li>" for caution in self.cautions)
        return f"<h3>Cautions</h3><ul>{items}</ul>"

    @property
    def html_details(self):
        """Figures, assumptions and sources as an HTML fragment."""
        assumed = "".join(f"<li>{html.escape(text)}</li>" for text in self.assumptions)
        sources = "".join(
            f"<li>{html.escape(source.title)} ({html.escape(source.year)}; {source.kind})</li>"
            for source in self.sources
        )
        return (
            f"{_table(self.title, self.rows)}<h4>Assumed</h4><ul>{assumed}</ul>"
            f"<h4>Sources</h4><ul>{sources}</ul>"
        )

    @property
    def html_odds(self):
        """How sure the answer is, as an HTML fragment."""
        return self.odds._repr_html_()

    @property
    def html_working(self):
        """The working as an HTML fragment."""
        return self.working._repr_html_()

    def _repr_html_(self):
        return (
            f"<section><h3>{html.escape(self.title)}</h3>{self.html_steps}{self.html_cautions}"
            f"<details><summary>Figures, assumptions and sources</summary>{self.html_details}"
            f"</details><details><summary>How sure it is</summary>{self.html_odds}</details>"
            f"<details><summary>How it was worked out</summary>{self.html_working}"
            "</details></section>"
        )
