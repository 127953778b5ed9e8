"""The page of the frost standard: from winters to the sheet of a depot."""

import dataclasses
import functools
import json
import pathlib

from coolcalc import charts, prints, units
from coolcalc.answers import Working
from coolcalc.errors import FormError, InputError, Reader
from coolcalc.instruments import Hydrometer, Refractometer
from coolcalc.jobs import compare_standards, frost_standard
from coolcalc.jobs.daily_minima import read_minima
from coolcalc.jobs.frost_answer import FrostStandard
from coolcalc.jobs.winter_low import EXTREMES, GIVEN, GUMBEL, read_low
from coolcalc.panels import asking
from coolcalc.panels.fields import TOOLS
from coolcalc.panels.form import UNITS
from coolcalc.panels.frost_depots import (
    DEPOT_COLUMNS,
    NIGHT_COLUMNS,
    columns_of,
    fill_depot,
    open_depots,
)
from coolcalc.panels.frost_form import ALL, COUNTS, FORM, ONE, TOOL_ERRORS, form_of
from coolcalc.panels.view import Panel
from coolcalc.product import GENERIC, WATER
from coolcalc.strength import Strength
from coolcalc.tables import rows_from


def ask(values, form=FORM):
    """Answer the page's question.

    Parameters
    ----------
    values : dict of str to str
        Text of each field, as `Form.defaults` gives it.
    form : Form
        As `coolcalc.panels.frost_form.form_of` gives it.

    Returns
    -------
    coolcalc.answers.Answer

    Raises
    ------
    FormError
        With one error for each field that cannot be used.
    """
    return asking.answer(form, _JOBS, values, _NAMES)


# --- parts ----------------------------------------------------------------------------------------


@functools.lru_cache(maxsize=4)
def _rows(record):
    return rows_from("minima", record.encode("utf-8"), "daily minima")


@functools.lru_cache(maxsize=64)
def _minima(record, station):
    """Return a station's `DailyMinima`; ten thousand rows are read once, not at each change."""
    if not record.strip():
        raise InputError("minima", "", "no file was opened; open a CSV file of daily minima.")
    return read_minima(_rows(record), station)


def _record(read):
    return None if read["record"] is None else _minima(read["record"], read["station"])


def _temp(name):
    return lambda read: None if read[name] is None else units.Q(read[name], "kelvin")


def _where(low_from, part):
    """Return a part that is None where the low is known from something else."""
    return lambda read: part(read) if read["low_from"] == low_from else None


def _needed_temp(name):
    return lambda read: units.Q(*asking.needed(read, name), "kelvin")


def _difference(name):
    return lambda read: None if read[name] is None else units.Q(read[name], "delta_degC")


def _needed_difference(name):
    return lambda read: units.Q(*asking.needed(read, name), "delta_degC")


def _height(name):
    return lambda read: None if read[name] is None else units.Q(read[name], "m")


def _text(name):
    return lambda read: read[name] or ""


def _share(name):
    return lambda read: units.Q(*asking.needed(read, name), units.KINDS["share"].si)


def _plain(name):
    return lambda read: asking.needed(read, name)[0]


def _strength(name):
    def part(read):
        (told,) = asking.needed(read, name)
        return Strength(told.share, told.basis)

    return part


def _today(read):
    return None if read["today"] is None else _strength("today")(read)


def _pour(read):
    return [GENERIC[read["product"]], WATER]


def _fit(read):
    return read["fit"] or GUMBEL


def _nights(read):
    if read["nights"] is None:
        return None
    return [
        [_typed(*row[name]) for name in NIGHT_COLUMNS if name in row]
        for row in columns_of(read["nights"])
        if any(text for text, _ in row.values())
    ]


def _typed(text, unit):
    """Return a cell with the unit of its column, where it does not name its own."""
    return f"{text} {unit}" if text[-1:].isdigit() and unit else text


def _night_stops(read):
    reader, stops = Reader(), {}
    for name in ("stop", "stop_2"):
        place = (read[name] or "").strip()
        if not place:
            continue
        if place in stops:
            reader.errors.append(
                InputError(name, place, f"{place} stands twice; enter the colder low once.")
            )
        (low_k,) = asking.needed(read, f"{name}_low")
        stops[place] = units.Q(low_k, "kelvin")
        reader(read_low, f"{name}_low", stops[place])
    reader.raise_if_any()
    return stops or None


def _instrument(read):
    kind, scale = TOOLS[read["tool"]]
    (error,) = asking.needed(read, TOOL_ERRORS[read["tool"]])
    fluid = GENERIC[read["product"]].fluid
    made = Hydrometer if kind == "hydrometer" else Refractometer
    tool = made(scale=scale, made_for=fluid)
    kind_of_error = tool.spec.error_kind
    unit = "delta_degC" if tool.spec.kind == "freezing point" else units.KINDS[kind_of_error].si
    return dataclasses.replace(tool, error=units.Q(error, unit))


