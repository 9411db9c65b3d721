"""Words of dates in the languages that club logs are kept in."""

_MONTHS = """
january jan januar jänner janvier janv enero ene gennaio gen janeiro januari styczeń tammikuu
february feb februar février fevrier févr fevr febrero febbraio fevereiro fev februari luty helmikuu
march mar märz maerz mrz mär mars marzo março marco maart mrt marzec maaliskuu
april apr avril avr abril abr aprile kwiecień huhtikuu
may mai mayo maggio mag maio mei maj toukokuu
june jun juni juin junio giugno giu junho czerwiec kesäkuu
july jul juli juillet juil julio luglio lug julho lipiec heinäkuu
august aug août aout agosto ago augustus augusti sierpień elokuu
september sep sept septembre septiembre settembre set setembro wrzesień syyskuu
october oct oktober okt octobre octubre ottobre ott outubro out październik lokakuu
november nov novembre noviembre novembro listopad marraskuu
december dec dezember dez décembre decembre déc diciembre dic dicembre dezembro grudzień joulukuu
"""
MONTHS = {word: number for number, line in enumerate(_MONTHS.split("\n")[1:], 1) for word in line.split()}
WEEKDAYS = frozenset(
    """
    monday mon tuesday tue tues wednesday wed thursday thu thur thurs friday fri saturday sat sunday sun montag
    mo dienstag di mittwoch mi donnerstag do freitag fr samstag sa sonnabend sonntag so lundi lun mardi mercredi
    mer jeudi jeu vendredi ven samedi sam dimanche dim lunes martes mié mie miércoles miercoles jueves jue
    viernes vie sábado sabado sáb sab domingo dom lunedì lunedi martedì martedi mercoledì mercoledi giovedì
    giovedi gio venerdì venerdi maandag ma dinsdag woensdag wo donderdag vrijdag vr zaterdag za zondag zo måndag
    mån tisdag tis onsdag ons torsdag tors tor fredag fre lördag lör söndag sön
    """.split()  # noqa: SIM905 - a list of words reads better as one
)
