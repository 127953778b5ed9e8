"""What the page of the frost standard asks, in the order of the work."""

from coolcalc.instruments.scales import SCALES
from coolcalc.jobs.frost_inputs import HOLLOW, NOT_TOLD, OPEN, SITES, SLOPE, TOWN
from coolcalc.jobs.frost_plan import SWITCHES
from coolcalc.jobs.frost_standard import CEILING, FLOOR, MARGIN, MIXING, TEST_EVERY
from coolcalc.jobs.winter_low import EXTREMES, FITS, GIVEN, GUMBEL, MINIMA
from coolcalc.panels import fields
from coolcalc.panels.fields import READ, TOOLS, in_task, same
from coolcalc.panels.form import NO, YES, Field, Form, Group, Table
from coolcalc.panels.frost_depots import (
    DEPOT_COLUMNS,
    NIGHT_COLUMNS,
    NO_DEPOTS,
    NO_NIGHTS,
    OWN,
    depot_choices,
    fill_depot,
    open_depots,
    open_nights,
    station_choices,
    stations_of,
)

ONE, ALL = "one", "all"
TASKS = (
    (ONE, "one depot: set its standard"),
    (ALL, "all depots: one for all, or one each"),
)
_ONE, _ALL = in_task(ONE), in_task(ALL)

#: Names of the fields of what each instrument may be out by.
TOOL_ERRORS = {tool: f"tool_error_{number}" for number, tool in enumerate(TOOLS)}

#: Names of the ticks of what is counted.
COUNTS = {switch: f"count_{number}" for number, switch in enumerate(SWITCHES)}
_COUNTED = {
    "hourly": "Count that tables are of hourly values",
    "site": "Count how much colder the depot is than the station",
    "night stop": "Count a colder night stop",
    "margin": "Count the margin in degrees",
    "low": "Count the doubt about the low",
    "curve": "Count the doubt about the freezing curve",
    "instrument": "Count what the instrument may be out by",
    "top-ups": "Count water topped up between two tests",
    "mixing": "Count mixing and measuring out",
}


def _tool_errors():
    for tool, (kind, scale) in TOOLS.items():
        spec = SCALES[kind][scale]
        yield Field(
            TOOL_ERRORS[tool],
            "Instrument, give or take",
            spec.error_kind,
            fields.error_default(spec),
            low=0.0,
            high=spec.error_max,
            only_if=(("tool", (tool,)),),
        )


def _strength(name, label, default, help_text, **more):
    return Field(
        name, label, "strength", default, help=help_text, unit_choices=fields.BASES, **more
    )


def _stop(number, **more):
    """Return the fields of a place where vehicles stand over night on a route."""
    name = "stop" if number == 1 else f"stop_{number}"
    first = () if number == 1 else (("stop", ("",)),)
    return (
        Field(
            name,
            "Night stop" if number == 1 else "Another night stop",
            "text",
            help="Where vehicles stand over night on a route. Leave empty if there is none.",
            only_if=(_ONE,),
            unless=first,
            **more,
        ),
        Field(
            f"{name}_low",
            "Low at the night stop" if number == 1 else "Low at the other night stop",
            "temperature",
            help="Once in as many winters as below.",
            only_if=(_ONE,),
            unless=(*first, (name, ("",))),
        ),
    )


_NOT_COMPARED = ("compared", (NO,))

_PRODUCT = Group(
    "The product",
    (
        Field(
            "product",
            "Mixed from",
            "choice",
            f"{fields.GLYCOLS[0]} concentrate",
            choices=same(*(f"{glycol} concentrate" for glycol in fields.GLYCOLS)),
            help="With water. Strengths are per cent of it.",
        ),
    ),
)

