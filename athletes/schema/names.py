"""Names of people as they are compared: the same name however it was typed or garbled on its way."""

import unicodedata


def name_key(name: str) -> str:
    """A name as it is compared: composed, case-folded, single spaces; accents stay."""
    return " ".join(unicodedata.normalize("NFC", name).casefold().split())


def repaired(name: str) -> str:
    """The name with UTF-8 that was read as Western European put right; unchanged when it was not."""
    for encoding in ("cp1252", "latin-1"):
        try:
            return name.encode(encoding).decode("utf-8")
        except (UnicodeEncodeError, UnicodeDecodeError):
            continue
    return name


def plain(name: str) -> str:
    """A name without accents and with its words in order of the alphabet, for likeness only."""
    letters = unicodedata.normalize("NFD", name_key(name)).replace(",", " ").replace(".", " ")
    letters = "".join(c for c in letters if not unicodedata.combining(c))
    return " ".join(sorted(letters.replace("ø", "o").replace("ł", "l").replace("ß", "ss").split()))
