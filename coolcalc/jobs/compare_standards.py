"""One frost standard for all depots, or one each, and what either costs."""

from .. import units
from ..errors import InputError, Reader
from .frost_answer import FrostStandard
from .inputs import kept, read_unit_system
from .standards_compared import DepotCompared, StandardsCompared, product_per_mix

#: Most depots that are compared.
DEPOTS_MAX = 200


def compare_standards(*, standards, coolant, price=None, show_in="metric"):
    """Compare one frost standard for all depots with one each.

    Parameters
    ----------
    standards : sequence of FrostStandard
        Of one product; each depot once.
    coolant : dict of str to text or Quantity
        By depot: what its vehicles hold in all. [m3]
    price : text or number, optional
        Of a litre of the product, in any money.
    show_in : str
        One of `coolcalc.units.SYSTEMS`.

    Returns
    -------
    StandardsCompared

    Raises
    ------
    InputError
        The field, the value found, the limit and what to do.
    FormError
        If several inputs cannot be used: all of them.

    Notes
    -----
    One for all is the strongest of the fills. A vehicle that stands in another depot than its own
    is set against that depot's frost: by how much it falls short with all margins, and the chance
    in a winter that the air there gets colder than its freezing point, by the fit of that depot.

    Examples
    --------
    >>> import coolcalc as cc
    >>> can = cc.Product.generic("ethylene glycol concentrate")
    >>> quay, moor = (
    ...     cc.frost_standard(depot=name, mean_extreme=mean, sd_extreme="4 K", pour=[can, cc.WATER])
    ...     for name, mean in (("quay", "-6 °C"), ("moor", "-20 °C")))
    >>> job = compare_standards(standards=[quay, moor], coolant={"quay": "900 L", "moor": "600 L"})
    >>> f"{100 * job.one_for_all.strength.share:.0f} %", len(job.short_moves)
    ('48 %', 1)
    """
    asked = kept(locals())
    reader = Reader()
    unit_system = reader(read_unit_system, show_in)
    read = reader(_read_standards, standards)
    reader.raise_if_any()
    volumes = reader(_read_coolant, coolant, read)
    paid = None if price is None else reader(units.read, "price", price, "money")
    reader.raise_if_any()
    strongest = max(read, key=lambda standard: standard.standard.fill)
    depots = tuple(
        DepotCompared(
            standard,
            volume,
            volume * product_per_mix(standard.fill),
            volume * product_per_mix(strongest.fill),
        )
        for standard, volume in zip(read, volumes, strict=True)
    )
    return StandardsCompared(
        asked=asked,
        depots=depots,
        one_for_all=strongest,
        price=paid,
        unit_system=unit_system,
        step=units.measuring_step(1.0, unit_system.volume),
    )


def _read_standards(standards):
    try:
        read = () if isinstance(standards, str) else tuple(standards)
    except TypeError:
        read = ()
    if len(read) < 2 or not all(isinstance(each, FrostStandard) for each in read):
        raise InputError(
            "standards",
            type(standards).__name__,
            "give the standards of at least two depots, as frost_standard makes them.",
        )
    if len(read) > DEPOTS_MAX:
        raise InputError("standards", len(read), f"{len(read)} are more than {DEPOTS_MAX} depots.")
    names = [each.depot for each in read]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise InputError(
            "standards", twice[0], f"{twice[0]} stands twice; give each depot one standard."
        )
    products = {each.product.name for each in read}
    if len(products) > 1:
        raise InputError(
            "standards",
            " and ".join(sorted(products)),
            f"{' and '.join(sorted(products))} are mixed: per cent of two products are not "
            "compared. Set the standards of all depots with one product.",
        )
    return read


def _read_coolant(coolant, standards):
    if not hasattr(coolant, "items"):
        raise InputError(
            "coolant", coolant, "give what the vehicles of each depot hold: {'quay': '900 L'}."
        )
    names = [each.depot for each in standards]
    for what, found in (
        ("has no standard here", [name for name in coolant if name not in names]),
        ("has no volume of coolant", [name for name in names if name not in coolant]),
    ):
        if found:
            raise InputError(
                "coolant", found[0], f"{found[0]} {what}; the depots are {', '.join(names)}."
            )
    reader = Reader()
    volumes = [reader(units.read, "coolant", coolant[name], "volume") for name in names]
    reader.raise_if_any()
    return volumes
