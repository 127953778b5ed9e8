"""The words of a `Batch`: notes, steps, rows, assumptions, working."""

from ..answers import Line, Row
from ..errors import REASONS, Status
from ..fluids import FRAC_MASS_SETTLED_MAX
from ..instruments import Reading, Refractometer
from .balance_lines import (
    apart_lines,
    blend_line,
    inside_line,
    poured_line,
    rule_line,
    strength_line,
    sum_line,
    taken_line,
    volume,
)
from .mix_plan import EQUAL
from .told_words import (
    FIRST_CRYSTALS,
    NO_LITRES,
    expected_words,
    how_exact,
    makes_of,
    on_the_same,
    per_cent_means,
    reach_words,
    read_again,
    reading_notes,
    shelf_notes,
)


def _amount(job, volume_m3, mass_kg):
    """Return a volume and its mass, first what is measured out."""
    litres, mass = job.volume_words(volume_m3), job.mass_words(mass_kg)
    return f"{mass} ({litres})" if job.by_mass else f"{litres} ({mass})"


# --- notes ----------------------------------------------------------------------------------------


def notes(job):
    """Yield what cannot be done, why something comes out, what is odd."""
    if job.blocked:
        yield from (reason.sentence for reason in job.blocked_by)
        yield from _reach_notes(job)
    elif job.take_out_m3 > 0.0:
        yield _why_out(job)
    if job.remnant_m3 > 0.0:
        yield from reading_notes(job)
        if job.status & Status.START_NOT_SETTLED:
            yield REASONS[Status.START_NOT_SETTLED].sentence
    if not job.blocked:
        yield from job.strength_notes()
        if job.after.frac_mass < job.target_frac_mass - EQUAL:
            yield (
                "Rounded to what can be measured, it ends a little weaker than the target "
                f"({job.target_words}): {job.mix_and_frost(job.after)}."
            )
    yield from shelf_notes(job)


def _reach_notes(job):
    if job.whole_m3 is not None:
        side = "weaker" if job.before.frac_mass < job.target_frac_mass else "stronger"
        yield (
            f"What is inside ({job.volume_words(job.remnant_m3)} of "
            f"{job.strength_words(job.before)}) is {side} than the target, but too little of it "
            f"for {job.volume_words(job.volume_m3)}: with all of it, "
            f"{job.volume_words(job.whole_m3)} can be made."
        )
        return
    if _reach_is_no_nearer(job):
        yield "Nothing that is listed brings what is inside nearer to the target."
    elif _reach_is_told(job):
        yield (
            f"Within reach with what is listed: {reach_words(job)}, freezing point "
            f"{job.freezing_words(job.reach)}. Enter that strength as the target for its litres."
        )


def _reach_is_no_nearer(job):
    off, near = (abs(each.frac_mass - job.target_frac_mass) for each in (job.before, job.reach))
    return job.remnant_m3 > 0.0 and near >= off - EQUAL


def _reach_is_told(job):
    return not _reach_is_no_nearer(job) and job.reach.frac_mass <= FRAC_MASS_SETTLED_MAX


def _why_out(job):
    held = job.volume_words(job.remnant_m3)
    if job.remnant_m3 > job.volume_m3 + job.step.m3 / 2:
        return (
            f"More is inside ({held}) than is wanted ({job.volume_words(job.volume_m3)}): some of "
            f"it has to come out first.{_larger(job)}"
        )
    side = "weak" if job.before.frac_mass < job.target_frac_mass else "strong"
    how_much = "all" if job.emptied else "some"
    return (
        f"What is inside ({held} of {job.strength_words(job.before)}) is too {side} for what there "
        f"is room to pour: {how_much} of it has to come out first.{_larger(job)}"
    )


def _larger(job):
    if job.whole_m3 is None or job.whole_m3 <= job.volume_m3:
        return ""
    return f" A batch of {job.volume_words(job.whole_m3)} would take in all of it."


# --- steps ----------------------------------------------------------------------------------------


def steps(job):
    """Yield the actions, in the order of the work."""
    if job.blocked:
        yield from (reason.next_step for reason in job.blocked_by)
        return
    yield from _before_pouring(job)
    yield from _pouring(job)
    yield f"Read a sample{_read_on(job)}."
    yield (
        "If it reads clearly outside that, stir once more and read again. If it still does, "
        "something was measured or listed otherwise than it is: fill nothing with it until that "
        "is found."
    )
    yield (
        f"Close it, and label it: {job.before.fluid}, {job.strength_words(job.after)}, and the "
        "date. Never in a drink container."
    )


def _read_on(job):
    """Say on what to read, and what to expect."""
    if isinstance(job.found, Reading):
        return f"{on_the_same(job)}: {read_again(job)}"
    return f": expect {_expected(job)}"


def _expected(job):
    """Return the reading to expect: on a usual refractometer, where none was told."""
    if isinstance(job.found, Reading):
        return expected_words(job)
    expected = job.expected_k(Refractometer(made_for=job.before.fluid))
    if not expected.settled:
        return expected_words(job)
    span = job.frost_span(expected.weak_k, expected.low_k)
    return f"{span} on a refractometer for {job.before.fluid}"


def _before_pouring(job):
    if not job.remnant_m3:
        poured = sum(volume for _, volume in job.pours_m3())
        yield (
            "Take a clean container with a lid that holds at least "
            f"{job.volume_words(max(job.volume_m3, poured))}; no drink container."
        )
        return
    held = job.volume_words(job.remnant_m3)
    if job.emptied:
        yield (
            f"Take out all that is inside ({held}) and keep it closed and labelled: it is no part "
            "of this batch."
        )
    elif job.take_out_m3 > 0.0:
        out = job.mass_words(job.take_out_kg) if job.by_mass else job.volume_words(job.take_out_m3)
        yield (
            f"Stir what is inside, and take out {out} of it; keep that closed and labelled: it is "
            "no part of this batch."
        )
    else:
        yield f"Leave the {held} that is inside in the container."


