"""No text of any answer is a permission to open a hot system, or a temperature at which one may."""

import inspect
import re

import pytest

import coolcalc as cc
from coolcalc import charts, jobs
from coolcalc.errors import REASONS
from coolcalc.jobs import BoilMargin, Expansion, FrostStandard
from coolcalc.panels import frost_form, holding_form, repair_form, workshop_form

from .test_boil_margin import CASES as BOILING
from .test_boil_margin import job_of as boil_job
from .test_capacity_words import CASES as CAPACITIES
from .test_expansion_words import CASES as GROWTHS
from .test_expansion_words import job_of as growth_job

CAN = cc.Product.generic("ethylene glycol concentrate")
VAN = cc.CoolingSystem(capacity="10 L", capacity_error="0.5 L", drainable="6.5 L")
TOOL = cc.Refractometer(scale="freeze point", made_for="ethylene glycol")
SHELF = {"target": "-37 °C", "pour": [CAN, cc.WATER]}

FORMS = (frost_form.FORM, holding_form.FORM, repair_form.FORM, workshop_form.FORM)

#: One of every other job.
OTHERS = {
    "correct_mix": lambda **show: cc.correct_mix(
        system=VAN, found=TOOL.read("-16 °C"), **SHELF, **show
    ),
    "what_now": lambda **show: cc.what_now(
        system=VAN, found=TOOL.read("-30 °C"), taken_out="2 L", poured={cc.WATER: "1.5 L"}, **show
    ),
    "batch": lambda **show: cc.batch(volume="20 L", **SHELF, **show),
    "refill": lambda **show: cc.refill(
        system=VAN, found=TOOL.read("-20 °C"), caught="6 L", **SHELF, **show
    ),
    "flush": lambda **show: cc.flush(
        system=VAN, found="30 % product", may_stay="5 %", **SHELF, **show
    ),
    "after_topups": lambda **show: cc.after_topups(
        system=VAN, found=CAN.mix("50 % product"), topups=4 * ["0.5 L"], **show
    ),
    "check_water": lambda **show: cc.check_water(hardness="14 °dH", **show),
    "frost_standard": lambda **show: cc.frost_standard(
        depot="Upper yard", low="-27 °C", hottest="105 °C", pour=[CAN, cc.WATER], **show
    ),
    "frost_standard, short": lambda **show: cc.frost_standard(
        depot="High basin", low="-48 °C", nights=5 * [("-10 °C", "-14 °C")], pour=[CAN], **show
    ),
    "compare_standards": lambda **show: cc.compare_standards(
        standards=[
            cc.frost_standard(depot=low, low=low, pour=[CAN, cc.WATER])
            for low in ("-6 °C", "-27 °C", "-48 °C")
        ],
        coolant={"-6 °C": "900 L", "-27 °C": "600 L", "-48 °C": "300 L"},
        **show,
    ),
}

ANSWERS = (
    *((f"boil_margin, {name}", lambda n=name, **show: boil_job(**BOILING[n], **show))
      for name in BOILING),
    *((f"expansion, {name}", lambda n=name, **show: growth_job(**GROWTHS[n], **show))
      for name in GROWTHS),
    *((f"capacity, {name}", CAPACITIES[name]) for name in CAPACITIES),
    *OTHERS.items(),
)  # fmt: skip

#: What opens by itself, or is open to begin with, is no system that somebody opens; and what is
#: said to forbid it.
_HARMLESS = (
    r"thermostat has opened",
    r"thermostat wide open",
    r"heater (?:valve )?(?:on |is )?open",
    r"valves? of .*? open",
    r"valves? open",
    r"as an open pot does",
    r"No figure here says when a system may be opened",
    r"Whether and how the system is opened is for the maker's handbook to say",
    r"If the system were opened",
    r"Open it only to correct the whole",
    r"lets? pressure go",
    r"at the pressure of the outside air|without (?:its )?pressure",
)
_TEMPERATURE = r"\d\s?(?:°|degrees?\b|K\b)|lukewarm|hiss|gauge (?:reads|shows)"
_LOOSEN = (
    r"\b(?:re)?open(?:s|ed|ing)?\b|\bun(?:do|screw)|\bremov(?:e|ed|ing)\b|\bloosen"
    r"|\b(?:take|lift|pull|get)[^.]{0,20}\boff\b|\blift\b|\bturn the cap|\brelease the pressure"
)
_LEAVE = r"\b(?:may|can|could|fine|safe(?:ly)?|allowed|ok|not before|once)\b"


def permits(sentence):
    """Whether a sentence lets somebody loosen something by a temperature, or gives leave to."""
    bare = re.sub("|".join(_HARMLESS), "", sentence, flags=re.IGNORECASE)
    if re.search(r"\bsafe(?:ly)? to\b", bare, re.IGNORECASE):
        return True
    return bool(
        re.search(_LOOSEN, bare, re.IGNORECASE)
        and re.search(f"{_TEMPERATURE}|{_LEAVE}", bare, re.IGNORECASE)
    )


def sentences(texts):
    for text in texts:
        yield from re.split(r"(?<=[.!?]) (?=[A-Z])", text)


def texts_of(job):
    """Every text that an answer can print, on a page, a card or in a table."""
    yield from (job.title, *job.notes, *job.steps, *job.assumptions)
    yield from (caution.text for caution in job.cautions)
    yield from (f"{row.label}: {row.text}" for row in job.rows)
    yield from (f"{line.label}: {line.text}" for line in (*job.working.lines, *job.odds.lines))
    if isinstance(job, Expansion):
        yield charts.growth(job)["description"]
    if isinstance(job, FrostStandard):
        yield charts.margins_chart(job)["description"]
        yield charts.window_chart(job)["description"]
    if isinstance(job, BoilMargin):
        yield charts.boiling(job)["description"]


@pytest.mark.parametrize("system", ["metric", "US"])
@pytest.mark.parametrize(("name", "make"), ANSWERS, ids=[name for name, _ in ANSWERS])
def test_no_answer_permits(name, make, system):
    for sentence in sentences(texts_of(make(show_in=system))):
        assert not permits(sentence), sentence


@pytest.mark.parametrize("form", FORMS)
def test_no_page_permits(form):
    texts = [group.heading for group in form.groups]
    for field in form.fields.values():
        texts += [field.label, field.help, *(words for _, words in field.choices)]
    for sentence in sentences(texts):
        assert not permits(sentence), sentence


def test_no_reason_permits():
    for reason in REASONS.values():
        for sentence in sentences((reason.sentence, reason.next_step)):
            assert not permits(sentence), sentence


@pytest.mark.parametrize(
    "text",
    [
        "Below 50 °C the cap can be opened.",
        "Below 50 °C: open the filler.",
        "The system may be opened at 40 °C.",
        "It is safe to open now.",
        "It is fine to open it now.",
        "Open the filler once it reads 120 °F.",
        "Open it once it is lukewarm.",
        "Undo the cap at 50 °C.",
        "At 60 °C turn the cap to the first stop.",
        "Wait until the gauge reads 45 °C; then take the cap off.",
        "You may open it once it stops hissing.",
        "Release the pressure when the gauge shows 80 °C.",
        "Remove the cap, not before it is at 45 °C.",
    ],
)
def test_the_test_would_see_one(text):
    assert any(map(permits, sentences([text])))


def test_every_job_is_among_them():
    asked = {name.partition(",")[0] for name, _ in ANSWERS} - {"capacity"}
    asked |= {"capacity_from_fill", "capacity_from_parts", "capacity_from_swap"}
    functions = {name for name in jobs.__all__ if inspect.isfunction(getattr(jobs, name))}
    assert functions == asked
