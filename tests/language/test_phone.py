import pytest

from runner.language.phone import PHONES, Consonant, Vowel, phone_difference, phone_weight


def test_all_phones_of_the_dictionary_are_there() -> None:
    """The 39 phones of the CMU dictionary (its own documentation; from memory)."""
    vowels = {"AA", "AE", "AH", "AO", "AW", "AY", "EH", "ER", "EY", "IH", "IY", "OW", "OY", "UH", "UW"}
    consonants = set("B CH D DH F G HH JH K L M N NG P R S SH T TH V W Y Z ZH".split())  # noqa: SIM905 - reads as in the dictionary
    assert PHONES.keys() == vowels | consonants


def test_the_difference_is_a_distance() -> None:
    """Nothing from a phone to itself, something up to 1 between any two, the same both ways."""
    for one in PHONES:
        assert phone_difference(one, one) == 0
        for other in PHONES.keys() - {one}:
            assert 0 < phone_difference(one, other) <= 1
            assert phone_difference(one, other) == phone_difference(other, one)


@pytest.mark.parametrize(
    ("near", "far"),
    [
        (("M", "N"), ("M", "B")),  # place is lost in noise before nasality
        (("P", "K"), ("P", "B")),  # place is lost before voice
        (("T", "K"), ("T", "D")),
        (("F", "TH"), ("F", "V")),
        (("F", "TH"), ("F", "S")),
        (("D", "G"), ("D", "N")),
    ],
)
def test_consonants_that_noise_confuses_are_nearer(near: tuple[str, str], far: tuple[str, str]) -> None:
    """The order of Miller and Nicely, J. Acoust. Soc. Am. 27 (1955) 338-352, from memory."""
    assert phone_difference(*near) < phone_difference(*far)


def test_a_vowel_is_no_consonant() -> None:
    """They have nothing in common, but for a glide and its vowel."""
    assert phone_difference("AA", "T") == 1
    assert phone_difference("W", "UW") < 1


def test_missing_breath_costs_less_than_missing_a_vowel() -> None:
    """A lost H is hardly heard; a lost full vowel is a lost syllable."""
    assert phone_weight("HH") < phone_weight("S") < phone_weight("AY") == 1


def test_what_is_no_phone_is_refused() -> None:
    """A stress mark or a typing error is the caller's mistake."""
    with pytest.raises(KeyError, match="AY1"):
        phone_difference("AY1", "AY")


HOW = {
    "P": "stop lips", "B": "stop lips voiced", "M": "nasal lips", "W": "glide lips",
    "F": "fricative teeth-lips", "V": "fricative teeth-lips voiced",
    "TH": "fricative teeth", "DH": "fricative teeth voiced",
    "T": "stop ridge", "D": "stop ridge voiced", "N": "nasal ridge", "L": "glide ridge",
    "S": "sibilant ridge", "Z": "sibilant ridge voiced",
    "SH": "sibilant palate", "ZH": "sibilant palate voiced",
    "CH": "affricate palate", "JH": "affricate palate voiced", "R": "glide palate", "Y": "glide palate",
    "K": "stop velum", "G": "stop velum voiced", "NG": "nasal velum",
    "HH": "fricative throat",
}  # fmt: skip
"""The consonants by manner, place and voice: the table of any phonetics textbook, from memory."""
PLACES = ("lips", "teeth-lips", "teeth", "ridge", "palate", "velum", "throat")


@pytest.mark.parametrize(("phone", "how"), HOW.items(), ids=HOW)
def test_each_consonant_is_made_as_the_textbooks_say(phone: str, how: str) -> None:
    """Nasals and glides are voiced sonorants; stops, affricates and nasals close the mouth."""
    manner, place, *voiced = how.split()
    sonorant = manner in {"nasal", "glide"}
    assert PHONES[phone] == Consonant(
        PLACES.index(place),
        is_voiced=bool(voiced) or sonorant,
        is_nasal=manner == "nasal",
        flows=manner in {"fricative", "sibilant", "glide"},
        is_sonorant=sonorant,
        hisses=manner in {"sibilant", "affricate"},
    )


