"""What the workshop's page asks, in the order of the work."""

from coolcalc import units
from coolcalc.instruments import MIXED, SCALES
from coolcalc.panels.form import NO, YES, Field, Form, Group
from coolcalc.strength import ERROR_MAX_SHARE, GLYCOL_BY_MASS, GLYCOL_BY_VOLUME, OF_PRODUCT
from coolcalc.system import CAPACITY_M3, FILLS, MAY_NOT, MIXES, SHUT

CORRECT, NOW, BATCH = "correct", "now", "batch"
TASKS = (
    (CORRECT, "correct a measured mix"),
    (NOW, "say what is in it now, after litres out and in"),
    (BATCH, "mix a bucket, drum or tank"),
)

BASES = (
    (OF_PRODUCT, "% of concentrate, as on the can"),
    (GLYCOL_BY_VOLUME, "% of pure glycol by volume"),
    (GLYCOL_BY_MASS, "% of pure glycol by mass"),
)
GLYCOLS = ("ethylene glycol", "propylene glycol")

#: What can be read: kind of instrument and scale, by what the page calls it.
KNOWN, STRIP = "strength", "strip"
TOOLS = {
    "freezing point": ("refractometer", "freeze point"),
    "per cent": ("refractometer", "volume %"),
    "Brix": ("refractometer", "Brix"),
    "index": ("refractometer", "refractive index"),
    "gravity": ("hydrometer", "specific gravity"),
    "float": ("hydrometer", "freeze point"),
}
READ = "freezing point"

#: Name of the field that holds the reading of each instrument.
READINGS = {
    "freezing point": "reading",
    "per cent": "reading_percent",
    "Brix": "reading_brix",
    "index": "reading_index",
    "gravity": "reading_gravity",
    "float": "reading_float",
}
_LABELS = ("freezing point", "per cent", "float")
_FLOATS = ("gravity", "float")
_OPTICS = ("freezing point", "per cent", "Brix", "index")
_SAMPLED = (*TOOLS,)

DILUTED, AS_IT_CAME = "diluted", "as it came"

#: What there can be to pour, by what the page calls it; names of `coolcalc.product.GENERIC`.
SHELVES = {
    "concentrate and water": ("{} concentrate", "water"),
    "concentrate only": ("{} concentrate",),
    "concentrate, ready-mixed 50 % and water": (
        "{} concentrate",
        "{} ready-mixed 50 %",
        "water",
    ),
    "ready-mixed 50 % and water": ("{} ready-mixed 50 %", "water"),
    "ready-mixed 50 % only": ("{} ready-mixed 50 %",),
    "water only": ("water",),
}
WITH_CAN = tuple(name for name, products in SHELVES.items() if "{} concentrate" in products)


def _same(*names):
    return tuple((name, name) for name in names)


def _in(*tasks):
    return ("task", tasks)


def _read_by(*tools):
    return (_in(CORRECT, NOW), ("tool", tools))


def _reading(name, label, tool, default, **more):
    """Return the field of a reading on one scale, and that of its give or take."""
    kind, scale = TOOLS[tool]
    spec = SCALES[kind][scale]
    return (
        Field(name, label, spec.kind, default, only_if=_read_by(tool), **more),
        Field(
            f"{name}_error",
            "Reading, give or take",
            spec.error_kind,
            error_default(spec),
            low=0.0,
            high=spec.error_max,
            only_if=_read_by(tool),
        ),
    )


def error_default(spec):
    """Return the give or take that a page starts with: the scale's own, in its first unit."""
    unit = next(iter(units.SYSTEMS.values())).by_kind().get(spec.error_kind)
    if unit is None:
        return spec.error
    error = units.read("error", spec.error, spec.error_kind)
    return units.write(round(error, 1), spec.error_kind, unit)


