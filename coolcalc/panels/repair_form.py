"""What the page after a repair asks, in the order of the work."""

from coolcalc import units
from coolcalc.jobs.refill_shares import OPENED_SHARES
from coolcalc.panels import fields
from coolcalc.panels.fields import in_task, same
from coolcalc.panels.form import NO, YES, Field, Form, Group

REFILL, FLUSH, TOPUPS, CHECK = "refill", "flush", "top-ups", "water"
TASKS = (
    (REFILL, "refill after a repair"),
    (FLUSH, "flush to a limit of old coolant"),
    (TOPUPS, "say what top-ups have done"),
    (CHECK, "check water for mixing"),
)
_ON_SYSTEM = in_task(REFILL, FLUSH, TOPUPS)

#: What is still inside, and whether what was caught goes back into a dry engine.
OLD_MIX, PLAIN_WATER, DRY, DRY_AND_BACK = "old mix", "plain water", "nothing", "nothing, mix back"

#: Fields of each part that can be opened: whether it was, and the least and most that comes out.
PARTS = {
    part: tuple(f"{name}_{part.replace(' ', '_')}" for name in ("opened", "least", "most"))
    for part in OPENED_SHARES
}
_OPENED_FIRST = ("radiator", "lower hose")

#: What it can be flushed with; names of `coolcalc.product.GENERIC`.
FLUSH_WITH = {"water": "water", "ready-mixed 50 %": "{} ready-mixed 50 %"}

#: Most top-ups of one question that the page offers. [count]
TOPUPS_MAX = 12

#: What is left out where it was not tested.
NOT_TESTED = "not tested"


def _named(part):
    return "Cylinder head" if part == "head" else part.capitalize()


def _ticks():
    return tuple(
        Field(
            opened,
            _named(part),
            "tick",
            YES if part in _OPENED_FIRST else NO,
            only_if=(in_task(REFILL),),
        )
        for part, (opened, _, _) in PARTS.items()
    )


def _shares():
    """Yield the fields of what comes out of an opened part, asked where nothing was caught."""
    for part, (opened, least, most) in PARTS.items():
        only_if = (in_task(REFILL), ("caught", ("",)), (opened, (YES,)))
        ends = zip((least, most), ("least", "most"), OPENED_SHARES[part], strict=True)
        for name, end, share in ends:
            help_text = "Share of the capacity; common practice, no source."
            if part == "head":
                help_text += " Not counted beside the block plugs."
            yield Field(
                name,
                f"{_named(part)}: comes out at {end}",
                "share",
                units.show(share, "share", "%", 0),
                help=help_text if end == "least" else "",
                only_if=only_if,
            )


_SYSTEM = Group(
    "The system",
    (
        fields.glycol(_ON_SYSTEM, label="Glycol", help="Inside, and to pour."),
        fields.fill(in_task(REFILL, FLUSH)),
        *fields.capacity(_ON_SYSTEM, default="12"),
        fields.drainable(in_task(FLUSH), default="8", optional=False, help="Out of a full system."),
        fields.low(in_task(REFILL, FLUSH), help="Before the work."),
    ),
)

_OUT = Group(
    "What came out",
    (
        Field(
            "caught",
            "Caught in the pan",
            "volume",
            "7.5",
            help="Leave empty if not measured: what was opened then tells, less well.",
            optional=True,
            only_if=(in_task(REFILL),),
        ),
        Field(
            "caught_error",
            "Caught, give or take",
            "volume",
            "0.3",
            only_if=(in_task(REFILL),),
            unless=(("caught", ("",)),),
        ),
        Field(
            "spilled",
            "On the floor",
            "volume",
            "0.3",
            only_if=(in_task(REFILL),),
            unless=(("caught", ("",)),),
        ),
        Field(
            "spilled_error",
            "On the floor, give or take",
            "volume",
            "0.2",
            help="Leave empty for half of it.",
            optional=True,
            only_if=(in_task(REFILL),),
            unless=(("caught", ("",)),),
        ),
    ),
)

_INSIDE = Group(
    "What is still inside",
    (
        Field(
            "inside",
            "Still inside",
            "choice",
            OLD_MIX,
            choices=(
                (OLD_MIX, "old mix"),
                (PLAIN_WATER, "plain water, after a flush"),
                (DRY, "nothing: dry"),
                (DRY_AND_BACK, "nothing, and caught mix goes back"),
            ),
            only_if=(in_task(REFILL),),
        ),
    ),
)

