"""Whether water can be mixed with coolant, by published limits."""

from .. import units
from ..balance.dilution import share_within
from ..errors import InputError, Reader
from .check_water_answer import WaterCheck
from .inputs import kept, read_unit_system
from .water_limits import LIMITS


def check_water(
    *,
    hardness=None,
    chloride=None,
    sulphate=None,
    solids=None,
    ph=None,
    softened=None,
    mixed_with=None,
    show_in="metric",
):
    """Compare water to mix with against the published limits.

    For tap or well water, by the waterworks' report or a test. At least one figure is told, or
    that the water is softened; what is not told is named as not checked, and never passed. The
    limits are those of the water before it is mixed, not of coolant in service.

    Parameters
    ----------
    hardness : text or Quantity, optional
        As calcium carbonate: mg/L (or ppm), °dH, gr/US gal. [mg/L]
    chloride, sulphate, solids : text, Quantity or number, optional
        mg/L or ppm, which are the same in water; ``solids`` is the total. [mg/L]
    ph : text or number, optional
        0 to 14. [-]
    softened : bool, optional
        Whether it comes from a softener that is regenerated with salt: never right.
    mixed_with : text or share, optional
        Share of distilled or deionised water in a blend with this water, by volume; the answer
        then has the figures of the blend too. [-]
    show_in : str
        One of `coolcalc.units.SYSTEMS`; decides in which degrees hardness stands in brackets.

    Returns
    -------
    WaterCheck

    Raises
    ------
    InputError
        The field, the value found, the limit and what to do.
    FormError
        If several inputs cannot be used: all of them.

    Notes
    -----
    Limits: source keys ``astm-mixing-water`` and ``sae-j814``; see
    `coolcalc.jobs.water_limits.LIMITS`.

    Examples
    --------
    >>> water = check_water(hardness="14 °dH", chloride="25 mg/L")
    >>> water.over, water.not_checked
    (('hardness',), ('sulphate', 'solids', 'ph'))
    >>> water.share_within
    0.68
    """
    asked = kept(locals())
    reader = Reader()
    told = {
        name: reader(units.read, name, asked[name], limit.kind)
        for name, limit in LIMITS.items()
        if asked[name] is not None
    }
    reader(_check_softened, softened)
    distilled = None
    if mixed_with is not None:
        distilled = reader(units.read, "mixed_with", mixed_with, "share")
    unit_system = reader(read_unit_system, show_in)
    if not told and not softened:
        reader(_refuse_nothing_told)
    reader.raise_if_any()
    mixing = {name: value for name, value in told.items() if LIMITS[name].mixes}
    return WaterCheck(
        asked=asked,
        told=told,
        softened=softened,
        distilled=distilled,
        share_at_limit=float(
            share_within(list(mixing.values()), [LIMITS[name].high for name in mixing])
        ),
        unit_system=unit_system,
    )


def _check_softened(softened):
    if not (softened is None or isinstance(softened, bool)):
        raise InputError(
            "softened",
            softened,
            f"{softened!r} is neither True nor False; say whether a softener with salt is used, "
            "or leave it out.",
        )


def _refuse_nothing_told():
    raise InputError(
        "water",
        "",
        f"no figure was entered; enter at least one of {', '.join(LIMITS)}, from the waterworks' "
        "report or a test. Without one, nothing is known of the water: use distilled, deionised "
        "or ready-mixed.",
    )
