"""What the page of capacity, growth and boiling asks, in the order of the work."""

from coolcalc.errors import InputError
from coolcalc.instruments.scales import SCALES
from coolcalc.jobs.expansion_plan import BOTTLE, UNDER_CAP
from coolcalc.jobs.metals import METALS
from coolcalc.jobs.parts_table import (
    COLUMNS,
    EXAMPLE_PARTS,
    KINDS,
    NEEDS,
    parts_csv,
    read_parts,
    rows_of,
)
from coolcalc.panels import fields, table
from coolcalc.panels.fields import KNOWN, READINGS, STRIP, TOOLS, in_task, same
from coolcalc.panels.form import Field, Form, Group, Table

GROWTH, BOIL, FILL, PARTS, SWAP = "growth", "boiling", "fill", "parts", "swap"
TASKS = (
    (GROWTH, "level: how far hot coolant rises"),
    (BOIL, "boiling: how far it is off"),
    (FILL, "capacity: measure what goes in"),
    (PARTS, "capacity: add up the parts"),
    (SWAP, "capacity: swap, and read twice"),
)
_HOT = in_task(GROWTH, BOIL)
_READ = in_task(GROWTH, BOIL, SWAP)

#: What is inside where nothing was read.
MIX, PLAIN_WATER = "mix", "plain water"

#: What can be swapped in; names of `coolcalc.product.GENERIC`.
SWAP_WITH = {"water": "water", "concentrate": "{} concentrate"}

#: Whether a cap holds pressure.
CAP, NO_CAP = "cap", "no cap"

#: Names of the fields of the second reading, by what the page calls the instrument.
AFTER = {tool: f"{name}_after" for tool, name in READINGS.items()} | {
    KNOWN: "found_after",
    STRIP: "strip_step_after",
}
_AFTER_DEFAULTS = {
    "freezing point": "−25",
    "per cent": "24 %",
    "Brix": "16",
    "index": "1.3580",
    "gravity": "1.036",
    "float": "−25",
}


def _after():
    """Yield the field of the second reading on each instrument."""
    for tool, (kind, scale) in TOOLS.items():
        yield Field(
            AFTER[tool],
            "Reading afterwards",
            SCALES[kind][scale].kind,
            _AFTER_DEFAULTS[tool],
            help="On the same instrument, once it has gone round.",
            only_if=(in_task(SWAP), ("tool", (tool,))),
        )
    yield Field(
        AFTER[KNOWN],
        "Found afterwards",
        "strength",
        "24",
        unit_choices=fields.BASES,
        only_if=(in_task(SWAP), ("tool", (KNOWN,))),
    )
    yield Field(
        AFTER[STRIP],
        "Nearest colour afterwards",
        "text",
        "20 %",
        only_if=(in_task(SWAP), ("tool", (STRIP,))),
    )


def open_parts(content):
    """Return a CSV file of parts as the table's text, bad rows and all; no table is refused."""
    rows = rows_of(content)
    read_parts(rows)
    if not rows:
        raise InputError("parts", "", "there is no row in that file; nothing was changed.")
    return table.laid_out(rows, {name: unit for name, (_, unit) in COLUMNS.items()})


_SYSTEM = Group(
    "The system",
    (
        fields.glycol(_READ, label="Glycol", help="Inside."),
        fields.fill(in_task(GROWTH)),
        *fields.capacity(_HOT),
    ),
)

_INSIDE = Group(
    "What is inside",
    (
        Field(
            "inside",
            "Inside",
            "choice",
            MIX,
            choices=((MIX, "mix, as read"), (PLAIN_WATER, "plain water")),
            only_if=(_HOT,),
        ),
    ),
)

_TANK = Group(
    "The tank",
    (
        Field(
            "tank",
            "Room for growth",
            "choice",
            UNDER_CAP,
            choices=(
                (UNDER_CAP, "expansion tank, under the cap"),
                (BOTTLE, "overflow bottle, after the cap"),
            ),
            only_if=(in_task(GROWTH),),
        ),
        Field(
            "room",
            "Room above the cold mark",
            "volume",
            "1.5",
            help="Up to the cap, or to the bottle's brim. Leave empty if not known.",
            optional=True,
            only_if=(in_task(GROWTH),),
        ),
        Field(
            "below",
            "Below the cold mark",
            "volume",
            "0.4",
            help="Down to where air is drawn in. Leave empty if not known.",
            optional=True,
            only_if=(in_task(GROWTH),),
        ),
        Field(
            "metal",
            "Engine and radiator of",
            "choice",
            "aluminium",
            choices=same(*METALS),
            only_if=(in_task(GROWTH),),
        ),
    ),
)

_CAP = Group(
    "The cap",
    (
        Field(
            "cap_fitted",
            "Cap",
            "choice",
            CAP,
            choices=((CAP, "holds pressure"), (NO_CAP, "none, or holds nothing")),
            only_if=(_HOT,),
        ),
        Field(
            "cap",
            "Marked on the cap",
            "gauge pressure",
            "100",
            only_if=(_HOT, ("cap_fitted", (CAP,))),
        ),
        Field(
            "cap_holds",
            "Holds, by a cap tester",
            "gauge pressure",
            "",
            help="Leave empty if it was not tested.",
            optional=True,
            only_if=(in_task(BOIL), ("cap_fitted", (CAP,))),
        ),
        Field("altitude", "Height above the sea", "altitude", "0", only_if=(_HOT,)),
    ),
)

