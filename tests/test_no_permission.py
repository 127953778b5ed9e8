"""No text of any answer is a permission to open a hot system, or a temperature at which one may."""

import inspect
import re

import pytest

import coolcalc as cc
from coolcalc import jobs

from .test_boil_margin import CASES as BOILING
from .test_boil_margin import job_of as boil_job
from .test_capacity_words import CASES as CAPACITIES
from .test_expansion_words import CASES as GROWTHS
from .test_expansion_words import job_of as growth_job

CAN = cc.Product.generic("ethylene glycol concentrate")
VAN = cc.CoolingSystem(capacity="10 L", capacity_error="0.5 L", drainable="6.5 L")
TOOL = cc.Refractometer(scale="freeze point", made_for="ethylene glycol")
SHELF = {"target": "-37 °C", "pour": [CAN, cc.WATER]}

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
}

ANSWERS = (
    *((f"boil_margin, {name}", lambda n=name, **show: boil_job(**BOILING[n], **show))
      for name in BOILING),
    *((f"expansion, {name}", lambda n=name, **show: growth_job(**GROWTHS[n], **show))
      for name in GROWTHS),
    *((f"capacity, {name}", CAPACITIES[name]) for name in CAPACITIES),
    *OTHERS.items(),
)  # fmt: skip

#: A temperature with its unit; and what is done to a system, its cap or its filler.
_DEGREES = r"\d\s?(?:°|degrees?\b|K\b)"
_OPEN = r"\b(?:re)?open(?:s|ed|ing)?\b|\bunscrew|\bremov(?:e|ed|ing)\b|\bloosen|\btake off\b|\blift"
_PERMITS = (
    r"\bsafe(?:ly)? to\b",
    r"\b(?:may|can|could) (?:now )?be (?:opened|unscrewed|removed|loosened)",
    r"\bnot before\b",
    r"\bbelow \d+ ?°[CF]?,? (?:it|you|the cap|the system)\b.*\bopen",
)
#: What opens by itself, or is open to begin with, is no system that somebody opens.
_HARMLESS = (
    r"thermostat has opened",
    r"thermostat wide open",
    r"heater (?:valve )?(?:on |is )?open",
    r"heater valve open",
    r"as an open pot does",
    r"No figure here says when a system may be opened",
    r"valve of .*? open",
)


def sentences(job):
    """Every sentence that an answer can print, on a page, a card or in a table."""
    texts = [job.title, *job.notes, *job.steps, *job.assumptions]
    texts += [caution.text for caution in job.cautions]
    texts += [f"{row.label}: {row.text}" for row in job.rows]
    texts += [f"{line.label}: {line.text}" for line in (*job.working.lines, *job.odds.lines)]
    for text in texts:
        yield from re.split(r"(?<=[.;:]) ", text)


@pytest.mark.parametrize("system", ["metric", "US"])
@pytest.mark.parametrize(("name", "make"), ANSWERS, ids=[name for name, _ in ANSWERS])
def test_no_answer_permits(name, make, system):
    for sentence in sentences(make(show_in=system)):
        bare = re.sub("|".join(_HARMLESS), "", sentence)
        assert not re.search("|".join(_PERMITS), bare, re.IGNORECASE), sentence
        opened = re.search(_OPEN, bare, re.IGNORECASE)
        assert not (opened and re.search(_DEGREES, bare)), sentence


@pytest.mark.parametrize(
    "sentence",
    [
        "Below 50 °C the cap can be opened.",
        "The system may be opened at 40 °C.",
        "It is safe to open now.",
        "Open the filler once it reads 120 °F.",
        "Remove the cap, not before it is at 45 °C.",
    ],
)
def test_the_test_would_see_one(sentence):
    opened = re.search(_OPEN, sentence, re.IGNORECASE)
    seen = re.search("|".join(_PERMITS), sentence, re.IGNORECASE)
    assert seen or (opened and re.search(_DEGREES, sentence))


def test_every_job_is_among_them():
    asked = {name.partition(",")[0] for name, _ in ANSWERS} - {"capacity"}
    asked |= {"capacity_from_fill", "capacity_from_parts", "capacity_from_swap"}
    functions = {name for name in jobs.__all__ if inspect.isfunction(getattr(jobs, name))}
    assert functions == asked
