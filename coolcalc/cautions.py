"""Which warnings an answer must carry. Nothing here reads as permission."""

from typing import NamedTuple


class Caution(NamedTuple):
    """One warning; ``code`` is its name, ``text`` is printed with the answer."""

    code: str
    text: str


HOT = Caution(
    "hot",
    "Hot coolant is under pressure and scalds at once. Work only on an engine that is cold to the "
    "hand; fans can start by themselves. Whether and how the system is opened is for the maker's "
    "handbook to say.",
)
OPENED_HOT = Caution(
    "opened_hot",
    "Coolant scalds at any temperature that an engine runs at, and under pressure it can spurt "
    "also where it would not boil. No figure here says when a system may be opened: "
    "cold to the hand, and the maker's handbook decides.",
)
COLD_INTO_HOT = Caution("cold_into_hot", "Never pour cold liquid into an overheated engine.")
ETHYLENE_GLYCOL = Caution(
    "poison",
    "Ethylene glycol is poisonous to people and animals. Any swallow, by a person, a child or a "
    "pet: get emergency help now. No drink containers; lids on, labelled, out of reach.",
)
OTHER_GLYCOL = Caution(
    "swallow",
    "Coolant is harmful if swallowed, and used coolant carries metals. Any swallow, by a person, a "
    "child or a pet: get emergency help now. No drink containers; lids on, labelled, out of reach.",
)
SKIN = Caution("skin", "Wear goggles and gloves. Wipe up spills at once.")
WASTE = Caution(
    "waste",
    "Catch all of it and keep it closed and labelled, apart from oil and solvent. Not into a "
    "drain, a septic tank or the ground. Local rules decide where it goes.",
)
AUTHORITY = Caution(
    "authority",
    "The maker's handbook, local codes and licensed practice come before this answer.",
)


def for_work_on_coolant(fluid):
    """Return what every job that takes out or pours coolant must carry.

    Parameters
    ----------
    fluid : str
        The glycol inside or poured.

    Returns
    -------
    tuple of Caution
        In the order of printing.
    """
    swallow = ETHYLENE_GLYCOL if fluid == "ethylene glycol" else OTHER_GLYCOL
    return HOT, COLD_INTO_HOT, swallow, SKIN, WASTE, AUTHORITY