def _pouring(job):
    pours = job.pours_m3()
    if not pours:
        yield "Pour nothing: what is inside is the batch."
        return
    if job.by_mass:
        yield "Stand the container on the scale, and set the scale to zero before each pour."
    for at, (product, volume_m3) in enumerate(pours):
        if job.by_mass:
            text = f"Weigh in {job.mass_words(volume_m3 * job.density_of(product))}"
        else:
            text = f"Pour {job.volume_words(volume_m3)}"
        yield f"{text} of {product.name}" + (", stirring." if at else ".")
    if job.remnant_m3 > job.take_out_m3 or len(pours) > 1:
        yield "Stir well, down to the bottom, until no streaks are left."


# --- rows -----------------------------------------------------------------------------------------


def rows(job):
    """Yield the figures behind the steps, litres and masses."""
    yield Row("Volume wanted", job.volume_words(job.volume_m3))
    if job.container_m3 is not None:
        yield Row("Container", job.volume_words(job.container_m3))
    if job.remnant_m3:
        yield Row("Inside before", _amount(job, job.remnant_m3, job.remnant_kg))
        yield Row("Strength inside before", job.strength_words(job.before))
    yield Row("Target", job.target_words)
    if job.blocked:
        if job.whole_m3 is not None:
            yield Row("Can be made of all that is inside", job.volume_words(job.whole_m3))
        elif _reach_is_told(job):
            yield Row("Within reach", reach_words(job))
        return
    if job.remnant_m3 and job.take_out_m3 > 0.0:
        yield Row("Take out", _amount(job, job.take_out_m3, job.take_out_kg))
    for product, volume_m3 in job.pours_m3():
        mass = volume_m3 * job.density_of(product)
        yield Row(f"Pour {product.name}", _amount(job, volume_m3, mass))
    yield Row("Makes", _amount(job, job.made_m3, job.made_kg))
    yield Row("Strength afterwards", job.strength_words(job.after))
    yield Row("Freezing point afterwards", job.freezing_words(job.after))
    yield Row("Expect to read", _expected(job))


# --- assumptions ----------------------------------------------------------------------------------


def assumptions(job):
    """Yield what the figures take for granted."""
    yield f"All liquids are at {job.temp_words(job.temp_k)} when they are measured out."
    if job.remnant_m3:
        yield (
            f"The {job.volume_words(job.remnant_m3)} inside is taken as exact, and carries "
            f"additives like {job.before.product.name}."
        )
        yield from how_exact(job, "inside")
    yield FIRST_CRYSTALS
    yield per_cent_means(job)
    yield from makes_of(job)


# --- working --------------------------------------------------------------------------------------


def working_lines(job):
    """Yield the balance of the printed figures, and the textbook rule beside it."""
    yield strength_line(job, "Target", job.target_frac_mass)
    if job.remnant_m3:
        yield strength_line(job, "Inside before", job.before.frac_mass)
        yield inside_line(job, "Inside before, in kilograms", job.remnant, job.temp_k)
    if job.blocked:
        return
    yield Line("Unrounded", _unrounded(job))
    if job.emptied:
        yield Line("Taken out", "All that is inside.")
    elif job.take_out_m3 > 0.0:
        yield taken_line(job, "Taken out", job.remnant, job.take_out_m3, job.temp_k)
    left = job.remnant_m3 - job.take_out_m3
    pours = job.pours_m3()
    for product, volume_m3 in pours:
        yield poured_line(job, f"Poured {product.name}", product, volume_m3)
    yield sum_line(job, "In the batch", job.plan.after)
    yield inside_line(job, "Volume of the batch", job.plan.after, job.temp_k)
    yield strength_line(job, "Strength", job.after.frac_mass)
    if pours:
        yield from apart_lines(job, job.plan.after, left + sum(each for _, each in pours))
        parts = [(each, product.frac_mass) for product, each in pours]
        yield rule_line(job, [(left, job.before.frac_mass), *parts])
    yield from _blend_lines(job)


def _unrounded(job):
    drained = 0.0 if job.emptied else job.spare_m3 + float(job.exact.drain_m3[0, 0])
    parts = [f"take out {volume(job, drained)}"] if drained > 0.0 else []
    parts += [
        f"{volume(job, each)} of {product.name}"
        for product, each in zip(job.shelf, job.exact.pour_m3[0, :, 0], strict=True)
        if each > 0.0
    ]
    step = (
        f"{job.mass_step.in_unit:g} {job.unit_system.mass}"
        if job.by_mass
        else f"{job.step.in_unit:g} {job.unit_system.volume}"
    )
    return f"{', '.join(parts) or 'nothing'}; rounded to {step}, never above the volume wanted."


def _blend_lines(job):
    """Yield the rule of a blend of two products in an empty container."""
    poured = sorted((product for product, _ in job.pours_m3()), key=lambda each: -each.frac_mass)
    if job.remnant_m3 <= job.take_out_m3 and len(poured) == 2:
        yield blend_line(job, job.volume_m3, *poured)


# --- how sure it is -------------------------------------------------------------------------------


def odds_lines(job):
    """Yield the span of the freezing point, the give or take, and what to measure better."""
    if job.blocked:
        yield NO_LITRES
        return
    yield from job.frost_lines()
    yield from job.give_or_take_lines()
