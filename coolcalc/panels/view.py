"""Widgets over a form: show its fields, ask its question, show the answer or the refusals."""

import asyncio
import base64
import html
from importlib.resources import files

import ipywidgets as widgets
from IPython import get_ipython

from coolcalc.errors import CoolcalcError, FormError
from coolcalc.panels.form import NO, UNITS, YES
from coolcalc.panels.rows import FileControl, RowsControl

#: The figure follows the text, unless another input has come by then. [s]
FIGURE_DELAY_S = 0.02

#: Words of the button that makes the card of an answer.
MAKE_CARD = "Make the job card"


class Panel:
    """A page: the form's fields, and beside them what `ask` answers for their text.

    Parameters
    ----------
    form : Form
        What is asked.
    ask : callable
        Takes the form's values (dict of str to str) and returns an answer with the properties
        ``html_steps``, ``html_cautions``, ``html_details``, ``html_odds`` and ``html_working``,
        or raises a `CoolcalcError`.
    figure : callable
        Takes an answer and returns an SVG as text, None where there is nothing to draw; or yields
        several, each of which is shown before the next is drawn.
    cards : callable, optional
        Takes an answer and the form's values, and returns the printed card in each format:
        a dict of file name to (words of the link, media type, function that makes the bytes).
    make : callable, optional
        Takes an answer and returns the words of the button that makes its cards.
    later : bool
        Whether the page is shown before its first answer, where that takes a second.

    Attributes
    ----------
    values : dict of str to str
        The text of the fields as they stand.
    answer : object or None
        The last answer that `ask` gave; None before the first one.
    widget : ipywidgets.Widget
        What is shown.

    Notes
    -----
    Only a `CoolcalcError` becomes a message on the page; anything else is a defect and is raised.
    """

    def __init__(self, form, ask, figure, cards=None, make=lambda answer: MAKE_CARD, later=False):
        self._form, self._ask, self._figure, self._cards = form, ask, figure, cards
        self._make = make
        self.values = form.defaults()
        self.answer = None
        self._typed = {name: (self.values[name], self.values[UNITS]) for name in form.fields}
        self._setting = False
        self._serial, self._drawn = 0, []
        self._controls, self._errors, self._rows = {}, {}, {}
        self._build()
        if not later:
            self._refresh()
            return
        self._show_fields()
        self._steps.value = _steps_html("What to do", "<p>Working it out.</p>")
        self._later(FIGURE_DELAY_S, self._first_answer)

    def set(self, **texts):
        """Put text into fields, as if it were typed.

        Parameters
        ----------
        **texts : str
            Text by field name; ``units`` is the unit system.
        """
        for name, text in texts.items():
            ticked = isinstance(self._controls[name], widgets.Checkbox)
            self._controls[name].value = text == YES if ticked else text

    def _first_answer(self):
        if self.answer is None and self._serial == 0:  # nothing has been typed meanwhile
            self._refresh()

    def _build(self):
        self._alert = widgets.HTML().add_class("coolcalc-alert")
        self._steps = widgets.HTML().add_class("coolcalc-answer")
        self._cautions = widgets.HTML().add_class("coolcalc-cautions")
        self._drawing = widgets.HTML().add_class("coolcalc-figure")
        self._folded = widgets.HTML().add_class("coolcalc-folded")
        systems = [(name, name) for name in self._form.systems]
        inputs = [
            _html("<h2 id='coolcalc-inputs'>The figures</h2>"),
            self._row(UNITS, [self._dropdown(UNITS, "Units", systems)], ""),
        ]
        self._headings = []
        for group in self._form.groups:
            heading = _html(f"<h3>{html.escape(group.heading)}</h3>")
            self._headings.append((heading, group))
            inputs += [heading, *(self._field(field) for field in group.fields)]
        inputs.append(_html("<a class='coolcalc-jump' href='#coolcalc-answer'>To the answer</a>"))
        shown = [self._alert, self._steps, self._cautions, self._drawing, self._folded]
        if self._cards is not None:
            shown.insert(2, self._card_maker())
        columns = widgets.Box(
            [
                widgets.VBox(inputs).add_class("coolcalc-inputs"),
                widgets.VBox(shown).add_class("coolcalc-shown"),
            ]
        ).add_class("coolcalc-columns")
        self.widget = widgets.VBox([_style(), columns]).add_class("coolcalc")

    def _field(self, field):
        if field.kind == "tick":
            control = self._control(
                field.name,
                widgets.Checkbox(self.values[field.name] == YES, indent=False),
                field.label,
            ).add_class("coolcalc-tick")
        elif field.kind in ("table", "file"):
            made = RowsControl if field.kind == "table" else FileControl
            control = made(field, self.values[field.name])
            control.observe(lambda change: self._changed(field.name, change["new"]), names="value")
            self._controls[field.name] = control
        elif field.kind == "choice":
            choices = self._form.choices(field, self.values)
            control = self._dropdown(field.name, field.label, choices)
        else:
            control = self._control(
                field.name,
                widgets.Text(self.values[field.name], continuous_update=False),
                field.label,
            )
        controls = [control]
        if field.unit_choices:
            unit = self._dropdown(field.unit_name, f"{field.label}: unit", field.unit_choices)
            controls.append(unit.add_class("coolcalc-unit"))
        return self._row(field.name, controls, field.help)

    def _dropdown(self, name, label, choices):
        options = [(words, value) for value, words in choices]
        return self._control(
            name, widgets.Dropdown(options=options, value=self.values[name]), label
        )

    def _control(self, name, control, label):
        control.description = control.tooltip = label
        control.style.description_width = "initial"
        control.observe(lambda change: self._changed(name, _text(change["new"])), names="value")
        self._controls[name] = control
        return control

    def _row(self, name, controls, help_text):
        self._errors[name] = _html("").add_class("coolcalc-error")
        children = [widgets.HBox(controls), self._errors[name]]
        if help_text:
            children.insert(1, _html(html.escape(help_text)).add_class("coolcalc-help"))
        self._rows[name] = widgets.VBox(children).add_class("coolcalc-field")
        return self._rows[name].add_class(f"field-{name}")

    def _changed(self, name, text):
        if self._setting:
            return
        self.values[name] = text
        if name == UNITS:
            self._show_in_system(text)
        elif name in self._typed:
            self._typed[name] = (text, self.values[UNITS])
            self._fill_others(self._form.fields[name])
        self._refresh()

    def _fill_others(self, changed):
        """Put in what hangs on a field that has changed: texts, and what can be chosen from."""
        self._setting = True
        try:
            self._settle_choices()
            for name, text in (changed.fills(self.values) if changed.fills else {}).items():
                self.values[name] = text
                self._typed[name] = (text, self.values[UNITS])
                control = self._controls[name]
                control.value = text == YES if isinstance(control, widgets.Checkbox) else text
        finally:
            self._setting = False

    def _settle_choices(self):
        for name, field in self._form.fields.items():
            if field.choices_of is None:
                continue
            choices = self._form.choices(field, self.values)
            options = tuple((words, value) for value, words in choices)
            control = self._controls[name]
            if tuple(control.options) == options:
                continue
            if self.values[name] not in dict(choices):
                self.values[name] = choices[0][0] if choices else ""
            control.options = options
            control.value = self.values[name] if choices else None

    def _show_in_system(self, system):
        # Converted from what was typed, not from what is shown: there and back changes nothing.
        self._setting = True
        try:
            for name, (text, typed_in) in self._typed.items():
                field = self._form.fields[name]
                if field.kind in ("choice", "tick", "text", "file"):
                    continue
                self.values[name] = self._form.converted(field, text, typed_in, system)
                self._controls[name].value = self.values[name]
        finally:
            self._setting = False

    def _refresh(self):
        self._show_fields()
        try:
            self.answer = self._ask(dict(self.values))
        except CoolcalcError as error:
            self._show_errors(error.errors if isinstance(error, FormError) else (error,))
            self._forget_cards(False)  # a card belongs to the figures on the page
            return
        self._show_errors(())
        self._forget_cards(True)
        self._show_answer()
        self._draw_soon()

    def _show_fields(self):
        for name, field in self._form.fields.items():
            self._rows[name].layout.display = (
                None if self._form.asked(field, self.values) else "none"
            )
            unit = None if field.unit_choices else self._form.unit(field, self.values)
            self._controls[name].description = f"{field.label}, {unit}" if unit else field.label
        for heading, group in self._headings:
            asked = any(self._form.asked(field, self.values) for field in group.fields)
            heading.layout.display = None if asked else "none"

    def _show_errors(self, errors):
        told = {name: "" for name in self._errors}
        for error in errors:
            name = self._name_of(getattr(error, "field", None))
            if name is not None:
                told[name] += f"<p>{html.escape(self._told(error))}</p>"
        for name, text in told.items():
            self._errors[name].value = text
            self._errors[name].layout.display = None if text else "none"
        self._alert.value = self._alert_html(errors) if errors else ""
        self._alert.layout.display = None if errors else "none"
        for shown in (self._drawing, self._folded):
            (shown.add_class if errors else shown.remove_class)("coolcalc-old")
        if errors and self.answer is not None:
            self._steps.value = _steps_html(
                "The earlier answer: not for these figures",
                "<div role='group' aria-disabled='true' class='coolcalc-old'>"
                f"{self.answer.html_steps}</div>",
            )

    def _name_of(self, field_name):
        for name, field in self._form.fields.items():
            if field_name in (name, field.label):
                return name
        return None

    def _told(self, error):
        # A job names its argument; the page names the field as its reader sees it.
        name = self._name_of(getattr(error, "field", None))
        return str(error) if name is None else f"{self._form.fields[name].label}: {error.what}"

    def _alert_html(self, errors):
        items = "".join(f"<li>{html.escape(self._told(error))}</li>" for error in errors)
        old = (
            "<p>There is no answer yet.</p>"
            if self.answer is None
            else "<p><strong>The answer below belongs to the earlier figures.</strong></p>"
        )
        return (
            "<div role='alert'><p><strong>No answer for these figures. Put this right first:"
            f"</strong></p><ul>{items}</ul>{old}</div>"
        )

    def _show_answer(self):
        self._steps.value = _steps_html("What to do", self.answer.html_steps)
        self._cautions.value = self.answer.html_cautions
        self._folded.value = (
            f"<details><summary>How sure it is</summary>{self.answer.html_odds}</details>"
            f"<details><summary>How it was worked out</summary>{self.answer.html_working}</details>"
            "<details><summary>Figures, assumptions and sources</summary>"
            f"{self.answer.html_details}</details>"
        )

    def _card_maker(self):
        self._card_button = widgets.Button(description=MAKE_CARD, tooltip=MAKE_CARD, disabled=True)
        self._card_links = widgets.HTML().add_class("coolcalc-links")
        self._card_button.on_click(lambda _button: self.make_cards())
        row = widgets.VBox([self._card_button, self._card_links])
        return row.add_class("coolcalc-card")

    def make_cards(self):
        """Make the printed card of the answer that is shown, and offer it to be saved."""
        links, refused = [], {}
        for name, (words, media, make) in self._cards(self.answer, dict(self.values)).items():
            try:
                data = base64.b64encode(make()).decode("ascii")
            except CoolcalcError as error:
                refused[str(error)] = f"<p role='alert'>{html.escape(self._told(error))}</p>"
                continue
            links.append(
                f"<a download='{html.escape(name)}' href='data:{media};base64,{data}'>"
                f"{html.escape(words)}</a>"
            )
        told = f"<p role='status'>{' '.join(links)}</p>" if links else ""
        self._card_links.value = told + "".join(refused.values())

    def _forget_cards(self, may_print):
        if self._cards is not None:
            self._card_links.value = ""
            self._card_button.disabled = not may_print
            if may_print:
                words = self._make(self.answer)
                self._card_button.description = self._card_button.tooltip = words

    def _draw_soon(self):
        self._serial += 1
        self._later(FIGURE_DELAY_S, self._draw, self._serial, self.answer)

    def _draw(self, serial, answer):
        if serial == self._serial:
            drawn = self._figure(answer)
            if drawn is None or isinstance(drawn, str):
                drawn = iter(filter(None, [drawn]))
            self._draw_next(serial, drawn, 0)

    def _draw_next(self, serial, drawn, count):
        """Draw one figure over the one that stood in its place; the last one clears the rest."""
        if serial != self._serial:
            return
        svg = next(drawn, None)
        self._drawn[count : None if svg is None else count + 1] = [] if svg is None else [svg]
        self._drawing.value = "".join(self._drawn)
        self._drawing.layout.display = None if self._drawn else "none"
        if svg is not None:
            self._later(0.0, self._draw_next, serial, drawn, count + 1)

    @staticmethod
    def _later(delay_s, call, *args):
        # Only a kernel has a page to keep quick; a test or a script draws at once.
        if getattr(get_ipython(), "kernel", None) is None:
            call(*args)
        else:
            asyncio.get_running_loop().call_later(delay_s, call, *args)

    def _repr_mimebundle_(self, **kwargs):
        return self.widget._repr_mimebundle_(**kwargs)


def _text(value):
    """Return the value of a control as the form's text."""
    return value if isinstance(value, str) else YES if value else NO


def _steps_html(heading, body):
    return (
        f"<h2 id='coolcalc-answer'>{heading}</h2><div role='status' aria-live='polite'>{body}</div>"
        "<a class='coolcalc-jump' href='#coolcalc-inputs'>Change the figures</a>"
    )


def _html(text):
    return widgets.HTML(text)


def _style():
    css = files("coolcalc.panels").joinpath("page.css").read_text(encoding="utf-8")
    return _html(f"<style>{css}</style>").add_class("coolcalc-style")
