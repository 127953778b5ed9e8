"""The fields of a page: what is asked, in which words, and how typed text is read.

No widgets here. What a page asks of its job is a function of a dict of text, so that it can be
called and tested without a screen.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from coolcalc import units
from coolcalc.errors import InputError
from coolcalc.panels import table as tables

#: Name under which the values of a form hold the unit system that the page shows.
UNITS = "units"

#: Texts of a tick.
YES, NO = "yes", "no"


@dataclass(frozen=True)
class Table:
    """What the rows of a table are.

    Attributes
    ----------
    columns : Mapping of str to str or None
        The kind of each column, None for text.
    choice_column : str
        The column that says what a row is, by a name in ``shapes``; "" where all are alike.
    shapes : Mapping of str to tuple of str
        Columns that such a row takes, beside those that ``always`` names.
    always : tuple of str
    open_file : callable
        Turns the bytes of a CSV file into the table's text; a refusal is shown.
    row : str
        What a row is called.
    """

    columns: Mapping[str, str | None]
    choice_column: str
    shapes: Mapping[str, tuple[str, ...]]
    always: tuple[str, ...]
    open_file: Callable[[bytes], str]
    row: str = "part"


@dataclass(frozen=True)
class Field:
    """One thing that is asked.

    Attributes
    ----------
    name : str
        Key of the typed text, and the job's own name for it where it has one.
    label : str
        What the field is called on the page and in its refusals.
    kind : str
        "choice", "tick" (`YES` or `NO`), "text" (taken as it stands), "table" (see
        `coolcalc.panels.table`), "file" (the text of a file that is opened), or a kind that
        `coolcalc.units.read` knows.
    default : str
        Text at the start, in the form's first unit system.
    help : str
        A short sentence under the field.
    choices : tuple of (str, str)
        For a choice: each value and the words that show it.
    unit_choices : tuple of (str, str)
        Where the field has a unit of its own to choose: each unit as `units.read` takes it, and
        the words that show it. The first one is shown at the start.
    only_if : tuple of (str, tuple of str)
        Names of fields, each with the texts of it with which this field is asked at all.
    unless : tuple of (str, tuple of str)
        Names of fields, each with the texts of it with which this field is not asked; one that is
        not asked itself rules nothing out.
    optional : bool
        Whether it may be left empty; it is then read as None.
    low, high : float, optional
        Inclusive limits. [SI unit of the kind]
    table : Table, optional
        What a field of kind "table" takes.
    choices_of : callable, optional
        For a choice that hangs on other fields: takes the form's values and returns ``choices``.
        Where what was chosen is no longer among them, the page takes the first.
    fills : callable, optional
        Takes the form's values once this field has changed, and returns the texts that it puts
        into other fields, by name.
    file_name : str
        For a file: what the one that the page starts with is called.
    """

    name: str
    label: str
    kind: str
    default: str = ""
    help: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    unit_choices: tuple[tuple[str, str], ...] = ()
    only_if: tuple[tuple[str, tuple[str, ...]], ...] = ()
    unless: tuple[tuple[str, tuple[str, ...]], ...] = ()
    optional: bool = False
    low: float | None = None
    high: float | None = None
    table: Table | None = None
    choices_of: Callable[[Mapping[str, str]], tuple[tuple[str, str], ...]] | None = None
    fills: Callable[[Mapping[str, str]], dict[str, str]] | None = None
    file_name: str = ""

    @property
    def unit_name(self):
        """Key of the field's own unit among the values of the form."""
        return f"{self.name}_unit"


@dataclass(frozen=True)
class Group:
    """Fields that belong to one stage of the work, under a heading.

    Attributes
    ----------
    heading : str
        What the stage is called.
    fields : tuple of Field
        In the order of the work.
    """

    heading: str
    fields: tuple[Field, ...]


