"""What an entry is told, read once: text, day, litres, and readings as strengths."""

import datetime as dt
import unicodedata

from .. import fluids, units
from .._unit_display import quoted
from ..errors import InputError, Reader, one_of
from ..instruments import Reading
from ..mixture import Mixture, refuse_water
from ..product import GENERIC, WATER, Product
from ..strength import Strength
from ..system import CAPACITY_M3
from .history import READING, TOP_UP, WHATS, WORK, Kept

#: Letters of a vehicle, a person, a product or a batch; and of a note.
LONGEST_NAME, LONGEST_NOTE = 80, 500

#: No vehicle's coolant was looked after before.
FIRST_DAY = dt.date(1900, 1, 1)

# What no text may carry: control characters, and halves of characters.
_NO_LETTERS = ("Cc", "Cs")
# Nor what turns the direction of the letters after it: they would read as other words.
_TURNING = {chr(code) for code in (*range(0x202A, 0x202F), *range(0x2066, 0x206A))}


def read_entry(
    *,
    vehicle,
    what,
    on,
    by,
    hours,
    found,
    after,
    product,
    fluid,
    capacity,
    taken_out,
    poured,
    batch,
    note,
    replaces,
):
    """Return what an entry is told as columns of the table, and its pours: (name, m3) each.

    As `coolcalc.record.VehicleRecord.add`.
    """
    columns = _read_all(
        vehicle=(read_text, "vehicle", vehicle, LONGEST_NAME, True),
        what=(one_of, "what", what, WHATS),
        on_date=(read_day, "on", dt.date.today() if on is None else on),
        by_whom=(read_text, "by", by, LONGEST_NAME),
        engine_h=(_optional, "hours", hours, "hours"),
        product=(_product, product),
        capacity_m3=(_optional, "capacity", capacity, "volume", *CAPACITY_M3),
        taken_out_m3=(_optional, "taken_out", taken_out, "volume"),
        poured=(_poured, poured),
        fluid=(_fluid, fluid),
        batch=(read_text, "batch", batch, LONGEST_NAME),
        note=(read_text, "note", note, LONGEST_NOTE),
        replaces=(_number, replaces),
    )
    own, columns["product"] = columns["product"]
    pours, columns["water_m3"] = columns.pop("poured")
    columns["on_date"] = columns["on_date"].isoformat()
    kept = _read_all(
        found=(_kept, "found", found, own, columns["fluid"]),
        after=(_kept, "after", after, own, columns["fluid"]),
    )
    columns["fluid"] = _one_fluid(columns["fluid"], own, *kept.values())
    for when in ("found", "after"):
        _, frac_mass, half_width, told = kept[when] or (None,) * 4
        columns[f"{when}_frac_mass_kg_kg"] = frac_mass
        columns[f"{when}_half_width_kg_kg"] = half_width
        columns[f"{when}_told"] = told
    _check_what(columns, pours)
    check_held(columns, pours, columns["capacity_m3"])
    return columns, pours


def _read_all(**asks):
    """Return what each of the readers gives by name; raise all refusals at once."""
    reader = Reader()
    values = {name: reader(*ask) for name, ask in asks.items()}
    reader.raise_if_any()
    return values


def read_text(field, value, longest, required=False):
    """Return text on one line, in one spelling of its accents, at most so many letters."""
    if not isinstance(value, str):
        raise InputError(
            field, quoted(value), f"what was given is of type {type(value).__name__}; give text."
        )
    text = unicodedata.normalize("NFC", " ".join(value.split()))
    if required and not text:
        raise InputError(field, "", "nothing was entered; write what the workshop calls it.")
    if len(text) > longest:
        raise InputError(
            field,
            quoted(text),
            f'"{quoted(text)}" has {len(text)} letters; at most {longest} are kept. Shorten it.',
        )
    if any(unicodedata.category(letter) in _NO_LETTERS for letter in text):
        raise InputError(
            field,
            quoted(text),
            f'"{quoted(text)}" has a character that is no letter or sign; type it anew.',
        )
    if _TURNING.intersection(text):
        # Shown without them: a sentence with one would itself read as another.
        shown = quoted("".join(letter for letter in text if letter not in _TURNING))
        raise InputError(
            field,
            shown,
            f'"{shown}" has a hidden character that turns the direction of writing, so that it '
            "reads as something else; type it anew.",
        )
    return text


def read_day(field, value):
    """Return a day up to today."""
    if not isinstance(value, dt.date) or isinstance(value, dt.datetime):
        raise InputError(
            field,
            quoted(value),
            f"{quoted(value)!r} is of type {type(value).__name__}; give a day, "
            "datetime.date(2026, 3, 31).",
        )
    today = dt.date.today()
    if value > today:
        raise InputError(
            field, value, f"{value} is still to come (today is {today}); give the day it was done."
        )
    if value < FIRST_DAY:
        raise InputError(
            field, value, f"{value} is before {FIRST_DAY}, the limit here; check the year."
        )
    return value


def _optional(field, value, kind, low=None, high=None):
    return None if value is None else units.read(field, value, kind, low=low, high=high)


def _number(replaces):
    plain = isinstance(replaces, int) and not isinstance(replaces, bool)
    if replaces is not None and not (plain and 0 < replaces < 2**63):
        raise InputError(
            "replaces", quoted(replaces), f"{quoted(replaces)} is no number of an entry; give one."
        )
    return replaces


