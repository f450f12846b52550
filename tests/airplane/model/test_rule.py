"""14 CFR 91.205(d) row by row."""

from runner.airplane.model.instrument import Sense
from runner.airplane.model.rule import ROWS


def test_every_paragraph_of_the_rule_has_its_row() -> None:
    """(d)(2) to (d)(9) in order, once (d)(2) is split into radio and navigation; (d)(1) brings in (b)."""
    paragraphs = [row.paragraph for row in ROWS]
    assert paragraphs == [
        "91.205(b)(1)",
        "91.205(b)(3)",
        "91.205(d)(2)",
        "91.205(d)(2)",
        *(f"91.205(d)({number})" for number in range(3, 10)),
    ]


def test_each_row_asks_for_what_the_rule_says() -> None:
    """The rule's words (14 CFR 91.205(d), 2014 edition p. 743) against the sense that answers them."""
    wants = {row.paragraph: row for row in ROWS if row.paragraph != "91.205(d)(2)"}
    expected = {
        "91.205(d)(3)": ("rate-of-turn", Sense.TURN),
        "91.205(d)(4)": ("slip-skid", Sense.SLIP),
        "91.205(d)(5)": ("sensitive altimeter", Sense.ALTITUDE),
        "91.205(d)(6)": ("clock", Sense.TIME),
        "91.205(d)(8)": ("pitch and bank", Sense.ATTITUDE),
        "91.205(d)(9)": ("direction", Sense.DIRECTION),
    }
    for paragraph, (words, sense) in expected.items():
        assert words in wants[paragraph].wants
        assert wants[paragraph].senses == (sense,)
    assert wants["91.205(d)(7)"].senses == ()
