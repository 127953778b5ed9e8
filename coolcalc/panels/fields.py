"""Fields that more than one page asks: the system, the reading, the target, what is poured.

Each takes the choices with which it is asked, as `Field.only_if` holds them.
"""

from coolcalc import units
from coolcalc.instruments import MIXED, SCALES
from coolcalc.panels.form import NO, YES, Field, Group
from coolcalc.strength import ERROR_MAX_SHARE, GLYCOL_BY_MASS, GLYCOL_BY_VOLUME, OF_PRODUCT
from coolcalc.system import CAPACITY_M3, FILLS, MAY_NOT, MIXES, SHUT

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


def same(*names):
    """Return choices whose values are the words that show them."""
    return tuple((name, name) for name in names)


def in_task(*tasks):
    """Return the condition that one of these tasks is chosen."""
    return ("task", tasks)


def task_group(tasks):
    """Return the first group of a page: what is to be done, the first task at the start."""
    return Group("The work", (Field("task", "To do", "choice", tasks[0][0], choices=tasks),))


# --- the system -----------------------------------------------------------------------------------


def glycol(*only_if, **more):
    """Return the field of the glycol that is worked on."""
    choices = same(*GLYCOLS, MIXED)
    told = {"label": "Glycol inside", "only_if": only_if} | more
    return Field("glycol", kind="choice", default=GLYCOLS[0], choices=choices, **told)


def fill(*only_if):
    """Return the field of how the circuit may be filled."""
    return Field(
        "fill",
        "Circuit",
        "choice",
        FILLS[0],
        choices=(
            (FILLS[0], "mixed in the workshop"),
            (FILLS[1], "filled ready-mixed only, by its maker's rule"),
            (FILLS[2], "low-conductivity"),
        ),
        only_if=only_if,
    )


def capacity(*only_if, default="10"):
    """Return the fields of the capacity, and of its give or take."""
    return (
        Field(
            "capacity",
            "Capacity",
            "volume",
            default,
            low=CAPACITY_M3[0],
            high=CAPACITY_M3[1],
            help="Full to the cold mark, with heater and hoses.",
            only_if=only_if,
        ),
        Field(
            "capacity_error",
            "Capacity, give or take",
            "volume",
            "0.5",
            help="0 if it was measured by filling.",
            only_if=only_if,
        ),
    )


def drainable(*only_if, **more):
    """Return the field of what comes out at the drain."""
    told = {
        "default": "6.5",
        "help": "Leave empty if not known. The rest stays in block and heater.",
        "optional": True,
        "only_if": only_if,
    }
    return Field("drainable", "Comes out at the drain", "volume", **(told | more))


def low(*only_if, **more):
    """Return the field of what is missing below the mark."""
    told = {"help": "Before anything is taken out.", "only_if": only_if} | more
    return Field("low", "Missing below the cold mark", "volume", "0", **told)


def side_circuit(*only_if):
    """Return the fields of a side circuit: what it does, and what it holds."""
    return (
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
            only_if=only_if,
        ),
        Field(
            "side_volume",
            "Side circuit holds",
            "volume",
            "2",
            help="Part of the capacity.",
            only_if=(*only_if, ("side", (MIXES, MAY_NOT, SHUT))),
        ),
    )


# --- the reading ----------------------------------------------------------------------------------


def error_default(spec):
    """Return the give or take that a page starts with: the scale's own, in its first unit."""
    unit = next(iter(units.SYSTEMS.values())).by_kind().get(spec.error_kind)
    if unit is None:
        return spec.error
    error = units.read("error", spec.error, spec.error_kind)
    return units.write(round(error, 1), spec.error_kind, unit)


def _scale(only_if, label, tool, default, help_text=""):
    """Return the field of a reading on one scale, and that of its give or take."""
    name = READINGS[tool]
    kind, scale = TOOLS[tool]
    spec = SCALES[kind][scale]
    only_if = (*only_if, ("tool", (tool,)))
    return (
        Field(name, label, spec.kind, default, help=help_text, only_if=only_if),
        Field(
            f"{name}_error",
            f"{label}, give or take",
            spec.error_kind,
            error_default(spec),
            low=0.0,
            high=spec.error_max,
            only_if=only_if,
        ),
    )