def _without(read):
    if read["count_all"]:
        return ()
    return tuple(switch for switch, name in COUNTS.items() if read[name] is False)


def _cap(read):
    return "100 kPa" if read["hottest"] is None else units.Q(*asking.needed(read, "cap"), "pascal")


def _table(read):
    """Return the rows of the table of depots: dicts of column to (text, unit or None)."""
    (rows,) = asking.needed(read, "depots")
    return columns_of(rows)


#: Parts of a standard that both tasks ask.
def _period(read):
    if read["low_from"] == GIVEN:
        return read["low_period"]
    return asking.needed(read, "return_period")[0]


_COMMON = {
    "pour": _pour,
    "fit": _fit,
    "return_period": _period,
    "margin": _needed_difference("margin"),
    "mixing_error": _share("mixing_error"),
    "instrument": _instrument,
    "confidence": _plain("confidence"),
    "without": _without,
    "floor": _strength("floor"),
    "ceiling": _strength("ceiling"),
    "lost_between_tests": _share("lost_between_tests"),
    "hottest": _temp("hottest"),
    "cap": _cap,
}


def compare_depots(*, depots, record, price, show_in, **common):
    """Set the standard of every depot of the page's table, and compare one for all with one each.

    Parameters
    ----------
    depots : sequence of dict
        Rows of the table: column to (text, unit or None).
    record : str
        Table of daily minima as text.
    price : float or None
        Of a litre of product.
    show_in : str
        One of `coolcalc.units.SYSTEMS`.
    **common
        Arguments of `coolcalc.frost_standard` that all depots share.

    Returns
    -------
    StandardsCompared

    Raises
    ------
    FormError
        What is wrong in each row, and what is wrong with the rest, once.
    """
    errors, standards, coolant = [], [], {}
    if len(depots) < 2:
        errors.append(
            InputError("depots", len(depots), "fewer than two depots are listed; add the others.")
        )
    for number, row in enumerate(depots, 1):
        reader = Reader()
        standard = reader(_standard_of, row, record, common)
        filled = reader(_named, row, "coolant in all")
        coolant_m3 = None if filled is None else reader(_cell, row, "coolant in all")
        errors += [_of_row(each, number, row, common) for each in reader.errors]
        if standard is not None and coolant_m3 is not None:
            standards.append(standard)
            coolant[standard.depot] = units.Q(coolant_m3, "m^3")
    if errors:
        raise FormError(errors)
    return compare_standards(standards=standards, coolant=coolant, price=price, show_in=show_in)


def _of_row(error, number, row, common):
    """Return a refusal that says in which row of the table it stands, unless all rows share it."""
    field = getattr(error, "field", None)
    if field is None or field in common or field == "minima":
        return error
    name, _ = row.get("depot", ("", None))
    where = f"row {number}{f' ({name})' if name else ''}"
    column = "station" if field == "column" else field.replace("_", " ")
    return InputError("depots", error.found, f"{where}, {column}: {error.what}")


def _cell(row, column):
    """Return a figure of a row, or None where it is empty. [SI]."""
    text, unit = row.get(column, ("", None))
    if not text:
        return None
    return units.read(column, text, DEPOT_COLUMNS[column], unit=unit)


def _named(row, column):
    text, _ = row.get(column, ("", None))
    if not text:
        raise InputError(column, "", "nothing was entered.")
    return text


def _standard_of(row, record, common):
    reader = Reader()
    station_m = reader(_cell, row, "station height")
    depot_m = reader(_cell, row, "depot height")
    colder_k = reader(_cell, row, "colder than station")
    colder_error_k = reader(_cell, row, "colder, give or take")
    stop_k = reader(_cell, row, "night stop low")
    stop = row.get("night stop", ("", None))[0]
    if stop and stop_k is None and not reader.errors:
        reader.errors.append(InputError("night stop low", "", f"the low at {stop} is missing."))
    depot, station = (reader(_named, row, column) for column in ("depot", "station"))
    minima = None if station is None else reader(_minima, record, station)
    reader.raise_if_any()

    def told(value, unit):
        return None if value is None else units.Q(value, unit)

    return frost_standard(
        depot=depot,
        minima=minima,
        site=row.get("site", ("not told", None))[0] or "not told",
        station_height=told(station_m, "m"),
        depot_height=told(depot_m, "m"),
        colder_than_station=told(colder_k, "delta_degC"),
        colder_error=told(colder_error_k, "delta_degC"),
        night_stops={stop: units.Q(stop_k, "kelvin")} if stop else None,
        **common,
    )


