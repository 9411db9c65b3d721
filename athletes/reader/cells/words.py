"""Words of dates in the languages that club logs are kept in."""

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