def reading_group(heading, *only_if, unless=(), freezing="−16"):
    """Return the group of one reading, on any instrument.

    Parameters
    ----------
    heading : str
        Of the group.
    *only_if : (str, tuple of str)
        With which choices a reading is asked.
    unless : tuple of (str, tuple of str)
        With which it is not.
    freezing : str
        Freezing point at the start. [°C]
    """

    def read_by(*tools):
        return (*only_if, ("tool", tools))

    return Group(
        heading,
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
                only_if=only_if,
                unless=unless,
            ),
            *_scale(only_if, "Reading", "freezing point", freezing, "With its minus."),
            *_scale(only_if, "Reading", "per cent", "30 %"),
            *_scale(only_if, "Reading", "Brix", "20"),
            *_scale(only_if, "Reading", "index", "1.3640"),
            *_scale(only_if, "Reading", "gravity", "1.045"),
            *_scale(only_if, "Reading", "float", freezing, "With its minus."),
            Field(
                "line",
                "Scale made for",
                "choice",
                GLYCOLS[0],
                choices=same(*GLYCOLS),
                help="The line that was read. If it is not for the glycol inside, it is converted.",
                only_if=read_by(*_LABELS),
            ),
            Field(
                "strip_steps",
                "Steps of the strip",
                "text",
                "0 %, 20 %, 33 %, 40 %, 50 %, 60 %",
                help="As printed beside the colours, with commas between.",
                only_if=read_by(STRIP),
            ),
            Field("strip_step", "Nearest colour", "text", "33 %", only_if=read_by(STRIP)),
            Field(
                "found",
                "Found",
                "strength",
                "30",
                unit_choices=BASES,
                only_if=read_by(KNOWN),
            ),
            Field(
                "found_error",
                "Found, give or take",
                "share",
                "2 %",
                high=ERROR_MAX_SHARE,
                only_if=read_by(KNOWN),
            ),
            Field("zeroed", "Set to zero on water first", "tick", YES, only_if=read_by(*_OPTICS)),
            Field(
                "reference",
                "Scale laid out at",
                "choice",
                "60 °F",
                choices=(("60 °F", "60 °F (15.6 °C)"), ("20 °C", "20 °C (68 °F)")),
                help="It is printed on the float.",
                only_if=read_by(*_FLOATS),
            ),
            Field(
                "compensated",
                "Corrects for temperature by itself",
                "tick",
                YES,
                only_if=read_by(*_OPTICS),
            ),
            Field(
                "sample_temp",
                "Temperature of the sample",
                "temperature",
                "20",
                help="A hot sample reads too weak.",
                only_if=read_by(*_FLOATS),
            ),
            Field(
                "prism_temp",
                "Temperature of the sample",
                "temperature",
                "20",
                only_if=(*read_by(*_OPTICS), ("compensated", (NO,))),
            ),
            Field(
                "sample",
                "Sample read",
                "choice",
                AS_IT_CAME,
                choices=((AS_IT_CAME, "as it came"), (DILUTED, "diluted 1:1 with water")),
                help="Dilute where the reading is off the scale.",
                only_if=read_by(*TOOLS),
            ),
        ),
    )


# --- what is wanted, and what there is to pour ----------------------------------------------------


def target(*only_if):
    """Return the fields of a target: as a freezing point, or as per cent."""
    return (
        Field(
            "target_as",
            "Target as",
            "choice",
            READ,
            choices=((READ, "freezing point"), (KNOWN, "per cent")),
            only_if=only_if,
        ),
        Field(
            "target_freezing",
            "Target freezing point",
            "freezing point",
            "−37",
            help="Several degrees colder than the coldest night.",
            only_if=(*only_if, ("target_as", (READ,))),
        ),
        Field(
            "target",
            "Target",
            "strength",
            "50",
            unit_choices=BASES,
            only_if=(*only_if, ("target_as", (KNOWN,))),
        ),
    )


def shelf(*only_if):
    """Return the field of what there is to pour."""
    return Field(
        "shelf",
        "To pour",
        "choice",
        "concentrate and water",
        choices=same(*SHELVES),
        help="Concentrate is taken as 94 % glycol by mass, as most are.",
        only_if=only_if,
    )


def temp(*only_if):
    """Return the field of the temperature of the liquids."""
    return Field(
        "temp",
        "Temperature of the liquids",
        "temperature",
        "20",
        help="Of what is poured, on a cold engine.",
        only_if=only_if,
    )


CARD = Group(
    "For the card",
    (
        Field("vehicle", "Vehicle", "text", ""),
        Field("by", "Done by", "text", ""),
        Field("paper", "Paper", "choice", "A4", choices=same("A4", "Letter")),
    ),
)


def unit_systems():
    """Return the unit systems of a page, as `Form.systems` holds them."""
    return {name: system.by_kind() for name, system in units.SYSTEMS.items()}
