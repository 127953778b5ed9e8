"""How much a system holds, added up from its parts."""

from .. import units
from ..errors import InputError, Reader
from .capacity_from_fill import check_capacity
from .capacity_parts_answer import PartsCapacity
from .inputs import read_unit_system
from .parts_table import read_parts, rows_of


def capacity_from_parts(*, parts, show_in="metric"):
    """Add up how much a system holds from its hoses, cores, tanks, passages and side circuits.

    For those who design or rebuild one: it is no better than the measures of the passages. A
    measured fill (`capacity_from_fill`) is to be preferred, and checks it.

    Parameters
    ----------
    parts : sequence of dict, pandas.DataFrame, path or str
        Rows, or a CSV file, with the columns of `coolcalc.jobs.parts_table.COLUMNS`: part, kind
        (a name in `coolcalc.jobs.parts_table.KINDS`), bore (inner) and length of hoses, inner
        width, inner height and length of flat tubes, count, volume (of one piece), give or take
        (share, at 95 %). A header carries its unit ("bore [mm]"), or each value its own.
    show_in : str
        One of `coolcalc.units.SYSTEMS`: "metric", "US", "imperial".

    Returns
    -------
    PartsCapacity
        With bad rows it lists them with reasons, counts the others, and tells no capacity.

    Raises
    ------
    InputError
        The field, the value found, the limit and what to do.

    Notes
    -----
    Give or take of a part that tells none: by its kind, by judgement, no source. Parts are taken
    as measured each for itself.

    Examples
    --------
    >>> job = capacity_from_parts(parts=[
    ...     {"part": "hose", "kind": "hose", "bore": "32 mm", "length": "1.5 m"},
    ...     {"part": "block", "kind": "passage", "volume": "4.5 L"}])
    >>> job.capacity.m_as("L"), [round(part.volume_m3 * 1e3, 3) for part in job.parts]
    (5.7, [1.206, 4.5])
    """
    reader = Reader()
    rows = reader(rows_of, parts)
    table = None if rows is None else reader(read_parts, rows)
    unit_system = reader(read_unit_system, show_in)
    reader.raise_if_any()
    good, bad = table
    if not good and not bad:
        raise InputError(
            "parts", "", "the table is empty; enter at least one part, such as a hose or a tank."
        )
    total = sum(part.volume_m3 for part in good)
    if not bad:
        check_capacity("parts", total)
    return PartsCapacity(
        asked={"parts": rows},
        parts=good,
        bad=bad,
        unit_system=unit_system,
        step=units.measuring_step(max(total, 1e-3), unit_system.volume),
    )
