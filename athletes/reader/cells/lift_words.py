"""What lifts, styles, starts, bars and kit are called in the words and languages of club logs.

Each entry is a pattern on folded text (lower case, accents kept) and what it sets. They are tried in this order and
taken out of the name as they are found, so longer names stand before the shorter ones inside them.
"""

import re

DEADLIFT = (
    r"deadlifts?|dead ?lifts?|dead-lifts?|deads?|d/l|dls?|dl\(s\)|kreuzheben|kh|soulev[eé]s? de terre|soulev[eé]s?|sdt|"
    r"peso muerto|pm|stacco da terra|stacchi|stacco|levantamento terra|terra|marklyft|markl[oø]ft|d[oø]dl[oø]ft|"
    r"maastaveto|mave|martwy ci[aą]g|становая тяга|становая|тяга|デッドリフト|硬拉|pulls?"
)
LIFTS: list[tuple[str, dict[str, object]]] = [
    (
        r"romanian (?:deadlifts?|dls?)|(?:deadlifts?|dls?),? \(?romanian\)?|rdls?|soft[- ]knee hinge|"
        r"rum[aä]nisches? kreuzheben|kreuzheben \(?rum[aä]nisch\)?|(?:soulev[eé]s? de terre|sdt) roumains?|"
        r"peso muerto rumano|pmr|stacc(?:o|hi) (?:da terra )?(?:all[ao] )?rumen[oi]|(?:levantamento )?terra romeno|"
        r"rumu[nń]ski martwy ci[aą]g|martwy ci[aą]g rumu[nń]ski|roemeense deadlifts?|rum[aä]nska? marklyft|"
        r"румынская (?:становая )?тяга|тяга румынская|ルーマニアンデッドリフト",
        {"lift": "romanian"},
    ),
    (r"(?:stiff|straight)[- ]?leg(?:ged)? (?:deadlifts?|dls?|deads?)|sldls?", {"lift": "other", "called": "as typed"}),
    (r"good ?mornings?|gms?|guten morgen", {"lift": "good-morning"}),
    (r"front ?squats?|fsq|fs|frontkniebeugen?|sentadilla frontal|squat avant|кф", {"lift": "front-squat"}),
    (
        r"(?:high|low)[- ]bar (?:back )?squats?|back ?squats?|box squats?|pause[d]? squats?|squats?|sq|bs|kniebeugen?|"
        r"kb[- ]?kniebeugen?|sentadillas?|agachamento|knäböj|kyykky|przysiad|приседания?|присед",
        {"lift": "squat"},
    ),
    (
        r"back raises?|back extensions?|hyper ?extensions?|hypers?|45 back raises?|reverse hypers?",
        {"lift": "back-raise"},
    ),
    (
        r"bench(?: press)?|bp|bankdr[uü]cken|bd|d[eé]velopp[eé] couch[eé]|dc|press de banca|panca(?: piana)?|supino|"
        r"b[aä]nkpress|жим(?: лежа)?",
        {"lift": "bench"},
    ),
    (
        r"(?:chest[- ]supported |barbell |bb |pendlay |bent[- ]over |seal |t-?bar )?rows?|rudern|rowing|remo",
        {"lift": "row"},
    ),
    (
        r"shrugs?|hip thrusts?|glute bridges?|leg press|leg curls?|lunges?|split "
        r"squats?|pull-?ups?|chin-?ups?|pulldowns?|"
        r"kettlebell swings?|curls?|ohp|overhead press|press|planks?|face ?pulls?|cleans?|power cleans?|snatch(?:es)?",
        {"lift": "other", "called": "as typed"},
    ),
]
STYLES: list[tuple[str, dict[str, object]]] = [
    (r"wide[- ]sumo|ultra[- ]wide(?: sumo)?", {"style": "wide-sumo"}),
    (r"(?:semi|medium|narrow)[- ]sumo|sumo|сумо|相撲|相扑|スモウ?|su(?= ?dl)|sudls?|sdls?", {"style": "sumo"}),
    (
        r"conventional|conventionnel|konventionell(?:es)?|convencional|convenzionale|conv|cdls?|konv|trad(?:itional)?|"
        r"klassisch(?:es)?|klassiek|klassisk|classic|classique|cl[aá]sic[oa]|classico|klasyczn[ya]|классическая|классика",
        {"style": "conventional"},
    ),
]
LENGTH = r"(?P<height>\d+(?:[.,]\d+)?)\s*-?\s*(?P<length_unit>\"|''|”|″|in(?:ch(?:es)?)?\b|cm\b|mm\b)"
LATE_LENGTH = LENGTH.replace("height", "height2").replace("length_unit", "length_unit2")
STARTS: list[tuple[str, dict[str, object]]] = [
    (
        rf"{LENGTH}\s*-?\s*(?:deficits?|def)|(?:deficits?|def)\s*(?:of |\()?{LATE_LENGTH}\)?",
        {"start": "deficit"},
    ),
    (r"deficits?|défi?cit", {"start": "deficit", "no_height": True}),
    (
        rf"{LENGTH}\s*-?\s*(?:blocks?|mats?|pins?|rack)(?: pulls?)?|(?:off |from "
        rf")?(?:blocks?|mats?|pins?|rack)(?: pulls?)?\s*(?:of |at |\()?"
        rf"{LATE_LENGTH}\)?",
        {"start": "block"},
    ),
    (
        r"(?:rack|pin|block) pulls?,? ?(?P<place>(?:from )?(?:below|above|at) (?:the )?knees?|mid[- "
        r"]?shin|mid[- ]?thigh)?|"
        r"(?:off |from )?(?:the )?(?:blocks?|pins)|blockziehen",
        {"start": "block", "no_height": True},
    ),
    (r"(?:below|above|at) (?:the )?knees?", {"start": "block", "no_height": True}),
    (r"from (?:the )?floor|floor", {"start": "floor"}),
]
BARS: list[tuple[str, dict[str, object]]] = [
    (r"(?:hex|trap)[- ]?bar,? ?(?:\(?high(?: handles?)?\)?)", {"bar_kind": "hex-high"}),
    (r"(?:high[- ]handle) (?:hex|trap)[- ]?bar", {"bar_kind": "hex-high"}),
    (
        r"(?:hex|trap)[- ]?bar,? ?(?:\(?low(?: handles?)?\)?)|low[- ]handle (?:hex|trap)[- ]?bar",
        {"bar_kind": "hex-low"},
    ),
    (r"(?:hex|trap)[- ]?bar", {"bar_kind": "other", "ask_bar": "hex bar"}),
    (
        r"(?:dl|deadlift|dead) bar|whippy(?: bar)?|whip bar|flexible(?: (?:deadlift )?bar)?(?:, 27 mm)?",
        {"bar_kind": "flexible"},
    ),
    (r"stiff(?![- ]?leg)(?: bar)?(?:, 29 mm)?|power bar", {"bar_kind": "stiff"}),
    (r"(?:sq|squat) bar", {"bar_kind": "squat-bar"}),
    (r"training bar(?:, 28 mm)?", {"bar_kind": "training"}),
    (r"comp(?:etition)? bar|meet bar|gym bar", {"ask_bar": "as typed"}),
]
NOT = r"no|without|w/o|w/out|minus|sans|ohne|keine?n?|sin|senza|sem|zonder|geen|bez|utan|uten|uden|ingen|без"
NONE = r"no|n|0|false|off|none|nein|non|nee|nej|nie"
YES = r"yes|y|1|true|on|ja|oui|s[ií]|tak"
KIT: list[tuple[str, dict[str, object]]] = [
    (
        rf"(?:{NOT}) (?:straps?|zughilfen|sangles|correas|fasce|cinghie|dragremmar|paski)|strapless|"
        rf"(?:straps?|zughilfen|sangles)\s*[:=]\s*(?:{NONE})",
        {"straps": False},
    ),
    (
        r"(?:w/|w\.|with|\+|&|mit|avec|con|com|met|in)? ?(?:straps?|strapped|zughilfen|sangles|straps on)\b"
        rf"(?:\s*[:=]\s*(?:{YES}))?|\bstr\b",
        {"straps": True},
    ),
    (
        rf"belt ?less|(?:{NOT}) (?:belts?|g[uü]rtel|ceinture|cintur[oó]n|cintura|cinto|riem|b[aä]lte|pasa?)|"
        rf"(?:belt|g[uü]rtel|ceinture)\s*[:=]\s*(?:{NONE})|g[uü]rtellos",
        {"belt": False},
    ),
    (
        rf"(?:w/|w\.|with|\+|&|mit|avec|con|com|met)? ?(?:belt(?:ed)?|g[uü]rtel|ceinture|cintur[oó]n)\b"
        rf"(?:\s*[:=]\s*(?:{YES}))?",
        {"belt": True},
    ),
    (r"(?:in )?(?:deadlift )?suit|equipped", {"suit": True}),
    (r"mixed(?: grip)?|over[- ]under|alternate(?:d)?(?: grip)?", {"grip": "mixed"}),
    (r"hook(?: ?grip)?", {"grip": "hook"}),
    (r"double[- ]overhand|doh|d\.o\.h\.?", {"grip": "double-overhand"}),
    (r"touch[- ]?(?:and|&|n|'n')[- ]?go|tng|t&g|rebound", {"dead_stop": False}),
    (r"dead[- ]?stop", {"dead_stop": True}),
    (r"paused?|pause(?=d? )|with pause", {"paused": True}),
]
FILLER = frozenset(
    """
    the a an and with w w/ on from of in at lift lifts bar barbell bb raw set sets work top main day heavy light
    comp competition single singles volume avec mit con com à de la le al regular normal standard gym training s
    backoff back-off warmup warm-up ramp max effort speed dynamic
    """.split()  # noqa: SIM905 - a list of words reads better as one
)


