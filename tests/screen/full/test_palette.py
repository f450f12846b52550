"""Colours after 14 CFR 25.1322 (red warning, amber caution) and contrast after W3C WCAG 2.2."""

import colorsys
from collections.abc import Mapping
from dataclasses import replace

import pytest
from textual.theme import Theme

from runner.core.state import State
from runner.language.catalogue import Outcome
from runner.screen.full.palette import (
    DAY,
    DAY_THEME,
    NIGHT,
    NIGHT_THEME,
    Pair,
    Tone,
    clock_tone,
    outcome_tone,
    variables,
    view_tone,
)
from runner.screen.view import ClockState
from tests.screen.contrast import contrast
from tests.screen.sample import ASKING, COMPLETE, VIEWS

PALETTES = pytest.mark.parametrize("palette", [DAY, NIGHT], ids=["day", "night"])


def hue(colour: str) -> float:
    """Hue of #rrggbb in degrees."""
    red, green, blue = (int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5))
    return colorsys.rgb_to_hsv(red, green, blue)[0] * 360


@pytest.mark.parametrize(
    ("pair", "ratio"),
    [
        (Pair("#000000", "#ffffff"), 21.0),  # WCAG 2.2: ratios range from 1 to 21
        (Pair("#ffffff", "#ffffff"), 1.0),
        (
            Pair("#777777", "#ffffff"),
            4.48,
        ),  # W3C Understanding SC 1.4.3: #777777 on white is 4.47:1, from memory
    ],
)
def test_contrast_follows_the_published_formula(pair: Pair, ratio: float) -> None:
    """W3C WCAG 2.2, definitions of contrast ratio and relative luminance."""
    assert contrast(pair) == pytest.approx(ratio, abs=0.015)


@PALETTES
def test_every_pair_of_colours_has_enhanced_contrast(palette: Mapping[Tone, Pair]) -> None:
    """WCAG 2.2 success criterion 1.4.6 (AAA) asks for 7:1; reversed pairs have the same ratio."""
    assert set(palette) == set(Tone)
    assert {tone: contrast(pair) for tone, pair in palette.items() if contrast(pair) < 7} == {}


@PALETTES
def test_warning_is_red_caution_amber_advisory_neither_red_nor_green(
    palette: Mapping[Tone, Pair],
) -> None:
    """14 CFR 25.1322(e): red for warnings, amber or yellow for cautions, advisories not red or green.

    The borders between hues are ours: red within 15 degrees of 0, amber 30 to 60, green 90 to 170.
    """
    assert min(hue(palette[Tone.WARNING].ground), 360 - hue(palette[Tone.WARNING].ground)) <= 15
    assert 30 <= hue(palette[Tone.CAUTION].ground) <= 60
    assert 90 <= hue(palette[Tone.NORMAL].ground) <= 170
    assert 180 <= hue(palette[Tone.ADVISORY].ground) <= 260


def test_six_colours_at_most_are_used() -> None:
    """AC 25.1322-1 (13 Dec 2010), from memory: no more than six colours."""
    assert all(len({pair.ground for pair in palette.values()}) <= 6 for palette in (DAY, NIGHT))


def test_only_an_unrestored_selector_is_a_warning() -> None:
    """A warning needs an immediate act (14 CFR 25.1322(b)); a deferrable squawk does not."""
    warned = {view.state for view in VIEWS.values() if view_tone(view) is Tone.WARNING}
    assert warned == {State.RESTORING, State.STOPPED}
    assert outcome_tone(Outcome.SQUAWK) is Tone.CAUTION
    assert clock_tone(ClockState.LIMIT) is Tone.CAUTION


def test_a_run_that_ends_with_a_squawk_ends_in_caution() -> None:
    """Green is left for a run with nothing found."""
    assert view_tone(COMPLETE) is Tone.CAUTION
    assert view_tone(replace(COMPLETE, squawks=0, cautions=0)) is Tone.NORMAL


def test_every_state_has_a_tone() -> None:
    """No state falls through."""
    assert all(view_tone(replace(ASKING, state=state)) in Tone for state in State)


@pytest.mark.parametrize(("theme", "palette"), [(DAY_THEME, DAY), (NIGHT_THEME, NIGHT)])
def test_the_stylesheet_gets_the_palette_and_nothing_else(theme: Theme, palette: Mapping[Tone, Pair]) -> None:
    """Each tone's ink and ground, word for word."""
    assert theme.variables == variables(palette)
    assert len(variables(palette)) == 2 * len(Tone)