_SYSTEM = Group(
    "The system",
    (
        Field(
            "glycol",
            "Glycol inside",
            "choice",
            GLYCOLS[0],
            choices=_same(*GLYCOLS, MIXED),
        ),
        Field(
            "fill",
            "Circuit",
            "choice",
            FILLS[0],
            choices=(
                (FILLS[0], "mixed in the workshop"),
                (FILLS[1], "filled ready-mixed only, by its maker's rule"),
                (FILLS[2], "low-conductivity"),
            ),
            only_if=(_in(CORRECT),),
        ),
        Field(
            "capacity",
            "Capacity",
            "volume",
            "10",
            low=CAPACITY_M3[0],
            high=CAPACITY_M3[1],
            help="Full to the cold mark, with heater and hoses.",
            only_if=(_in(CORRECT, NOW),),
        ),
        Field(
            "capacity_error",
            "Capacity, give or take",
            "volume",
            "0.5",
            help="0 if it was measured by filling.",
            only_if=(_in(CORRECT, NOW),),
        ),
        Field(
            "drainable",
            "Comes out at the drain",
            "volume",
            "6.5",
            help="Leave empty if not known. The rest stays in block and heater.",
            optional=True,
            only_if=(_in(CORRECT, NOW),),
        ),
        Field(
            "low",
            "Missing below the cold mark",
            "volume",
            "0",
            help="Before anything is taken out.",
            only_if=(_in(CORRECT, NOW),),
        ),
        Field(
            "side",
            "Side circuit",
            "choice",
            "none",
            choices=(
                ("none", "none, or it always takes part"),
                (MIXES, "valve open, and it has gone round"),
                (MAY_NOT, "may not have mixed"),
                (SHUT, "shut off, left as it is"),
            ),
            help="A rear heater, or a tank in a bus.",
            only_if=(_in(CORRECT),),
        ),
        Field(
            "side_volume",
            "Side circuit holds",
            "volume",
            "2",
            help="Part of the capacity.",
            only_if=(_in(CORRECT), ("side", (MIXES, MAY_NOT, SHUT))),
        ),
    ),
)

_READING = Group(
    "The reading",
    (
        Field(
            "tool",
            "Read on",
            "choice",
            READ,
            choices=(
                ("freezing point", "refractometer, freezing point"),
                ("per cent", "refractometer, % by volume"),
                ("Brix", "refractometer, °Brix"),
                ("index", "refractometer, refractive index"),
                ("gravity", "hydrometer, specific gravity"),
                ("float", "hydrometer, freezing point"),
                (STRIP, "test strip"),
                (KNOWN, "known as per cent"),
            ),
            only_if=(_in(CORRECT, NOW),),
        ),
        *_reading(
            "reading",
            "Reading",
            "freezing point",
            "−16",
            help="With its minus.",
        ),
        *_reading("reading_percent", "Reading", "per cent", "30 %"),
        *_reading("reading_brix", "Reading", "Brix", "20"),
        *_reading("reading_index", "Reading", "index", "1.3640"),
        *_reading("reading_gravity", "Reading", "gravity", "1.045"),
        *_reading("reading_float", "Reading", "float", "−16", help="With its minus."),
        Field(
            "line",
            "Scale made for",
            "choice",
            GLYCOLS[0],
            choices=_same(*GLYCOLS),
            help="The line that was read. If it is not for the glycol inside, it is converted.",
            only_if=_read_by(*_LABELS),
        ),
        Field(
            "strip_steps",
            "Steps of the strip",
            "text",
            "0 %, 20 %, 33 %, 40 %, 50 %, 60 %",
            help="As printed beside the colours, with commas between.",
            only_if=_read_by(STRIP),
        ),
        Field("strip_step", "Nearest colour", "text", "33 %", only_if=_read_by(STRIP)),
        Field(
            "found",
            "Found",
            "strength",
            "30",
            unit_choices=BASES,
            only_if=_read_by(KNOWN),
        ),
        Field(
            "found_error",
            "Found, give or take",
            "share",
            "2 %",
            high=ERROR_MAX_SHARE,
            only_if=_read_by(KNOWN),
        ),
        Field("zeroed", "Set to zero on water first", "tick", YES, only_if=_read_by(*_OPTICS)),
        Field(
            "reference",
            "Scale laid out at",
            "choice",
            "60 °F",
            choices=(("60 °F", "60 °F (15.6 °C)"), ("20 °C", "20 °C (68 °F)")),
            help="It is printed on the float.",
            only_if=_read_by(*_FLOATS),
        ),
        Field(
            "compensated",
            "Corrects for temperature by itself",
            "tick",
            YES,
            only_if=_read_by(*_OPTICS),
        ),
        Field(
            "sample_temp",
            "Temperature of the sample",
            "temperature",
            "20",
            help="A hot sample reads too weak.",
            only_if=_read_by(*_FLOATS),
        ),
        Field(
            "prism_temp",
            "Temperature of the sample",
            "temperature",
            "20",
            only_if=(*_read_by(*_OPTICS), ("compensated", (NO,))),
        ),
        Field(
            "sample",
            "Sample read",
            "choice",
            AS_IT_CAME,
            choices=((AS_IT_CAME, "as it came"), (DILUTED, "diluted 1:1 with water")),
            help="Dilute where the reading is off the scale.",
            only_if=_read_by(*_SAMPLED),
        ),
    ),
)

