"""The load of a set with its unit: beside the number, of its line, its heading, the file, or as the lifter uses."""

from athletes.reader.cells.sets import SetText
from athletes.reader.notes import ASK, GUESS, SKIP, Note, Notes, settled
from athletes.reader.plan import ReadingPlan
from athletes.reader.rows.context import Cells, Context
from athletes.schema.sets import HEAVIEST_KG
from athletes.units.loads import canonical

KILOGRAMS = {
    *("kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramm", "k", "公斤", "千克", "キロ", "кг", "kgr"),
}
POUNDS = {"lb", "lbs", "pound", "pounds", "#", "libras", "pfund", "livres", "ポンド", "фунт", "фунты"}
UNHEARD_OF = 500.0
LIGHTEST, LIGHT = 2.0, 10.0  # kg: a share of a max or a slipped decimal mark; a very light bar; common practice


def load_of(one: SetText, row: Cells, context: Context, plan: ReadingPlan) -> tuple[dict[str, object], Notes]:
    """Typed load, unit and kilograms."""
    if one.plates is not None:
        return _plates(one, plan)
    if one.load is None:
        silent = any(n.level in (ASK, SKIP) for n in one.notes)
        return {}, () if silent else (Note(ASK, "no load"),)
    unit, notes = unit_of(one, row, context, plan)
    value = abs(one.load)
    kg = canonical(value, unit)
    wrong = _impossible(one.load_typed, unit, value, kg)
    if wrong:
        return {}, wrong
    return {"load_typed": _typed(one.load_typed, value), "load_unit": unit, "load_kg": kg}, notes + _odd(one, unit, kg)


def _impossible(typed: str, unit: str, value: float, kg: float) -> Notes:
    if value == 0:
        return (Note(ASK, "a load of 0: type the load, or skip the line"),)
    if kg > HEAVIEST_KG:
        return (Note(ASK, f"{typed} {unit} is more than {HEAVIEST_KG:.0f} kg: check number, unit and decimal mark"),)
    if kg < LIGHTEST:
        return (Note(ASK, f"{typed} {unit} is less than any bar: a share of a max, or a slipped decimal mark?"),)
    return ()


def _odd(one: SetText, unit: str, kg: float) -> Notes:
    if kg > UNHEARD_OF:
        return (Note(GUESS, f"{one.load_typed} {unit} is more than anybody has pulled: check it"),)
    if kg < LIGHT:
        return (Note(GUESS, f"{one.load_typed} {unit} is very light: check it"),)
    return ()


def _typed(typed: str, value: float) -> str:
    """The load as it was typed, where that is a plain number."""
    typed = typed.lstrip("-+").strip()
    if typed.count(".") + typed.count(",") > 1 or " " in typed or abs(_as_plain(typed) - value) > 1e-9:
        return f"{value:g}"
    return f"{value:g}" if typed[:1] in ".," or typed[-1:] in ".," else typed


def _as_plain(typed: str) -> float:
    try:
        return float(typed.replace(",", "."))
    except ValueError:
        return float("nan")


def unit_of(one: SetText, row: Cells, context: Context, plan: ReadingPlan) -> tuple[str, Notes]:
    """The unit beside the number, else of its line, its heading, the file, and last the one the lifter uses."""
    said = row.first("unit").casefold().rstrip(".")
    if one.unit:
        other = unit_said(said) not in ("", one.unit)
        note = f"“{one.unit}” beside the number, “{said[:10]}” in the column of units: taken as {one.unit}"
        return one.unit, (Note(GUESS, note),) if other else ()
    if said:
        known = unit_said(said)
        return known or "kg", () if known else (Note(ASK, f"“{said[:20]}” is neither kg nor lb"),)
    answered = plan.answer("unit")
    if answered:
        return str(answered), settled("unit")
    used = plan.people.unit_of(context.athlete) if context.athlete else "kg"
    if plan.unit_in_doubt:
        return used, (Note(ASK, f"{one.load_typed}: kg or lb? The file does not say", "unit", "file"),)
    return used, (Note(GUESS, f"no unit in the file: {used}, as the lifter uses", "unit", "file"),)


def unit_said(said: str) -> str:
    """kg or lb for a word of a unit column, "" for any other."""
    return "kg" if said in KILOGRAMS else "lb" if said in POUNDS else ""


def _plates(one: SetText, plan: ReadingPlan) -> tuple[dict[str, object], Notes]:
    answered = plan.answer("plates")
    if not answered:
        return {}, ()
    bar, plate, unit = str(answered).split("-")
    count, extra = one.plates or (0.0, 0.0)
    value = float(bar) + 2 * (count * float(plate) + extra)
    note = Note(GUESS, f"“{one.load_typed}” is {value:g} {unit} with a {bar} {unit} bar", "plates", "file")
    load = {"load_typed": f"{value:g}", "load_unit": unit, "load_kg": canonical(value, unit), "note": one.load_typed}
    return load, (note,)
