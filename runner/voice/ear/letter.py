"""Letters to phones, for words that no dictionary knows: labels, makers' names, invented words."""

from typing import Final

LETTER_NAMES: Final = {
    "a": "EY", "b": "B IY", "c": "S IY", "d": "D IY", "e": "IY", "f": "EH F", "g": "JH IY",
    "h": "EY CH", "i": "AY", "j": "JH EY", "k": "K EY", "l": "EH L", "m": "EH M", "n": "EH N",
    "o": "OW", "p": "P IY", "q": "K Y UW", "r": "AA R", "s": "EH S", "t": "T IY", "u": "Y UW",
    "v": "V IY", "w": "D AH B AH L Y UW", "x": "EH K S", "y": "W AY", "z": "Z IY",
}  # fmt: skip

# Longest match first; common English spellings, by ear and from memory.
_SOUNDS: Final = {
    "tion": "SH AH N", "sion": "ZH AH N", "ture": "CH ER", "ough": "AO", "augh": "AO", "eigh": "EY",
    "igh": "AY", "tch": "CH", "dge": "JH", "sch": "S K", "cia": "SH AH", "tia": "SH AH", "ous": "AH S",
    "air": "EH R", "ear": "IH R", "eer": "IH R", "oor": "AO R", "our": "AW ER", "ore": "AO R", "are": "EH R",
    "ire": "AY ER",
    "ure": "Y UH R", "qu": "K W", "ch": "CH", "sh": "SH", "th": "TH", "ph": "F", "wh": "W",
    "ck": "K", "ng": "NG", "nk": "NG K", "kn": "N", "wr": "R", "ps": "P S", "gh": "G", "ai": "EY", "ay": "EY",
    "au": "AO", "aw": "AO", "ea": "IY", "ee": "IY", "ei": "EY", "ey": "IY", "eu": "Y UW", "ew": "Y UW",
    "ie": "IY", "oa": "OW", "oe": "OW", "oi": "OY", "oy": "OY", "oo": "UW", "ou": "AW", "ow": "OW", "ue": "UW"
    ,
    "ui": "UW", "ar": "AA R", "er": "ER", "ir": "ER", "or": "AO R", "ur": "ER", "ce": "S", "ci": "S IH",
    "cy": "S IY", "ge": "JH", "gi": "JH IH", "gy": "JH IY", "bb": "B", "cc": "K", "dd": "D", "ff": "F",
    "gg": "G", "ll": "L", "mm": "M", "nn": "N", "pp": "P", "rr": "R", "ss": "S", "tt": "T", "zz": "Z",
    "a": "AE", "b": "B", "c": "K", "d": "D", "e": "EH", "f": "F", "g": "G", "h": "HH", "i": "IH", "j": "JH",
    "k": "K", "l": "L", "m": "M", "n": "N", "o": "AA", "p": "P", "q": "K", "r": "R", "s": "S", "t": "T",
    "u": "AH", "v": "V", "w": "W", "x": "K S", "y": "IY", "z": "Z",
}  # fmt: skip

_LONG: Final = {"a": "EY", "e": "IY", "i": "AY", "o": "OW", "u": "UW", "y": "AY"}
_VOWELS: Final = frozenset("aeiouy")


def sound_out(word: str) -> str:
    """Pronounce a word of the letters a to z by common spelling rules; one with no vowel is spelt."""
    if not _VOWELS & set(word):
        return " ".join(LETTER_NAMES[letter] for letter in word)
    phones: list[str] = []
    at = 0
    while at < len(word):
        sound, used = _sound_at(word, at)
        phones += sound.split()
        at += used
    return " ".join(phones)


def _sound_at(word: str, at: int) -> tuple[str, int]:
    """The sound that begins at a letter, and how many letters it takes."""
    if at == 0 and word[0] == "y":
        return "Y", 1
    if word[at] == "e" and at == len(word) - 1 and len(word) > 2:  # noqa: PLR2004 - "he" keeps its e
        return "", 1
    if _is_before_silent_e(word, at):
        return _LONG[word[at]], 1
    for length in (4, 3, 2):
        part = word[at : at + length]
        if len(part) == length and part in _SOUNDS:
            return _SOUNDS[part], _letters_used(part)
    return _SOUNDS[word[at]], 1


def _is_before_silent_e(word: str, at: int) -> bool:
    """True at the a of `gate`: vowel, one consonant, e, end."""
    return (
        word[at] in _LONG
        and at == len(word) - 3
        and word[at + 1] not in _VOWELS | {"r", "w", "x"}
        and word[at + 2] == "e"
    )


def _letters_used(part: str) -> int:
    """A soft c or g is told by the vowel after it, which is mostly still to be sounded."""
    return 1 if part in {"ce", "ge"} else len(part)