_FILL = Group(
    "The filling",
    (
        Field(
            "pour_back",
            "Clean caught mix to pour back",
            "volume",
            "0",
            help="Settled, through a sieve, and out of this system.",
            only_if=(in_task(REFILL), ("inside", (OLD_MIX, DRY_AND_BACK))),
        ),
        Field(
            "bucket",
            "Clean bucket holds",
            "volume",
            "10",
            help="Leave empty if there is none: the concentrate then goes in first.",
            optional=True,
            only_if=(in_task(REFILL),),
        ),
        Field(
            "engine_only",
            "Engine alone holds, on a stand",
            "volume",
            "",
            help="Leave empty if it is filled in the vehicle only.",
            optional=True,
            only_if=(in_task(REFILL), ("inside", (DRY, DRY_AND_BACK))),
        ),
    ),
)

_LIMIT = Group(
    "The flush",
    (
        Field(
            "may_stay",
            "Old coolant that may stay",
            "share",
            "5 %",
            help="Of what is inside at the end.",
            only_if=(in_task(FLUSH),),
        ),
        Field(
            "flush_with",
            "Flush with",
            "choice",
            "water",
            choices=same(*FLUSH_WITH),
            only_if=(in_task(FLUSH),),
        ),
    ),
)

_TOPPED = Group(
    "The top-ups",
    (
        Field(
            "topup_count",
            "Topped up with water, times",
            "choice",
            "6",
            choices=same(*map(str, range(1, TOPUPS_MAX + 1))),
            only_if=(in_task(TOPUPS),),
        ),
        Field("topup_each", "Each time", "volume", "0.5", only_if=(in_task(TOPUPS),)),
        Field(
            "lost",
            "Lost before each",
            "choice",
            "mix",
            choices=(("mix", "mix: a leak, or pushed out"), ("steam", "steam: only water went")),
            only_if=(in_task(TOPUPS),),
        ),
        Field(
            "hours",
            "Engine hours over which",
            "hours",
            "",
            help="Leave empty if not known.",
            optional=True,
            only_if=(in_task(TOPUPS),),
        ),
        Field(
            "additive",
            "Additive, tested before",
            "choice",
            NOT_TESTED,
            choices=same(NOT_TESTED, "nitrite", "molybdate"),
            only_if=(in_task(TOPUPS),),
        ),
        Field(
            "additive_content",
            "Its content, mg/L",
            "concentration in water",
            "1200",
            only_if=(in_task(TOPUPS), ("additive", ("nitrite", "molybdate"))),
        ),
    ),
)


def _content(name, label, default=""):
    return Field(
        name,
        f"{label}, mg/L",
        "concentration in water",
        default,
        optional=True,
        only_if=(in_task(CHECK),),
    )


_WATER = Group(
    "The water",
    (
        Field(
            "hardness",
            "Hardness",
            "hardness",
            "250",
            help="From the waterworks' report or a test strip. Leave empty what is not known.",
            unit_choices=(
                ("mg/L", "mg/L (ppm) as calcium carbonate"),
                ("°dH", "German degrees, °dH"),
                ("gr/US gal", "grains per US gallon"),
            ),
            optional=True,
            only_if=(in_task(CHECK),),
        ),
        _content("chloride", "Chloride", "30"),
        _content("sulphate", "Sulphate"),
        _content("solids", "Dissolved solids in all"),
        Field("ph", "pH", "pH", "7.5", optional=True, only_if=(in_task(CHECK),)),
        Field(
            "softened",
            "From a softener that works with salt",
            "tick",
            NO,
            only_if=(in_task(CHECK),),
        ),
    ),
)

FORM = Form(
    groups=(
        fields.task_group(TASKS),
        _SYSTEM,
        Group("What was opened", _ticks()),
        _OUT,
        Group("What the opened parts let out", tuple(_shares())),
        _INSIDE,
        fields.reading_group(
            "The reading before",
            _ON_SYSTEM,
            unless=(("inside", (PLAIN_WATER, DRY)),),
            freezing="−20",
        ),
        _FILL,
        _TOPPED,
        _LIMIT,
        Group("What is wanted", fields.target(_ON_SYSTEM)),
        Group(
            "What there is to pour",
            (fields.shelf(in_task(REFILL, FLUSH)), fields.temp(_ON_SYSTEM)),
        ),
        Group(
            "After the work",
            (
                Field(
                    "went_in",
                    "Went in, in fact",
                    "volume",
                    "",
                    help="Fill in when it is done: the answer then says what it means.",
                    optional=True,
                    only_if=(in_task(REFILL),),
                ),
            ),
        ),
        _WATER,
        fields.CARD,
    ),
    systems=fields.unit_systems(),
)