_JOBS = {
    ONE: (
        frost_standard,
        {
            "depot": _text("depot"),
            "minima": _record,
            "mean_extreme": _where(EXTREMES, _needed_temp("mean_extreme")),
            "sd_extreme": _where(EXTREMES, _needed_difference("sd_extreme")),
            "extremes_of": lambda read: read["extremes_of"],
            "low": _where(GIVEN, _needed_temp("low")),
            "low_error": _difference("low_error"),
            "low_basis": _text("low_basis"),
            "site": _plain("site"),
            "station_height": _height("station_height"),
            "depot_height": _height("depot_height"),
            "colder_than_station": _difference("colder_than_station"),
            "colder_error": _difference("colder_error"),
            "nights": _nights,
            "night_stops": _night_stops,
            "test_every": _text("test_every"),
            "today": _today,
            **_COMMON,
        },
    ),
    ALL: (
        compare_depots,
        {
            "depots": _table,
            "record": _plain("record"),
            "price": lambda read: read["price"],
            **_COMMON,
        },
    ),
}

#: Field of the page for what a job calls by another name.
_NAMES = {
    "pour": "product",
    "minima": "record",
    "column": "station",
    "instrument": "tool",
    "night_stops": "stop_low",
    "without": "count_all",
    "altitude": "depot_height",
    "standards": "depots",
    "coolant": "depots",
}


# --- what is shown beside the answer --------------------------------------------------------------


def figures_of(answer):
    """Yield the figures of a standard as HTML, the window first; of a comparison, its depots."""
    if not isinstance(answer, FrostStandard):
        yield Working(answer.rows, "Depot by depot")._repr_html_()
        return
    for heading, chart in _CHARTS:
        spec = chart(answer)
        if spec is not None:
            yield f"<h3>{heading}</h3>{_svg(json.dumps(spec))}"


_CHARTS = (
    ("What is left alone, and what is corrected", charts.window_chart),
    ("From the low to the fill", charts.margins_chart),
    ("How seldom each low comes", charts.winters_chart),
    ("Winter by winter", charts.winters_in_time_chart),
)


@functools.lru_cache(maxsize=16)
def _svg(spec):
    """Return a specification as SVG; the winters are the same whatever margin is tried."""
    return charts.to_svg(json.loads(spec))


def make_words(answer):
    """Return the words of the button that makes what can be printed."""
    return "Make the sheet" if isinstance(answer, FrostStandard) else "Make the sheets"


def sheets_of(answer, values):
    """Return what makes the sheet of a standard; of a comparison, those of its depots."""
    told = {"by": values["by"], "paper": values["paper"]}
    if isinstance(answer, FrostStandard):
        return {
            "frost-standard.pdf": (
                "Save the sheet (PDF)",
                "application/pdf",
                lambda: prints.standard_sheet_pdf(answer, **told),
            ),
            "frost-standard.html": (
                "Save the sheet (HTML)",
                "text/html",
                lambda: prints.standard_sheet_html(answer, **told).encode("utf-8"),
            ),
        }
    made = {
        "depots.csv": (
            "Save the figures (CSV)",
            "text/csv",
            lambda: answer.to_frame().to_csv(index=False).encode("utf-8"),
        )
    }
    for number, depot in enumerate(answer.depots, 1):
        standard = depot.standard.shown_in(values[UNITS])
        made[f"frost-standard-{number}.pdf"] = (
            f"Sheet of {standard.depot} (PDF)",
            "application/pdf",
            functools.partial(prints.standard_sheet_pdf, standard, **told),
        )
    return made


# --- the page -------------------------------------------------------------------------------------


def frost_form(depots=None, winters=None, opens_on=None):
    """Return the page's form, with the tables that it starts with.

    Parameters
    ----------
    depots, winters : path, optional
        CSV files of the depots, and of the daily minima of their stations.
    opens_on : str, optional
        The depot that the page opens on.

    Returns
    -------
    Form
    """
    told = {}
    if depots is not None:
        told["depots"] = open_depots(pathlib.Path(depots).read_bytes())
    if winters is not None:
        told["record"] = pathlib.Path(winters).read_text(encoding="utf-8-sig")
        told["record_name"] = pathlib.Path(winters).name
    form = form_of(**told)
    if opens_on is None:
        return form
    values = form.defaults() | {"from_table": opens_on}
    return form.starting_with({"from_table": opens_on} | fill_depot(values))


def frost_panel(depots=None, winters=None, opens_on=None):
    """Return the page's panel, answering for the figures that it starts with.

    Parameters
    ----------
    depots, winters, opens_on
        As `frost_form` takes them.

    Returns
    -------
    Panel
    """
    form = frost_form(depots, winters, opens_on)
    own = functools.partial(ask, form=form)
    # The first fit takes a second, and the page is there by then.
    panel = Panel(form, own, figures_of, sheets_of, make_words, later=True)
    panel.widget.add_class("coolcalc-frost")
    return panel