@dataclass(frozen=True)
class Form:
    """All that one page asks.

    Attributes
    ----------
    groups : tuple of Group
        In the order of the work.
    systems : Mapping of str to Mapping of str to str
        For each unit system by the words that show it, the unit of a bare number of each kind.
        The first system is shown at the start.
    """

    groups: tuple[Group, ...]
    systems: Mapping[str, Mapping[str, str]]

    @cached_property
    def fields(self):
        """All fields by name, in the order of the page."""
        return {field.name: field for group in self.groups for field in group.fields}

    def defaults(self):
        """Return the values that the page starts with.

        Returns
        -------
        dict of str to str
            Text of each field, of each field's own unit, and the unit system under `UNITS`.
        """
        values = {UNITS: next(iter(self.systems))}
        for field in self.fields.values():
            values[field.name] = field.default
            if field.unit_choices:
                values[field.unit_name] = field.unit_choices[0][0]
        return values

    def starting_with(self, texts):
        """Return the same form with other texts at the start, by field name."""
        groups = (
            replace(
                group,
                fields=tuple(
                    replace(field, default=texts.get(field.name, field.default))
                    for field in group.fields
                ),
            )
            for group in self.groups
        )
        return Form(tuple(groups), self.systems)

    def asked(self, field, values):
        """Tell whether a field is asked, given what is chosen elsewhere.

        Parameters
        ----------
        field : Field
            One of this form.
        values : Mapping of str to str
            Text of each field.

        Returns
        -------
        bool
        """

        def holds(name, texts):
            return self.asked(self.fields[name], values) and values[name].strip() in texts

        return all(holds(*each) for each in field.only_if) and not any(
            holds(*each) for each in field.unless
        )

    def choices(self, field, values):
        """Return what a field can be chosen from: each value, and the words that show it."""
        return field.choices if field.choices_of is None else field.choices_of(values)

    def unit(self, field, values):
        """Return the unit that a bare number in a field takes.

        Parameters
        ----------
        field : Field
            One of this form.
        values : Mapping of str to str
            Text of each field.

        Returns
        -------
        str or None
            None where numbers of this kind have no unit.
        """
        if field.unit_choices:
            return values[field.unit_name]
        return self.systems[values[UNITS]].get(field.kind)

    def read_all(self, values):
        """Read every field that is asked, and collect every refusal.

        Parameters
        ----------
        values : Mapping of str to str
            Text of each field, as `defaults` gives it.

        Returns
        -------
        found : dict
            By field name: what `coolcalc.units.read` makes of the text (SI), the text itself for
            a choice or a text, whether it is set for a tick, None for what is not asked, was
            left empty or is refused.
        errors : list of InputError
            One for each field that cannot be read, in the order of the form; `ask` raises them
            together, as a `FormError`, with what else is wrong.
        """
        found, errors = {}, []
        for field in self.fields.values():
            found[field.name] = None
            if not self.asked(field, values):
                continue
            try:
                found[field.name] = self._read_field(field, values)
            except InputError as error:
                errors.append(error)
        return found, errors

    def _read_field(self, field, values):
        text = values[field.name]
        if field.kind == "choice":
            choices = self.choices(field, values)
            if text not in dict(choices):
                known = ", ".join(value for value, _ in choices) or "nothing"
                raise InputError(field.label, text, f"{text!r} is not one of: {known}.")
            return text
        if field.kind == "tick":
            return text == YES
        if field.optional and not text.strip():
            return None
        if field.kind in ("text", "file"):
            return text
        if field.kind == "table":
            return tables.rows_of(text)
        unit = self.unit(field, values)
        return units.read(field.label, text, field.kind, unit=unit, low=field.low, high=field.high)

    def converted(self, field, text, old, new):
        """Return a field's text for another unit system.

        Parameters
        ----------
        field : Field
            One of this form.
        text : str
            What was typed.
        old, new : str
            The unit system in which it was typed, and the one to show.

        Returns
        -------
        str
            The bare number converted. Text that names its own unit, that cannot be read, or whose
            kind has no unit in these systems, stays as it was typed.
        """
        if field.kind == "table":
            return (
                text
                if old == new
                else tables.in_units(text, field.table.columns, self.systems[new])
            )
        unit_old, unit_new = self.systems[old].get(field.kind), self.systems[new].get(field.kind)
        if field.unit_choices or unit_old == unit_new or not text.strip():
            return text
        try:
            value = units.read(field.label, text, field.kind, unit=unit_old)
        except InputError:
            return text
        try:
            names_its_unit = units.read(field.label, text, field.kind, unit=unit_new) == value
        except InputError:  # a bare 3 °F is a reading, a bare 3 °C would be asked about
            names_its_unit = False
        return text if names_its_unit else units.write(value, field.kind, unit_new)
