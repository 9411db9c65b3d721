"""Words and signs inside written sets, in the languages that club logs are kept in (common practice, no source)."""

import re

NUM = r"\d+(?:[.,]\d+)?"
KG = r"kilograms?|kilogramos|kilogrammes?|kilogramm|kilos?|kgs?|k|кг|公斤|千克|キロ"
LB = r"pounds?|pfund|libras|livres|lbs?|#|фунтов|ポンド"
UNIT = rf"{KG}|{LB}"
IS_LB = re.compile(LB, re.I)
SETS = (
    r"sets?|sätze|saetze|satz|séries|series|série|serie|serii|sarjaa|sett|sæt|sets of|подход(?:а|ов)?|セット|组|組|"
    r"s(?=\s*\d)"
)
REPS = (
    r"repetitions?|reps?|rep\.|wdhs?\.?|wiederholungen|répétitions|répét\.?|repeticiones|repetições|ripetizioni|rip\.?|"
    r"herhalingen|herh\.?|powtórzeń|powt\.?|toistoa|повтор(?:а|ов|ений)?|повт\.?|回|次|r"
)
OF = r"of|à|a|de|da|di|van|po|по|mit|x|times|mal|fois|veces|volte|vezes|keer"
JOINING = (
    r"at|for|of|mit|with|con|com|avec|met|med|à|zu|je|je mit|de|da|di|van|po|por|per|z|na|auf|bei|с|по|на|einmal|"
    r"single|double|triple"
)
THEN = r"then|and|und|dann|puis|et|y|luego|e poi|poi|depois|en dan|daarna|och|og|potem|затем|потом"
MISS = (
    r"failed(?: reps?| lift)?|failure|fail(?: reps?| lift)?|missed(?: reps?| lift)?|miss(?: reps?| lift)?|nope|no rep|"
    r"rat[eé]e?|échec|echec|manqué|fallo|fallado|fallido|nulo|fallito|nulla|falhou|falha|mislukt|gemist|missat|bom|"
    r"fehlversuch|ungültig|nicht geschafft|spalone|не взял|неудача|失敗|✗|✘|❌|❎|✖️?|⛔|×"
)
MISS_LETTER = r"f"
MADE = (
    r"good lift|good|made|make|ok|okay|done|clean|success(?:ful)?|gültig|geschafft|réussie?|validée?|válido|hecho|"
    r"buona|valida|riuscito|feito|goed|gelukt|godkänd|zaliczone|взял|成功|✓|✔️?|✅|☑️?|√|○|〇"
)
NO_LIFT = r"no[- ]lift|nl|red lights?|turned down|hitch(?:ed)?"
HARMLESS = re.compile(
    r"(?:(?:felt|feels|was|were|is|very|too|so|super|really|nice|solid|fast|slow|smooth|tough|good|great|easy|hard|heavy|light|"
    r"grind(?:y|er)?|warm[- ]?ups?|w/?u|aufwärmen|échauffement|top|back[- ]?offs?|bo|work(?:ing)?|opener|new|lifetime|"
    r"all[- ]time|pr|pb|best|rekord|record|raw|leicht|schwer|facile|dur|fácil|duro|set|single|double|triple|main|first|"
    r"second|third|last|1st|2nd|3rd|and|but|with)[\s.,!:]*)*",
    re.I,
)
A_BAR = re.compile(r"(?<!\w)(?:bar|barbell|bb|barre|stange|barra)(?!\w)", re.I)
TO_BODY = re.compile(r"\b(?:bw|body ?weight|bodymass|kg corporal|poids de corps|eigengewicht|körpergewicht)\b", re.I)


def worded(words: str) -> str:
    """A pattern that matches the words as whole ones; signs may touch their neighbours."""
    return rf"(?<![^\W\d_])(?:{words})(?![^\W\d_])"
