"""SVG marks."""

from xml.etree import ElementTree as ET

from runner.report.draw import svg


def luminance(colour: str) -> float:
    """Relative luminance of #rrggbb (WCAG 2.1 definition)."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [each / 12.92 if each <= 0.03928 else ((each + 0.055) / 1.055) ** 2.4 for each in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_what_is_dead_is_still_readable() -> None:
    """WCAG 2.1 criterion 1.4.6: 7 to 1 against the paper; grey, so that a printer without colour shows it."""
    assert (1.0 + 0.05) / (luminance(svg.FAINT) + 0.05) >= 7
    assert len({svg.FAINT[1:3], svg.FAINT[3:5], svg.FAINT[5:7]}) == 1


def test_words_are_escaped() -> None:
    """A name with an ampersand does not break the document."""
    document = svg.page(100, 50, "A & B", [svg.text("<left & right>", 1, 2)])
    texts = [each.text for each in ET.fromstring(document).iter("{http://www.w3.org/2000/svg}text")]  # noqa: S314 - our own words
    assert texts == ["<left & right>"]


def test_dead_things_are_dashed_and_hollow() -> None:
    """Life never hangs on colour alone."""
    assert "dasharray" in svg.box(0, 0, 1, 1, live=False)
    assert "dasharray" not in svg.box(0, 0, 1, 1, live=True)
    assert "dasharray" in svg.line([(0, 0), (1, 1)], live=False)
    assert f'fill="{svg.INK}"' in svg.dot(0, 0, live=True)
    assert f'fill="{svg.INK}"' not in svg.dot(0, 0, live=False)
