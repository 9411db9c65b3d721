"""What headings of club logs are called in several languages, and what each column is called on a page.

Fields of a set and measurements bring their headings from the schema; here are those of a file only.
"""

from collections.abc import Iterable

from athletes.schema.measurements import MEASUREMENTS, measure_label
from athletes.schema.measurements import MeasureKey as Key
from athletes.schema.sets import set_specs

FILE_ONLY: dict[str, str] = {
    "lifter": "lifter athlete name who person lifter-name athlete-name client trainee heber athlet athletin "
    "sportler sportlerin nom athlète sportif atleta deportista nombre nome alumno cliente levantador "
    "levantadora nimi lyfter lyftare løfter utøver naam sporter zawodnik zawodniczka "
    "спортсмен атлет фио 選手 名前 氏名 姓名 选手 运动员 full-name member lifters athletes",
    "first": "first-name firstname given-name forename vorname prénom prenom voornaam förnamn fornavn imię имя 名",
    "last": "last-name lastname surname family-name nachname nom-de-famille apellido apellidos cognome sobrenome "
    "achternaam efternamn etternavn nazwisko фамилия 姓",
    "unit": "unit units einheit unité unidad unità unidade eenheid enhet jednostka 単位 单位 ед weight-unit "
    "load-unit uom",
    "sets": "sets set-count no-of-sets number-of-sets sätze saetze anzahl-sätze séries series serie serier "
    "serii sarjat séries-nb nb-séries подходы подходов セット セット数 组数 組数",
    "rir": "rir reps-in-reserve reserve",
    "note": "note notes comment comments remark remarks feedback bemerkung bemerkungen anmerkung notiz "
    "notizen kommentar commentaire commentaires remarque remarques notas nota comentario comentarios "
    "observaciones observações osservazioni opmerking opmerkingen anteckning anteckningar uwagi notatki "
    "huomiot примечание примечания заметки комментарий 備考 メモ 备注 memo",
    "set": "set satz sets-and-reps sets-x-reps set-text work scheme sets-reps workout what-was-done entry log "
    "line performed top-set top-sets back-off back-off-sets backoff backoff-sets backoffs warm-up warm-ups "
    "warmup warmups warm-up-sets work-sets working-sets drop-sets aufwärmen arbeitssätze",
    "bar": "bar bar-name bar-used stange barre barra",
    "start_unit": "start-height-unit",
    "kit": "kit equipment gear ausrüstung équipement equipo equip",
    "order": "order set-order set-number set-no set-nr set-index",
    "aside": "tonnage volume total-volume volume-load 1rm e1rm est-1rm estimated-1rm max-est calc points dots "
    "wilks class weight-class total percent pct % intensity duration rest rest-time tempo id row nr no # week "
    "weekday weight-kg-total subtotal bmi age sex gender",
}
ARM = (
    "arm arms arm-length armlength arms-length armlänge arme bras longueur-bras longueur-du-bras "
    "longueur-des-bras brazo brazos largo-de-brazo longitud-de-brazo braccio braccia lunghezza-braccia "
    "lunghezza-braccio braço braços comprimento-do-braço armlengte długość-ramienia długość-ramion armlängd "
    "armlengde длина-руки 腕の長さ 臂长"
)
MASS, UNSURE_ARM = "body_mass", "arm"
MEASURE_FIELDS: dict[str, str] = {
    MASS: Key.MASS,
    **{str(one.key): str(one.key) for one in MEASUREMENTS if one.key != Key.MASS},
}
HEADINGS: dict[str, str] = {
    **{spec.file: spec.field.columns for spec in set_specs().values()},
    **FILE_ONLY,
    **{MASS if one.key == Key.MASS else str(one.key): one.columns for one in MEASUREMENTS},
    UNSURE_ARM: ARM,
}
ALIASES = {alias.casefold(): field for field, words in HEADINGS.items() for alias in words.split()}


def measures_in(mapping: Iterable[str]) -> bool:
    """Whether a file has columns of body measures."""
    return bool({*MEASURE_FIELDS, UNSURE_ARM} & set(mapping))


LABELS: dict[str, str] = {
    **{spec.file: spec.heading for spec in set_specs().values()},
    "lifter": "lifter",
    "first": "first name",
    "last": "last name",
    "unit": "unit",
    "sets": "number of sets",
    "effort": "RPE",
    "rir": "reps in reserve",
    "result": "made or missed",
    "note": "note",
    "set": "whole sets (5x3@180)",
    "bar": "bar, by name",
    "bar_kind": "kind of bar",
    "start": "start (floor, block, deficit)",
    "start_height": "height of block or deficit",
    "start_unit": "unit of that height",
    "disc": "disc diameter, cm",
    "kit": "kit",
    "order": "order in the day",
    MASS: "body mass (private)",
    **{key: measure_label(key) for key in MEASURE_FIELDS if key != MASS},
    UNSURE_ARM: "arm: span or one arm, to be told",
    "aside": "left aside",
}
PAIRED = {"reps": "reps of", "sets": "sets of", "effort": "RPE of", "rir": "reps in reserve of", "result": "result of"}


def _export_columns() -> tuple[tuple[str, str], ...]:
    """Headings of the exported table with the column of the set that each holds, "" where the writer fills it in."""
    beside = {
        "day": (("order", "order"), ("lifter", "")),
        "load_kg": (("unit", "load_unit"),),
        "result": (("bar name", ""),),
        "start_offset_m": (("start height unit", "start_unit"),),
    }
    columns: list[tuple[str, str]] = []
    for name, spec in set_specs().items():
        columns.append((spec.heading, spec.field.typed[0] if spec.field.typed else spec.column))
        columns += beside.get(name, ())
    return (*columns, ("note", "note"))


EXPORT = _export_columns()