VOWELS = {
    "IY": (1.0, 0.0), "IH": (0.8, 0.1), "EH": (0.45, 0.1), "AE": (0.15, 0.1), "AH": (0.4, 0.5),
    "ER": (0.5, 0.5), "AA": (0.0, 0.8), "AO": (0.25, 1.0), "UH": (0.8, 0.9), "UW": (1.0, 1.0),
    "EY": (0.6, 0.0, 0.9, 0.0), "AY": (0.0, 0.5, 0.9, 0.0), "OY": (0.3, 1.0, 0.9, 0.0),
    "AW": (0.0, 0.5, 0.8, 0.9), "OW": (0.5, 0.9, 0.8, 0.9),
}  # fmt: skip
"""Height and backness, of a diphthong those of its end too: this project's own reading of the vowel chart."""


@pytest.mark.parametrize(("phone", "at"), VOWELS.items(), ids=VOWELS)
def test_each_vowel_keeps_its_place_in_the_chart(phone: str, at: tuple[float, ...]) -> None:
    """A table of figures is kept by a second one."""
    assert PHONES[phone] == Vowel(*(at if len(at) > 2 else at * 2))


def test_the_chart_has_the_order_of_the_textbooks() -> None:
    """From close to open, front and back (the IPA chart, from memory)."""
    height = {phone: at[0] for phone, at in VOWELS.items()}
    assert height["IY"] > height["IH"] > height["EH"] > height["AE"]
    assert height["UW"] > height["UH"] > height["AO"] > height["AA"]
    assert max(VOWELS[front][1] for front in ("IY", "IH", "EH", "AE")) < VOWELS["AH"][1]
    assert VOWELS["AH"][1] < min(VOWELS[back][1] for back in ("UW", "UH", "AO", "AA"))


@pytest.mark.parametrize(
    ("one", "other", "apart"),
    [
        ("P", "B", 0.15 + 0.25),  # voice
        ("B", "M", 0.15 + 0.25 + 0.15),  # nasal, sonorant
        ("T", "TH", 0.15 + 0.2 + 0.04),  # flow, one place
        ("S", "TH", 0.15 + 0.2 + 0.04),  # hiss, one place
        ("CH", "SH", 0.15 + 0.2),  # flow
        ("Z", "L", 0.15 + 0.2 + 0.15),  # hiss, sonorant
        ("P", "HH", 0.15 + 0.2 + 0.24),  # flow, six places
        ("S", "NG", 1.0),  # all there is: 1.23, cut at 1
        ("IY", "IH", 0.15 + 0.35 * 0.3 + 0.25 * 0.3),
        ("IY", "UW", 0.15 + 0.35 + 0.25),
        ("EY", "IY", 0.15 + 0.35 * 0.4 + 0.25 * 0.1),
        ("AY", "AW", 0.15 + 0.25 * (0.1 + 0.9)),
        ("IY", "AA", 1.0),  # 0.15 + 0.6 x 1.8, cut at 1
        ("W", "UW", 0.5),  # kin
        ("Y", "IY", 0.5),
        ("R", "ER", 0.5),
        ("L", "OW", 0.5),
        ("L", "UW", 1.0),
    ],
)
def test_a_difference_is_the_sum_of_what_differs(one: str, other: str, apart: float) -> None:
    """Worked by hand with this project's weights."""
    assert phone_difference(one, other) == pytest.approx(apart)
    assert phone_difference(other, one) == pytest.approx(apart)


def test_what_a_lost_phone_costs() -> None:
    """Breath 0.4; dull vowels and the stops of the ridge 0.6 to 0.7; a consonant 0.75, a vowel 1."""
    cheap = {"HH": 0.4, "AH": 0.6, "IH": 0.7, "T": 0.6, "D": 0.6}
    assert {phone: phone_weight(phone) for phone in PHONES} == {
        **dict.fromkeys(HOW, 0.75), **dict.fromkeys(VOWELS, 1.0), **cheap
    }  # fmt: skip
