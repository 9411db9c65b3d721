"""What headings of club logs are called in several languages, and what each column is called on a page."""

from collections.abc import Iterable

from athletes.schema.measurements import MeasureKey as Key
from athletes.schema.measurements import measure_label

HEADINGS: dict[str, str] = {
    "date": "date day datum fecha data when jour tag dato päivä päiväys pvm дата дата-тренировки день 日付 日期 "
    "training-date session-date workout-date performed-on performed-at start-time date-time datetime dia día "
    "data-treningu giorno dag measured-on",
    "lifter": "lifter athlete name who person lifter-name athlete-name client trainee heber athlet athletin "
    "sportler sportlerin nom athlète sportif atleta deportista nombre nome alumno cliente levantador "
    "levantadora nimi lyfter lyftare løfter utøver naam sporter zawodnik zawodniczka "
    "спортсмен атлет фио 選手 名前 氏名 姓名 选手 运动员 full-name member lifters athletes",
    "first": "first-name firstname given-name forename vorname prénom prenom voornaam förnamn fornavn imię имя 名",
    "last": "last-name lastname surname family-name nachname nom-de-famille apellido apellidos cognome sobrenome "
    "achternaam efternamn etternavn nazwisko фамилия 姓",
    "lift": "lift exercise what exercise-name movement übung uebung exercice mouvement ejercicio esercizio "
    "exercício exercicio oefening övning øvelse liike ćwiczenie упражнение 種目 动作 動作 type-of-lift lift-name "
    "lift-type variation exercise-type",
    "style": "style stance stil stance-style stile estilo",
    "load": "load weight kg lb lbs load-kg weight-kg weight-lb weight-lbs load-lb gewicht last belastung "
    "poids charge peso carga carico gewicht-kg poids-kg peso-kg vikt vekt vægt paino ciężar obciążenie "
    "belasting вес нагрузка 重量 重さ bar-weight weight-lifted weight-used load-typed amount kilos pounds",
    "unit": "unit units einheit unité unidad unità unidade eenheid enhet jednostka 単位 单位 ед weight-unit "
    "load-unit uom",
    "sets": "sets set-count no-of-sets number-of-sets sätze saetze anzahl-sätze séries series serie serier "
    "serii sarjat séries-nb nb-séries подходы подходов セット セット数 组数 組数",
    "reps": "reps rep repetitions repeats wdh wdhs wiederholungen répétitions répét repetitions-count "
    "repeticiones reps-made made-reps ripetizioni rip repetições repetisjoner repetitioner herhalingen "
    "toistot powtórzenia powt повторения повторений повт 回数 レップ レップ数 次数 r",
    "tried": "tried reps-tried reps-attempted attempted-reps",
    "effort": "effort rpe @ intensity-rpe exertion rpe-typed anstrengung session-rpe",
    "rir": "rir reps-in-reserve reserve",
    "result": "result outcome made success made? good? made-missed hit-miss make-miss ergebnis résultat "
    "resultat resultado risultato rezultat wynik uitslag результат 結果 结果 status gültig valid lights",
    "note": "note notes comment comments remark remarks feedback bemerkung bemerkungen anmerkung notiz "
    "notizen kommentar commentaire commentaires remarque remarques notas nota comentario comentarios "
    "observaciones observações osservazioni opmerking opmerkingen anteckning anteckningar uwagi notatki "
    "huomiot примечание примечания заметки комментарий 備考 メモ 备注 memo",
    "set": "set satz sets-and-reps sets-x-reps set-text work scheme sets-reps workout what-was-done entry log "
    "line performed top-set top-sets back-off back-off-sets backoff backoff-sets backoffs warm-up warm-ups "
    "warmup warmups warm-up-sets work-sets working-sets drop-sets aufwärmen arbeitssätze",
    "bar": "bar bar-name bar-used stange barre barra",
    "bar_kind": "bar-kind bar-type",
    "start": "start starts-from start-position",
    "start_height": "start-height block-height deficit-height height-of-block",
    "start_unit": "start-height-unit",
    "disc": "disc-diameter-cm plate-diameter-cm disc-diameter",
    "grip": "grip griff prise agarre presa",
    "kit": "kit equipment gear ausrüstung équipement equipo equip",
    "straps": "straps zughilfen sangles",
    "belt": "belt gürtel ceinture",
    "suit": "suit",
    "dead_stop": "dead-stop",
    "paused": "paused",
    "shape": "back shape back-shape",
    "shape_region": "back-region shape-region",
    "miss_position": "miss-position missed-at where-missed",
    "second_position": "second-miss-position second-position",
    "gave_way": "gave-way what-gave-way miss-reason",
    "slowest_at": "slowest-at sticking-point",
    "rule_reason": "rule-reason no-lift-reason",
    "what_changed": "what-changed",
    "in_new_style": "in-new-style",
    "pull_seconds": "seconds pull-seconds",
    "depth_verified": "depth-seen depth-verified",
    "is_test": "test test-day is-test",
    "order": "order set-order set-number set-no set-nr set-index",
    "aside": "tonnage volume total-volume volume-load 1rm e1rm est-1rm estimated-1rm max-est calc points dots "
    "wilks class weight-class total percent pct % intensity duration rest rest-time tempo id row nr no # week "
    "weekday weight-kg-total subtotal bmi age sex gender",
}
BODY: dict[str, str] = {
    Key.MASS: "bodyweight body-weight bodywt body-wt bwt bw body-mass bodymass mass weigh-in weighin "
    "scale-weight lifter-weight körpergewicht koerpergewicht körpermasse eigengewicht poids-de-corps "
    "poids-corporel peso-corporal peso-corporeo peso-corpóreo peso-do-corpo lichaamsgewicht masa-ciała "
    "waga-ciała waga kroppsvikt kroppsvekt kropsvægt kehonpaino вес-тела собственный-вес 体重",
    Key.STATURE: "height ht stature body-height bodyheight größe groesse körpergröße koerpergroesse taille "
    "estatura altura talla altezza statura lengte lichaamslengte wzrost längd kroppslängd høyde højde pituus "
    "рост 身長 身高",
    Key.SITTING_HEIGHT: "sitting-height seated-height sitzhöhe sitzgröße taille-assise altura-sentado "
    "altezza-da-seduto zithoogte sitthöjd sittehøyde wysokość-siedzeniowa",
    Key.ARM_SPAN: "span arm-span armspan wingspan wing-span reach fathom spannweite armspannweite envergure "
    "envergadura apertura-alare apertura-braccia apertura spanwijdte armspanwijdte rozpiętość "
    "rozpiętość-ramion vingbredd armspann armspenn armvidd размах размах-рук 指極 臂展",
    Key.STANDING_GRIP_HEIGHT: "grip-height standing-grip-height dowel-height fist-height griffhöhe fausthöhe "
    "hauteur-de-prise",
    Key.ACROMIAL_HEIGHT: "acromial-height acromion-height shoulder-height schulterhöhe",
    Key.TROCHANTERION_HEIGHT: "trochanterion-height trochanter-height",
    Key.TIBIALE_HEIGHT: "tibiale-height",
    Key.LATERAL_MALLEOLUS_HEIGHT: "lateral-malleolus-height malleolus-height ankle-height",
    Key.BIACROMIAL_BREADTH: "biacromial-breadth biacromial shoulder-breadth shoulder-width schulterbreite",
    Key.HIP_BREADTH: "hip-breadth hip-width hüftbreite",
    Key.FOOT_LENGTH: "foot-length fußlänge longueur-du-pied",
    Key.HAND_LENGTH: "hand-length handlänge longueur-de-la-main",
}
ARM = (
    "arm arms arm-length armlength arms-length armlänge arme bras longueur-bras longueur-du-bras "
    "longueur-des-bras brazo brazos largo-de-brazo longitud-de-brazo braccio braccia lunghezza-braccia "
    "lunghezza-braccio braço braços comprimento-do-braço armlengte długość-ramienia długość-ramion armlängd "
    "armlengde длина-руки 腕の長さ 臂长"
)
MASS, UNSURE_ARM = "body_mass", "arm"
MEASURE_FIELDS: dict[str, str] = {MASS: Key.MASS, **{str(key): str(key) for key in BODY if key != Key.MASS}}