_DEPOT = Group(
    "The depot",
    (
        Field(
            "from_table",
            "Take from the table of depots",
            "choice",
            OWN,
            choices_of=depot_choices,
            fills=fill_depot,
            help="Fills in what follows.",
            only_if=(_ONE,),
        ),
        Field("depot", "Name on the sheet", "text", "The yard", only_if=(_ONE,)),
        Field(
            "site",
            "How it lies",
            "choice",
            NOT_TOLD,
            choices=(
                (NOT_TOLD, "not known yet"),
                (OPEN, "open, level ground"),
                (SLOPE, "on a slope"),
                (TOWN, "in a town"),
                (HOLLOW, "in a hollow, or on a valley floor"),
            ),
            help="Cold air flows downhill and lies in hollows.",
            only_if=(_ONE,),
        ),
        Field(
            "station_height",
            "Height of the weather station",
            "altitude",
            optional=True,
            help="Above the sea. Leave empty if not known.",
            only_if=(_ONE,),
        ),
        Field("depot_height", "Height of the depot", "altitude", optional=True, only_if=(_ONE,)),
        Field(
            "colder_than_station",
            "Yard colder than the station, as measured",
            "temperature difference",
            optional=True,
            help="On clear, still, cold nights; below 0 where it is warmer. Leave empty if it was "
            "not measured.",
            only_if=(_ONE, _NOT_COMPARED),
        ),
        Field(
            "colder_error",
            "That difference, give or take",
            "temperature difference",
            optional=True,
            only_if=(_ONE, _NOT_COMPARED),
            unless=(("colder_than_station", ("",)),),
        ),
        Field(
            "compared",
            "Nights were compared with the station",
            "tick",
            NO,
            help="Tick it to enter them; the difference is worked out.",
            only_if=(_ONE,),
        ),
        Field(
            "nights",
            "Nights",
            "table",
            NO_NIGHTS,
            help="Lowest of the night at the station and in the yard: five or more cold, clear, "
            "still nights.",
            only_if=(_ONE, ("compared", (YES,))),
            table=Table(
                columns=NIGHT_COLUMNS,
                choice_column="",
                shapes={},
                always=tuple(NIGHT_COLUMNS),
                open_file=open_nights,
                row="night",
            ),
        ),
        *_stop(1),
        *_stop(2),
    ),
)

_NOT_MEASURED = ("low_from", (EXTREMES, GIVEN))


def _cold(record, record_name, low_from):
    return Group(
        "How cold it gets",
        (
            Field(
                "low_from",
                "Known from",
                "choice",
                low_from,
                choices=(
                    (MINIMA, "daily minima of a station"),
                    (EXTREMES, "mean and deviation of the coldest of each year"),
                    (GIVEN, "a low that somebody gives"),
                ),
                only_if=(_ONE,),
            ),
            Field(
                "record",
                "Daily minima",
                "file",
                record,
                help="A CSV file: a column date (2004-01-31), and a column for each station, such "
                "as Fernside [°C].",
                unless=(_NOT_MEASURED,),
                file_name=record_name,
            ),
            Field(
                "station",
                "Station",
                "choice",
                next(iter(stations_of(record)), ""),
                choices_of=station_choices,
                only_if=(_ONE, ("low_from", (MINIMA,))),
            ),
            Field(
                "mean_extreme",
                "Mean of the coldest of each year",
                "temperature",
                "−21",
                only_if=(_ONE, ("low_from", (EXTREMES,))),
            ),
            Field(
                "sd_extreme",
                "Their standard deviation",
                "temperature difference",
                "4",
                help="Both stand in tables of building climatology.",
                only_if=(_ONE, ("low_from", (EXTREMES,))),
            ),
            Field(
                "extremes_of",
                "Of so many winters",
                "winters",
                optional=True,
                help="Tells how sure the low is. Leave empty if the table does not say.",
                only_if=(_ONE, ("low_from", (EXTREMES,))),
            ),
            Field(
                "low",
                "Low",
                "temperature",
                "−27",
                only_if=(_ONE, ("low_from", (GIVEN,))),
            ),
            Field(
                "low_error",
                "Low, give or take",
                "temperature difference",
                "3",
                optional=True,
                help="Leave empty if not known; nothing is counted for it then.",
                only_if=(_ONE, ("low_from", (GIVEN,))),
            ),
            Field(
                "low_basis",
                "What it rests on",
                "text",
                help="As the sheet is to print it.",
                only_if=(_ONE, ("low_from", (GIVEN,))),
            ),
            Field(
                "return_period",
                "Passed once in so many winters",
                "winters",
                "20",
                help="Mostly 20 to 50.",
                unless=(("low_from", (GIVEN,)),),
            ),
            Field(
                "low_period",
                "Given as passed once in so many winters",
                "winters",
                optional=True,
                help="Leave empty if nobody said.",
                only_if=(_ONE, ("low_from", (GIVEN,))),
            ),
            Field(
                "usual_fit",
                "Winters by the usual fit (Gumbel)",
                "tick",
                YES,
                help="Take it off to choose.",
                unless=(_NOT_MEASURED,),
            ),
            Field(
                "fit",
                "Fit",
                "choice",
                GUMBEL,
                choices=same(*FITS),
                help="GEV takes 30 winters.",
                only_if=(("usual_fit", (NO,)),),
                unless=(_NOT_MEASURED,),
            ),
        ),
    )


