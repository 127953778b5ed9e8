"""The widget of a table: its rows one below the other, each with the cells that it needs."""

import html

import ipywidgets as widgets
import traitlets

from coolcalc import units
from coolcalc.errors import CoolcalcError
from coolcalc.panels import table


class RowsControl(widgets.VBox):
    """Rows to type in, one below the other; add, remove, or open a CSV file.

    Parameters
    ----------
    field : coolcalc.panels.form.Field
        Of kind "table".
    text : str
        The table as text, as `coolcalc.panels.table` reads it.

    Attributes
    ----------
    value : str
        The table as text, as it stands.
    """

    value = traitlets.Unicode()

    def __init__(self, field, text):
        self._spec = field.table
        self._setting = False
        self.description = ""  # as the other controls have
        self._rows = widgets.VBox()
        self._told = widgets.HTML()
        words = f"Add a {self._spec.row}"
        add = widgets.Button(description=words, tooltip=words)
        add.on_click(lambda _button: self._add())
        self._upload = widgets.FileUpload(
            accept=".csv", multiple=False, description="Open a CSV file", tooltip="Open a CSV file"
        )
        self._upload.observe(self._opened, names="value")
        tools = widgets.HBox([add, self._upload]).add_class("coolcalc-row-tools")
        super().__init__([self._rows, self._told, tools])
        self.observe(self._rebuild, names="value")
        self.value = text
        self.add_class("coolcalc-rows")

    # -- from the text to the widgets ------------------------------------------------------

    def _rebuild(self, _change=None):
        if self._setting:
            return
        self._headers = table.headers_of(self.value)
        self._shown = [self._row_of(at, row) for at, row in enumerate(self._given(), 1)]
        self._rows.children = [box for box, _ in self._shown]

    def _given(self):
        return table.rows_of(self.value)

    def _row_of(self, number, row):
        cells = {}
        for header in self._headers:
            name, unit = units.read_header(header)
            label = f"{number}: {name}" + (f", {unit}" if unit else "")
            if name == self._spec.choice_column:
                known = list(self._spec.shapes)
                given = row.get(header, "")
                options = known if given in known else [*known, given]
                cells[header] = widgets.Dropdown(options=options, value=given, description=label)
            else:
                cells[header] = widgets.Text(
                    row.get(header, ""), description=label, continuous_update=False
                )
            cells[header].tooltip = label
            cells[header].style.description_width = "initial"
            cells[header].observe(lambda _change: self._edited(), names="value")
        remove = widgets.Button(description=f"Remove {number}", tooltip=f"Remove {number}")
        remove.on_click(lambda _button: self._remove(number))
        box = widgets.HBox([*cells.values(), remove]).add_class("coolcalc-part")
        self._show_needed(cells)
        return box, cells

    def _show_needed(self, cells):
        """Show what a row of its kind takes; what is filled in stays in sight."""
        kind = next(
            (cell.value for header, cell in cells.items()
             if units.read_header(header)[0] == self._spec.choice_column),
            None,
        )  # fmt: skip
        needed = self._spec.shapes.get(kind, ())
        for header, cell in cells.items():
            name = units.read_header(header)[0]
            always = name in self._spec.always or name == self._spec.choice_column
            seen = always or name in needed or bool(cell.value.strip())
            cell.layout.display = None if seen else "none"

    # -- from the widgets to the text ------------------------------------------------------

    def _texts(self):
        return [{header: cell.value for header, cell in cells.items()} for _, cells in self._shown]

    def _edited(self):
        for _, cells in self._shown:
            self._show_needed(cells)
        self._tell(self._texts())

    def _tell(self, rows):
        self._told.value = ""
        self._setting = True
        try:
            self.value = table.text_of(self._headers, rows)
        finally:
            self._setting = False

    def _add(self):
        self._tell([*self._texts(), self._blank()])
        self._rebuild()

    def _blank(self):
        first = next(iter(self._spec.shapes), "")
        return {
            header: first
            for header in self._headers
            if units.read_header(header)[0] == self._spec.choice_column
        }

    def _remove(self, number):
        rows = self._texts()
        del rows[number - 1]
        self._tell(rows)
        self._rebuild()

    def _opened(self, change):
        if not change["new"]:
            return
        file = change["new"][0]
        try:
            text = self._spec.open_file(bytes(file["content"]))
        except CoolcalcError as error:
            self._told.value = f"<p role='alert'>{html.escape(str(error))}</p>"
            return
        self.value = text
        self._told.value = f"<p role='status'>Opened {html.escape(file['name'])}.</p>"


class FileControl(widgets.VBox):
    """A text file to open; its text is the value.

    Parameters
    ----------
    field : coolcalc.panels.form.Field
        Of kind "file".
    text : str
        What the page starts with.

    Attributes
    ----------
    value : str
        The text of the file.
    """

    value = traitlets.Unicode()

    def __init__(self, field, text):
        self.description = ""  # as the other controls have
        words = f"Open other {field.label[:1].lower()}{field.label[1:]}"
        self._upload = widgets.FileUpload(
            accept=".csv", multiple=False, description=words, tooltip=words
        )
        self._upload.observe(self._opened, names="value")
        self._told = widgets.HTML()
        super().__init__([self._told, self._upload])
        self.value, self._label = text, field.label
        self._tell(field.file_name or "no file yet")
        self.add_class("coolcalc-rows")

    def _tell(self, name):
        self._told.value = (
            f"<p role='status'><strong>{html.escape(self._label)}:</strong> {html.escape(name)}</p>"
        )

    def _opened(self, change):
        if not change["new"]:
            return
        file = change["new"][0]
        try:
            text = bytes(file["content"]).decode("utf-8-sig")
        except UnicodeDecodeError:
            self._told.value = (
                f"<p role='alert'>{html.escape(file['name'])} is no text in UTF-8; save the table "
                "as CSV in UTF-8. Nothing was changed.</p>"
            )
            return
        self.value = text
        self._tell(file["name"])