def measures_in(mapping: Iterable[str]) -> bool:
    """Whether a file has columns of body measures."""
    return bool({*MEASURE_FIELDS, UNSURE_ARM} & set(mapping))


BY_FIELD = HEADINGS | {MASS if key == Key.MASS else str(key): words for key, words in BODY.items()} | {UNSURE_ARM: ARM}
ALIASES = {alias.casefold(): field for field, words in BY_FIELD.items() for alias in words.split()}
LABELS = {
    "date": "date",
    "lifter": "lifter",
    "first": "first name",
    "last": "last name",
    "lift": "lift",
    "style": "style",
    "load": "load",
    "unit": "unit",
    "sets": "number of sets",
    "reps": "reps",
    "tried": "reps tried",
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
    "grip": "grip",
    "kit": "kit",
    "straps": "straps",
    "belt": "belt",
    "suit": "suit",
    "dead_stop": "dead stop",
    "paused": "paused",
    "shape": "back shape",
    "shape_region": "back region",
    "miss_position": "missed at",
    "second_position": "second miss position",
    "gave_way": "what gave way",
    "slowest_at": "slowest at",
    "rule_reason": "rule reason",
    "what_changed": "what changed",
    "in_new_style": "in the new style",
    "pull_seconds": "seconds",
    "depth_verified": "depth seen",
    "is_test": "test day",
    "order": "order in the day",
    MASS: "body mass (private)",
    **{str(key): measure_label(key) for key in BODY if key != Key.MASS},
    UNSURE_ARM: "arm: span or one arm, to be told",
    "aside": "left aside",
}
PAIRED = {"reps": "reps of", "sets": "sets of", "effort": "RPE of", "rir": "reps in reserve of", "result": "result of"}
EXPORT = (
    ("date", "day"), ("order", "order"), ("lifter", ""), ("lift", "lift"), ("style", "style"), ("load", "load_typed"),
    ("unit", "load_unit"), ("reps", "reps_made"), ("reps tried", "reps_tried"), ("effort", "effort_typed"),
    ("result", "result"), ("bar name", ""), ("bar kind", "bar_kind"), ("grip", "grip"), ("straps", "straps"),
    ("belt", "belt"), ("suit", "suit"), ("start", "start"), ("start height", "start_typed"),
    ("start height unit", "start_unit"), ("disc diameter cm", "disc_diameter_cm"), ("dead stop", "dead_stop"),
    ("paused", "paused"), ("back shape", "shape"), ("back region", "shape_region"), ("missed at", "miss_position"),
    ("second miss position", "second_position"), ("what gave way", "gave_way"), ("slowest at", "slowest_at"),
    ("rule reason", "rule_reason"), ("what changed", "what_changed"), ("in new style", "in_new_style"),
    ("seconds", "pull_seconds"), ("depth seen", "depth_verified"), ("test day", "is_test"), ("note", "note"),
)  # fmt: skip