def _depots_group(depots):
    return Group(
        "The depots",
        (
            Field(
                "depots",
                "Depots",
                "table",
                depots,
                help="Station: as the column of the daily minima is called. Heights, differences "
                "and night stops may be left empty.",
                only_if=(_ALL,),
                table=Table(
                    columns=DEPOT_COLUMNS,
                    choice_column="site",
                    shapes={site: () for site in SITES},
                    always=tuple(DEPOT_COLUMNS),
                    open_file=open_depots,
                    row="depot",
                ),
            ),
            Field(
                "price",
                "Price of a litre of the product",
                "money",
                optional=True,
                help="In any money. Leave empty if it does not matter.",
                only_if=(_ALL,),
            ),
        ),
    )


_MARGINS = Group(
    "The margins",
    (
        Field(
            "margin",
            "Margin below the coldest air",
            "temperature difference",
            MARGIN.split()[0],
            help="For what faces a clear sky, and pockets that are mixed badly.",
        ),
        Field(
            "mixing_error",
            "Mixing and measuring out, give or take",
            "share",
            MIXING,
            help="Of the strength, in per cent of product.",
        ),
        Field(
            "tool",
            "Vehicles are read on",
            "choice",
            READ,
            choices=(
                ("freezing point", "refractometer, freezing point"),
                ("per cent", "refractometer, % by volume"),
                ("Brix", "refractometer, °Brix"),
                ("index", "refractometer, refractive index"),
                ("gravity", "hydrometer, specific gravity"),
                ("float", "hydrometer, freezing point"),
            ),
            help="The limits on the sheet are for this instrument.",
        ),
        *_tool_errors(),
        Field(
            "confidence",
            "How sure, all doubts together",
            "share",
            "95 %",
            help="60 to 98 %.",
        ),
        Field(
            "lost_between_tests",
            "Made up with water between two tests",
            "share",
            "0 %",
            help="Share of the coolant.",
        ),
    ),
)

_WHAT_COUNTS = Group(
    "What is counted",
    (
        Field(
            "count_all", "Count every margin and doubt", "tick", YES, help="Take it off to choose."
        ),
        *(
            Field(COUNTS[switch], words, "tick", YES, only_if=(("count_all", (NO,)),))
            for switch, words in _COUNTED.items()
        ),
    ),
)  # fmt: skip

_LIMITS = Group(
    "The limits",
    (
        _strength(
            "floor", "Floor", FLOOR.split()[0], "Weakest, for the inhibitors: by the handbook."
        ),
        _strength(
            "ceiling", "Ceiling", CEILING.split()[0], "Strongest, for cooling: by the handbook."
        ),
        Field("test_every", "Test", "text", TEST_EVERY, only_if=(_ONE,)),
        _strength(
            "today",
            "Today",
            "",
            "What vehicles run with, to compare cooling. Leave empty if it does not matter.",
            optional=True,
            only_if=(_ONE,),
        ),
    ),
)

_SUMMER = Group(
    "Summer",
    (
        Field(
            "hottest",
            "Hottest coolant",
            "temperature",
            "105",
            optional=True,
            help="Measured, or by the handbook. Leave empty if not known.",
        ),
        Field(
            "cap", "Marked on the cap", "gauge pressure", "100", unless=(("hottest", ("",)),)
        ),
    ),
)  # fmt: skip

_SHEET = Group(
    "For the sheet",
    (
        Field("by", "Set by", "text", ""),
        Field("paper", "Paper", "choice", "A4", choices=same("A4", "Letter")),
    ),
)


def form_of(depots=NO_DEPOTS, record="", record_name=""):
    """Return the page's form.

    Parameters
    ----------
    depots : str
        Table of depots that it starts with, as `open_depots` gives it.
    record : str
        Table of daily minima that it starts with, as text.
    record_name : str
        What that file is called.

    Returns
    -------
    Form
    """
    return Form(
        groups=(
            fields.task_group(TASKS),
            _PRODUCT,
            _DEPOT,
            _cold(record, record_name, MINIMA if record else GIVEN),
            _depots_group(depots),
            _MARGINS,
            _WHAT_COUNTS,
            _LIMITS,
            _SUMMER,
            _SHEET,
        ),
        systems=fields.unit_systems(),
    )


FORM = form_of()
