"""What a unit and a kind of field are; the tables of them stand in `_unit_tables`."""

import dataclasses
from collections.abc import Mapping
from typing import NamedTuple


class Unit(NamedTuple):
    """A unit: value in SI = (number - zero) * factor + base; ``pint`` is its name there, if any."""

    factor: float
    pint: str
    zero: float = 0.0
    base: float = 0.0


@dataclasses.dataclass(frozen=True, kw_only=True)
class Kind:
    """What one kind of field takes.

    Attributes
    ----------
    si : str
        The unit that `coolcalc.units.read` gives, as pint names it.
    units : Mapping of str to Unit
        By the label that screens and answers show.
    spellings : Mapping of str to str
        Label by accepted spelling, folded (`fold`).
    offer : tuple of str
        Labels that a message offers first.
    example : str
        What a message shows as a way to write it.
    low, high : float
        Inclusive limits of what is taken at all. [SI]
    low_rule, high_rule : str
        Why nothing lies beyond, as a sentence; empty where the limit is only far off.
    bare : str, optional
        Label that a number without a unit takes where no page shows one.
    unit_less : frozenset of str
        Folded texts after a number that name no unit, such as "%" of an unnamed whole.
    unclear : Mapping of str to tuple of str
        By folded spelling, the labels that it could mean.
    wrong : Mapping of str to str
        By folded spelling, why it cannot be used here.
    """

    si: str
    units: Mapping[str, Unit]
    spellings: Mapping[str, str]
    offer: tuple[str, ...]
    example: str
    low: float
    high: float
    low_rule: str = ""
    high_rule: str = ""
    bare: str | None = None
    unit_less: frozenset[str] = frozenset()
    unclear: Mapping[str, tuple[str, ...]] = dataclasses.field(default_factory=dict)
    wrong: Mapping[str, str] = dataclasses.field(default_factory=dict)


def fold(text):
    """Return a spelling as the tables hold it: spaces collapsed, small letters, no space at %."""
    return " ".join(text.split()).casefold().replace(" %", "%")


def spellings_of(table, units):
    """Invert {label: spellings}; every label is a spelling of itself."""
    spellings = {}
    for label in units:
        for spelling in (label, *table.get(label, ())):
            spellings[fold(spelling)] = label
    return spellings