_DONE = Group(
    "What was done",
    (
        Field("taken_out", "Taken out", "volume", "1", only_if=(_in(NOW),)),
        Field("put_concentrate", "Concentrate poured", "volume", "1", only_if=(_in(NOW),)),
        Field("put_ready", "Ready-mixed 50 % poured", "volume", "0", only_if=(_in(NOW),)),
        Field("put_water", "Water poured", "volume", "0", only_if=(_in(NOW),)),
    ),
)

_BATCH = Group(
    "The bucket, drum or tank",
    (
        Field("volume", "Wanted in all", "volume", "20", low=1e-4, only_if=(_in(BATCH),)),
        Field(
            "container",
            "The container holds",
            "volume",
            "25",
            optional=True,
            help="Leave empty if there is room enough.",
            only_if=(_in(BATCH),),
        ),
        Field("remnant", "Still in it", "volume", "0", only_if=(_in(BATCH),)),
        Field(
            "remnant_strength",
            "Strength of what is in it",
            "strength",
            "30",
            unit_choices=BASES,
            only_if=(_in(BATCH),),
        ),
        Field("weigh", "Weigh instead of measure", "tick", NO, only_if=(_in(BATCH),)),
    ),
)

_WANTED = Group(
    "What is wanted",
    (
        Field(
            "target_as",
            "Target as",
            "choice",
            READ,
            choices=((READ, "freezing point"), (KNOWN, "per cent")),
        ),
        Field(
            "target_freezing",
            "Target freezing point",
            "freezing point",
            "−37",
            help="Several degrees colder than the coldest night.",
            only_if=(("target_as", (READ,)),),
        ),
        Field(
            "target",
            "Target",
            "strength",
            "50",
            unit_choices=BASES,
            only_if=(("target_as", (KNOWN,)),),
        ),
        Field("safe", "Be on the safe side", "tick", NO, only_if=(_in(CORRECT),)),
    ),
)

_POUR = Group(
    "What there is to pour",
    (
        Field(
            "shelf",
            "To pour",
            "choice",
            "concentrate and water",
            choices=_same(*SHELVES),
            help="Concentrate is taken as 94 % glycol by mass, as most are.",
            only_if=(_in(CORRECT, BATCH),),
        ),
        Field(
            "can_left",
            "Concentrate left in the can",
            "volume",
            "",
            help="Leave empty if there is enough.",
            optional=True,
            only_if=(_in(CORRECT), ("shelf", WITH_CAN)),
        ),
        Field(
            "temp",
            "Temperature of the liquids",
            "temperature",
            "20",
            help="Of what is poured, on a cold engine.",
        ),
        Field(
            "drain_temp",
            "Temperature of what is taken out",
            "temperature",
            "",
            help="Leave empty if it is the same.",
            optional=True,
            only_if=(_in(CORRECT, NOW),),
        ),
    ),
)

_CARD = Group(
    "For the card",
    (
        Field("vehicle", "Vehicle", "text", ""),
        Field("by", "Done by", "text", ""),
        Field("paper", "Paper", "choice", "A4", choices=_same("A4", "Letter")),
    ),
)

FORM = Form(
    groups=(
        Group("The work", (Field("task", "To do", "choice", CORRECT, choices=TASKS),)),
        _SYSTEM,
        _BATCH,
        _READING,
        _DONE,
        _WANTED,
        _POUR,
        _CARD,
    ),
    systems={name: system.by_kind() for name, system in units.SYSTEMS.items()},
)
