"""What the workshop's page asks, in the order of the work."""

from coolcalc.panels import fields
from coolcalc.panels.fields import BASES, READINGS, SHELVES, TOOLS, WITH_CAN, in_task
from coolcalc.panels.form import NO, Field, Form, Group

__all__ = ["BATCH", "CORRECT", "FORM", "NOW", "READINGS", "SHELVES", "TASKS", "TOOLS"]

CORRECT, NOW, BATCH = "correct", "now", "batch"
TASKS = (
    (CORRECT, "correct a measured mix"),
    (NOW, "say what is in it now, after litres out and in"),
    (BATCH, "mix a bucket, drum or tank"),
)
_MEASURED = in_task(CORRECT, NOW)

_SYSTEM = Group(
    "The system",
    (
        fields.glycol(),
        fields.fill(in_task(CORRECT)),
        *fields.capacity(_MEASURED),
        fields.drainable(_MEASURED),
        fields.low(_MEASURED),
        *fields.side_circuit(in_task(CORRECT)),
    ),
)

_DONE = Group(
    "What was done",
    (
        Field("taken_out", "Taken out", "volume", "1", only_if=(in_task(NOW),)),
        Field("put_concentrate", "Concentrate poured", "volume", "1", only_if=(in_task(NOW),)),
        Field("put_ready", "Ready-mixed 50 % poured", "volume", "0", only_if=(in_task(NOW),)),
        Field("put_water", "Water poured", "volume", "0", only_if=(in_task(NOW),)),
    ),
)

_BATCH = Group(
    "The bucket, drum or tank",
    (
        Field("volume", "Wanted in all", "volume", "20", low=1e-4, only_if=(in_task(BATCH),)),
        Field(
            "container",
            "The container holds",
            "volume",
            "25",
            optional=True,
            help="Leave empty if there is room enough.",
            only_if=(in_task(BATCH),),
        ),
        Field("remnant", "Still in it", "volume", "0", only_if=(in_task(BATCH),)),
        Field(
            "remnant_strength",
            "Strength of what is in it",
            "strength",
            "30",
            unit_choices=BASES,
            only_if=(in_task(BATCH),),
        ),
        Field("weigh", "Weigh instead of measure", "tick", NO, only_if=(in_task(BATCH),)),
    ),
)

_WANTED = Group(
    "What is wanted",
    (
        *fields.target(),
        Field("safe", "Be on the safe side", "tick", NO, only_if=(in_task(CORRECT),)),
    ),
)

_POUR = Group(
    "What there is to pour",
    (
        fields.shelf(in_task(CORRECT, BATCH)),
        Field(
            "can_left",
            "Concentrate left in the can",
            "volume",
            "",
            help="Leave empty if there is enough.",
            optional=True,
            only_if=(in_task(CORRECT), ("shelf", WITH_CAN)),
        ),
        fields.temp(),
        Field(
            "drain_temp",
            "Temperature of what is taken out",
            "temperature",
            "",
            help="Leave empty if it is the same.",
            optional=True,
            only_if=(_MEASURED,),
        ),
    ),
)

FORM = Form(
    groups=(
        fields.task_group(TASKS),
        _SYSTEM,
        _BATCH,
        fields.reading_group("The reading", _MEASURED),
        _DONE,
        _WANTED,
        _POUR,
        fields.CARD,
    ),
    systems=fields.unit_systems(),
)
