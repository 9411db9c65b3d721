"""Made, missed and the rest: words of several languages, ticks and crosses."""

import re
from functools import lru_cache
from typing import NamedTuple

from athletes.reader.cells.numbers import tidy
from athletes.reader.notes import ASK, Note, Notes

MADE = {
    *("made", "make", "ok", "okay", "good", "good lift", "y", "yes", "true", "1", "white", "whites", "3 white", "www"),
    *("success", "successful", "done", "complete", "completed", "hit", "passed", "clean", "got it", "lifted"),
    *("✓", "✔", "✅", "☑", "√", "+", "⚪", "✔️", "☑️", "gültig", "geschafft", "ja", "gut", "réussi", "reussi", "oui"),
    *("validé", "bon", "sí", "si", "válido", "valido", "bueno", "hecho", "buona", "valida", "riuscito", "sim", "feito"),
    *("goed", "gelukt", "godkänd", "godkänt", "klarade", "godkjent", "godkendt", "hyväksytty", "zaliczone", "tak"),
    *("да", "есть", "успех", "взял", "成功", "○", "〇"),
}
MISSED = {
    *("missed", "miss", "m", "f", "fail", "failed", "failure", "n", "no", "false", "0", "bad", "no rep", "no reps"),
    *("✗", "✘", "❌", "✖", "×", "❎", "✖️", "⛔", "ungültig", "fehlversuch", "nicht geschafft", "nein", "raté"),
    *("rate", "échec", "echec", "manqué", "non", "fallo", "fallado", "fallido", "nulo", "falló", "fallito", "mancato"),
    *("nulla", "sbagliato", "falhou", "falha", "não", "nao", "mislukt", "gemist", "nee", "miss", "missat", "nej"),
    *("underkänd", "bom", "hylätty", "ei", "spalone", "nie", "нет", "не взял", "неудача", "失敗", "failed rep", "nope"),
}
NO_LIFT = {
    "no lift",
    "no-lift",
    "nolift",
    "red",
    "reds",
    "3 red",
    "red light",
    "red lights",
    "turned down",
    "hitch",
    "hitched",
}
NOT_TRIED = {
    "not tried",
    "not-tried",
    "skipped",
    "skip",
    "dns",
    "not attempted",
    "declined",
    "waived",
    "verzichtet",
    "forfait",
}
PAIN = {
    "stopped (pain)",
    "stopped-pain",
    "stopped pain",
    "pain",
    "stopped: pain",
    "hurt",
    "schmerz",
    "douleur",
    "dolor",
}
WORDS = {
    **dict.fromkeys(MADE, "made"),
    **dict.fromkeys(MISSED, "missed"),
    **dict.fromkeys(NO_LIFT | {"no lift (rule)"}, "no-lift"),
    **dict.fromkeys(NOT_TRIED, "not-tried"),
    **dict.fromkeys(PAIN, "stopped-pain"),
}


class Outcome(NamedTuple):
    value: str
    notes: Notes = ()


@lru_cache(maxsize=2_000)
def read_result(text: str) -> Outcome:
    """One of the log's results, "" for an empty cell; a word nobody knows is asked about."""
    word = tidy(text).casefold()
    if not word:
        return Outcome("")
    if word in WORDS:
        return Outcome(WORDS[word])
    if re.fullmatch(r"(?:[wr][\s,/-]?){2}[wr]", word):  # three referees: white or red
        return Outcome("made" if word.count("w") > 1 else "no-lift")
    return Outcome("", (Note(ASK, f"what does “{tidy(text)[:40]}” mean as a result?", "result", word[:100]),))