def compiled(table: list[tuple[str, dict[str, object]]]) -> list[tuple[re.Pattern[str], dict[str, object]]]:
    """The table with its patterns compiled to match whole words."""
    return [(re.compile(rf"(?<![\w])(?:{pattern})(?![\w])", re.I), sets) for pattern, sets in table]


_MONTHS = """
january jan januar jänner jän janvier janv enero ene gennaio gen janeiro januari styczeń stycznia sty tammikuu января январь янв
february feb februar feber février fevrier févr fevr febrero febbraio fevereiro fev februari luty lutego lut helmikuu февраля февраль фев
march mar märz maerz mrz mär mars marzo março marco maart mrt marzec marca maaliskuu марта март мар
april apr avril avr abril abr aprile kwiecień kwietnia kwi huhtikuu апреля апрель апр
may mai mayo maggio mag maio mei maj maja toukokuu мая май
june jun juni juin junio giugno giu junho czerwiec czerwca cze kesäkuu июня июнь июн
july jul juli juillet juil julio luglio lug julho lipiec lipca lip heinäkuu июля июль июл
august aug août aout agosto ago augustus augusti sierpień sierpnia sie elokuu августа август авг
september sep sept septembre septiembre settembre set setembro wrzesień września wrz syyskuu сентября сентябрь сен сент
october oct oktober okt octobre octubre ottobre ott outubro out październik października paź lokakuu октября октябрь окт
november nov novembre noviembre novembro listopad listopada lis marraskuu ноября ноябрь ноя нояб
december dec dezember dez décembre decembre déc diciembre dic dicembre dezembro desember des grudzień grudnia gru joulukuu декабря декабрь дек
"""  # noqa: E501 - a month a line reads better
MONTHS = {word: number for number, line in enumerate(_MONTHS.split("\n")[1:], 1) for word in line.split()}
WEEKDAYS = frozenset(
    """
    monday mon tuesday tue tues wednesday wed thursday thu thur thurs friday fri saturday sat sunday sun montag mo
    dienstag di mittwoch mi donnerstag do freitag fr samstag sa sonnabend sonntag so lundi lun mardi mar mercredi mer
    jeudi jeu vendredi ven samedi sam dimanche dim lunes martes mié mie miércoles miercoles jueves jue viernes vie
    sábado sabado sáb sab domingo dom lunedì lunedi martedì martedi mercoledì mercoledi giovedì giovedi gio venerdì
    venerdi maandag ma dinsdag woensdag wo donderdag vrijdag vr zaterdag za zondag zo måndag mån tisdag tis onsdag ons
    torsdag tors tor fredag fre lördag lör söndag sön mandag man tirsdag tir lørdag lør søndag søn segunda-feira
    segunda seg terça-feira terça ter quarta-feira quarta qua quinta-feira quinta qui sexta-feira sexta sex
    poniedziałek pon wtorek wt środa śr czwartek czw piątek pt niedziela nd sobota sob maanantai tiistai keskiviikko
    torstai perjantai lauantai sunnuntai понедельник пн вторник вт среда ср четверг чт пятница пт суббота сб
    воскресенье вс 月曜日 火曜日 水曜日 木曜日 金曜日 土曜日 日曜日 月 火 水 木 金 土 日
    """.split()  # noqa: SIM905 - a list of words reads better as one
)
