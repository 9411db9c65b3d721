"""The body measures of a line: stature, spans and their like for a measuring visit, body mass for its day."""

from collections.abc import Iterator

from athletes.reader.cells.measures import Measured, looks_like_arm, read_arm, read_length, read_mass, says_unit
from athletes.reader.columns import unit_word
from athletes.reader.headings import MASS, MEASURE_FIELDS, UNSURE_ARM
from athletes.reader.notes import ASK, GUESS, SKIP, Note, Notes, left_out, settled, worst
from athletes.reader.plan import NOBODY, Body, ReadingPlan
from athletes.reader.rows.context import Cells, Context
from athletes.reader.rows.loads import unit_said
from athletes.schema.measurements import MeasureKey as Key
from athletes.schema.measurements import keys_of_group, measure_label
from athletes.units.builds import oddities

FIELDS = (*MEASURE_FIELDS, UNSURE_ARM)
SURELY = (40.0, 150.0)  # kg: a body mass without a unit beyond these may be one in the other unit; calibration
LEAVE_OUT, RIGHT = "leave-out", "right"
Reading = dict[str, object]


def measures_of(row: Cells, context: Context, plan: ReadingPlan) -> tuple[list[Reading], Notes]:
    """Every reading of the line, with the notes on how they were read."""
    if not any(field in row.by_field for field in FIELDS):
        return [], ()
    body = plan.bodies.get(context.athlete or 0, NOBODY)
    read = [_asked_about(one, context, plan, body) for one in _readings(row, context, plan, body)]
    read = _held_together(read, context, plan, body)
    notes = sum((one.notes for one in read), ())
    if any(worst(one.notes) != SKIP for one in read):
        notes = left_out(notes)
    kept = [one for one in read if one.value is not None and worst(one.notes) not in (ASK, SKIP)]
    if not context.day or context.athlete is None or worst(notes) == ASK:
        return [], notes
    landmarks = plan.answer("landmarks") == "consent"
    return [
        dict[str, object](key=str(m.key), typed=m.typed[:30], unit=m.unit, value=m.value)
        | ({"landmarks": True} if landmarks and m.key in keys_of_group("landmark") else {})
        for m in kept
    ], notes


def _readings(row: Cells, context: Context, plan: ReadingPlan, body: Body) -> Iterator[Measured]:
    stature = body.lengths.get(Key.STATURE)
    for field in [f for f in FIELDS if f in row.by_field]:
        for column, cell in row.all(field):
            unit = plan.units[column] if column < len(plan.units) else ""
            unit = unit if unit or field == MASS else unit_word(row.first("unit"))
            if field == MASS:
                yield _mass(cell, unit, row, context, plan)
                continue
            if field == UNSURE_ARM:
                yield read_arm(cell, unit, stature, plan.answer("arm"))
                continue
            one = read_length(MEASURE_FIELDS[field], cell, unit, plan.answer("feet"))
            if field == Key.ARM_SPAN and looks_like_arm(one, cell, unit):
                one = read_arm(cell, unit, stature, plan.answer("arm") or "") if plan.answer("arm") else _arm_asked(one)
            stature = one.value if field == Key.STATURE and one.value else stature
            yield one


def _arm_asked(one: Measured) -> Measured:
    said = "an arm span as long as one arm: which is it?"
    return Measured(one.key, notes=(Note(ASK, said, "arm", "file"),))


def _mass(cell: str, unit: str, row: Cells, context: Context, plan: ReadingPlan) -> Measured:
    """Body mass with the unit beside it, of its heading, the answer, the loads of its line, or as the lifter uses."""
    answered = plan.answer("mass-unit")
    if answered == LEAVE_OUT:
        return Measured(Key.MASS, notes=(Note(SKIP, "body mass left out, as answered", "mass-unit", "file"),))
    if unit or says_unit(cell):
        return read_mass(cell, unit or "kg")
    if answered:
        found = read_mass(cell, str(answered))
        return found._replace(notes=found.notes + settled("mass-unit"))
    of_loads = unit_said(row.first("unit").casefold().rstrip("."))
    used = of_loads or (plan.people.unit_of(context.athlete) if context.athlete else "kg")
    found = read_mass(cell, used)
    sure = found.value is not None and SURELY[0] <= found.value <= SURELY[1] and not plan.mass_in_doubt
    told = f"{used}, as {'the loads of the line' if of_loads else 'the lifter uses'}" if sure else "kg or lb?"
    note = Note(GUESS if sure else ASK, f"body mass without a unit: {told}", "mass-unit", "file")
    return found._replace(notes=(*found.notes, note))


def _asked_about(one: Measured, context: Context, plan: ReadingPlan, body: Body) -> Measured:
    """What has to be asked about one reading by itself: rare values, and how a bony point was found."""
    if one.value is None:
        return one
    if one.odd:
        one = one._replace(notes=one.notes + confirmed(one, one.odd, context, plan), odd="")
    return (
        one._replace(notes=one.notes + _landmark(one.key, plan, body)) if one.key in keys_of_group("landmark") else one
    )


def confirmed(one: Measured, said: str, context: Context, plan: ReadingPlan) -> Notes:
    """A question about this very reading, or the answer to it."""
    subject = f"{context.athlete}:{one.key}:{plan.token(context.athlete, one.key, f'{one.value:.3f}')}"
    answered = plan.answer("odd", subject)
    if answered == RIGHT:
        return settled("odd", subject)
    if answered == LEAVE_OUT:
        return (Note(SKIP, f"{measure_label(one.key)} left out, as answered", "odd", subject),)
    return (Note(ASK, said, "odd", subject),)


def _landmark(key: str, plan: ReadingPlan, body: Body) -> Notes:
    """Bony points are taken with consent, on somebody under 18 with a second adult whom a file cannot name."""
    if body.young:
        name = measure_label(key)
        said = f"{name}: bony points of somebody under 18 need a second adult named; type it on the Build page"
        return (Note(SKIP, said),)
    answered = plan.answer("landmarks")
    if answered == LEAVE_OUT:
        return (Note(SKIP, f"{measure_label(key)} left out, as answered", "landmarks", "file"),)
    if answered:
        return settled("landmarks")
    return (Note(ASK, f"{measure_label(key)}: how was the bony point found?", "landmarks", "file"),)


def _held_together(read: list[Measured], context: Context, plan: ReadingPlan, body: Body) -> list[Measured]:
    """Readings of one body that do not fit together are asked about; what contradicts itself has to be fixed."""
    sound = {m.key: m.value for m in read if m.value is not None and worst(m.notes) not in (ASK, SKIP)}
    known = {key: value for key, value in body.lengths.items() if key not in sound and not body.young}
    if not sound or context.athlete is None:
        return read
    asked: dict[str, Notes] = {}
    for odd in oddities(known | sound, body.sex, body.young):
        key = odd.key if odd.key in sound else Key.STATURE if odd.key != Key.MASS else ""
        if key in sound:
            one = next(m for m in read if m.key == key and m.value == sound[key])
            said = "body mass and stature: is the unit right?" if key == Key.MASS else odd.message
            asked[key] = confirmed(one, said, context, plan)
    return [m._replace(notes=m.notes + asked.pop(m.key, ())) if m.key in sound else m for m in read]