def _product(product):
    """Return the product, where it is known as one, and its name."""
    if product is None:
        return None, ""
    if not isinstance(product, Product):
        name = read_text("product", product, LONGEST_NAME, True)
        product = GENERIC.get(name)
        if product is None:
            return None, name
    refuse_water(product)
    return product, read_text("product", product.name, LONGEST_NAME, True)


def _poured(poured):
    """Return pours of products, (name, m3) each, and the volume of water. [m3]."""
    if poured is None:
        return [], 0.0
    if not hasattr(poured, "items"):
        raise InputError(
            "poured",
            quoted(poured),
            "give what was poured by product, in the order of pouring, e.g. {can: '2 L'}; leave it "
            "out where nothing was.",
        )
    asks = {str(at): (_pour, *each) for at, each in enumerate(poured.items())}
    pours, water, names = [], 0.0, set()
    for name, is_water, volume in _read_all(**asks).values():
        if name in names:
            raise InputError("poured", name, f"{name} is listed twice; list it once.")
        names.add(name)
        if is_water:
            water += volume
        else:
            pours.append((name, volume))
    return pours, water


def _pour(product, volume):
    if isinstance(product, Product):
        name, is_water = product.name, product.is_water
    else:
        name, is_water = product, str(product).casefold() == WATER.name
    name = read_text("poured", name, LONGEST_NAME, True)
    return name, is_water, units.read(f"poured, {name}", volume, "volume")


def _kept(field, told, product, fluid):
    """Return a reading as `Kept`, or None where there was none."""
    if told is None:
        return None
    if isinstance(told, Mixture):
        mixture, words = told, f"{told.strength()}, {told.product.name}"
    elif isinstance(told, Reading):
        try:
            mixture = (told if fluid is None else told.of(fluid)).mixture(product)
        except InputError as error:
            raise error.under(field) from None
        words = told.told(units.SYSTEMS["metric"])
    else:
        strength = Strength.of(field, told)
        if product is None:
            raise InputError(
                field,
                str(strength),
                f"{strength}: name the product that the mix was made from "
                "(product=Product.generic(…) or from_label), or give product.mix(…).",
            )
        mixture, words = product.mix(strength), str(strength)
    return Kept(mixture.fluid, float(mixture.frac_mass), float(mixture.half_width), words)


def _fluid(fluid):
    return None if fluid is None else one_of("fluid", fluid, fluids.FLUIDS)


def _one_fluid(fluid, *told):
    """Return the one glycol that the field, the product and the readings tell, or None."""
    glycols = sorted({fluid, *(each.fluid for each in told if each is not None)} - {None})
    if len(glycols) > 1:
        both = " and ".join(glycols)
        raise InputError(
            "fluid",
            both,
            f"{both} are both told. No instrument can read a mixture of glycols: name the one "
            "inside; where it was changed, make one entry of draining and one of filling.",
        )
    return glycols[0] if glycols else None


def _check_what(columns, pours):
    """Refuse an entry that is not what it says it is."""
    what, taken = columns["what"], columns["taken_out_m3"]
    poured = columns["water_m3"] + sum(volume for _, volume in pours)
    read = [when for when in ("found", "after") if columns[f"{when}_told"] is not None]
    if what == READING:
        moved = {"taken_out": bool(taken), "poured": poured > 0.0, "after": "after" in read}
        for field in (name for name, told in moved.items() if told):
            raise InputError(
                field,
                READING,
                f'this was told of a "{READING}", which changes nothing. Enter it as "{TOP_UP}" or '
                f'"{WORK}", or leave it out.',
            )
        if not read and not (columns["replaces"] is not None and columns["note"]):
            raise InputError("found", "", "nothing was entered; give what was read.")
    elif what == TOP_UP:
        if taken:
            raise InputError(
                "taken_out",
                _litres(taken),
                f"{_litres(taken)} were taken out, so this is more than a top-up; enter it as "
                f'"{WORK}".',
            )
        if poured <= 0.0:
            raise InputError("poured", _litres(poured), "nothing was poured; give the litres.")
    elif not (read or taken or poured or columns["note"]):
        raise InputError("note", "", "nothing is told of the work; write what was done.")


def check_held(columns, pours, capacity_m3):
    """Refuse more taken out at once, or topped up, than the system holds; None: not known. [m3]."""
    if capacity_m3 is None:
        return
    taken = columns["taken_out_m3"] or 0.0
    if taken > capacity_m3:
        raise InputError(
            "taken_out",
            _litres(taken),
            f"{_litres(taken)} is more than the system holds ({_litres(capacity_m3)}). Check both. "
            "Of a flush, enter each drain as a work of its own; if so much came out at once, the "
            "capacity is larger: enter that with it.",
        )
    poured = columns["water_m3"] + sum(volume for _, volume in pours)
    if columns["what"] == TOP_UP and poured > capacity_m3:
        raise InputError(
            "poured",
            _litres(poured),
            f"{_litres(poured)} is more than the system holds ({_litres(capacity_m3)}), so it is "
            "no top-up. Check both.",
        )


def _litres(volume_m3):
    return units.show(volume_m3, "volume", "L", 2)