_HEAT = Group(
    "Cold and hot",
    (
        Field(
            "cold",
            "Coolant when it stood at the cold mark",
            "temperature",
            "15",
            only_if=(in_task(GROWTH),),
        ),
        Field(
            "hot",
            "Hottest coolant",
            "temperature",
            "105",
            only_if=(in_task(GROWTH),),
        ),
        Field(
            "gas",
            "Gas above it when hot",
            "temperature",
            "",
            help="By a thermometer on the tank. Leave empty if not known.",
            optional=True,
            only_if=(in_task(GROWTH), ("tank", (UNDER_CAP,))),
        ),
        Field(
            "coldest",
            "Coldest start",
            "temperature",
            "−25",
            help="Leave empty if it does not matter.",
            optional=True,
            only_if=(in_task(GROWTH),),
        ),
        Field(
            "hottest",
            "Hottest coolant",
            "temperature",
            "105",
            help="Measured, or by the handbook. Leave empty if not known.",
            optional=True,
            only_if=(in_task(BOIL),),
        ),
        Field(
            "top_tank",
            "Top tank at full load",
            "temperature",
            "",
            help="With the outside air below, for air to boil. Leave both empty if not measured.",
            optional=True,
            only_if=(in_task(BOIL),),
        ),
        Field(
            "outside",
            "Outside air at that time",
            "temperature",
            "",
            optional=True,
            only_if=(in_task(BOIL),),
        ),
    ),
)

_FILL = Group(
    "The fill",
    (
        Field(
            "poured", "Poured in, up to the cold mark", "volume", "8.8", only_if=(in_task(FILL),)
        ),
        Field(
            "measures",
            "In so many measures",
            "count",
            "2",
            low=1.0,
            high=200.0,
            help="How often the can was filled.",
            only_if=(in_task(FILL),),
        ),
        Field(
            "topped_up",
            "Made up after a run",
            "volume",
            "0.4",
            help="Cold, to the mark, once air had come out.",
            only_if=(in_task(FILL),),
        ),
        Field(
            "still_inside",
            "Still inside before",
            "volume",
            "0.8",
            help="0 if it was dry.",
            only_if=(in_task(FILL),),
        ),
        Field(
            "still_inside_error",
            "Still inside, give or take",
            "volume",
            "0.3",
            only_if=(in_task(FILL),),
        ),
        Field(
            "jug_error",
            "The can may be out by",
            "share",
            "2 %",
            only_if=(in_task(FILL),),
        ),
        Field(
            "each_error",
            "Each measure, give or take",
            "volume",
            "0.05",
            only_if=(in_task(FILL),),
        ),
    ),
)

_PARTS = Group(
    "The parts",
    (
        Field(
            "parts",
            "Parts",
            "table",
            parts_csv(EXAMPLE_PARTS).decode("utf-8"),
            help="Inner bores. Volumes are of one piece. Give or take may be left empty.",
            only_if=(in_task(PARTS),),
            table=Table(
                columns={name: kind for name, (kind, _) in COLUMNS.items()},
                choice_column="kind",
                shapes={kind: NEEDS.get(kind, ("volume",)) for kind in KINDS},
                always=("part", "count", "give or take"),
                open_file=open_parts,
            ),
        ),
    ),
)

_SWAP = Group(
    "The swap",
    (
        Field(
            "swapped",
            "Taken out, and poured in",
            "volume",
            "2",
            only_if=(in_task(SWAP),),
        ),
        Field(
            "swapped_error",
            "Those litres, give or take",
            "volume",
            "0.05",
            only_if=(in_task(SWAP),),
        ),
        Field(
            "swap_with",
            "Poured in",
            "choice",
            "water",
            choices=same(*SWAP_WITH),
            only_if=(in_task(SWAP),),
        ),
        *_after(),
        Field(
            "wanted",
            "Wanted, give or take",
            "share",
            "10 %",
            help="Of the capacity: the answer says which swap gives it.",
            only_if=(in_task(SWAP),),
        ),
        Field(
            "about",
            "Holds about",
            "volume",
            "",
            help="From the handbook. Leave empty if not known.",
            optional=True,
            only_if=(in_task(SWAP),),
        ),
        fields.temp(in_task(SWAP)),
    ),
)

FORM = Form(
    groups=(
        fields.task_group(TASKS),
        _SYSTEM,
        _INSIDE,
        fields.reading_group(
            "The reading", _READ, unless=(("inside", (PLAIN_WATER,)),), freezing="−37"
        ),
        _TANK,
        _CAP,
        _HEAT,
        _FILL,
        _PARTS,
        _SWAP,
        fields.CARD,
    ),
    systems=fields.unit_systems(),
)
