"""The palette as Textual themes: each tone gives the stylesheet an ink and a ground."""

from collections.abc import Mapping
from typing import Final

from textual.theme import Theme

from runner.screen.full.palette import DAY, NIGHT, Pair, Tone


def variables(palette: Mapping[Tone, Pair]) -> dict[str, str]:
    """The stylesheet's variables: `eo-caution-ink`, `eo-caution-ground` and so on."""
    inks = {f"eo-{tone}-ink": pair.ink for tone, pair in palette.items()}
    grounds = {f"eo-{tone}-ground": pair.ground for tone, pair in palette.items()}
    return inks | grounds


def _theme(name: str, palette: Mapping[Tone, Pair], *, is_dark: bool) -> Theme:
    """A Textual theme made of one palette."""
    plain = palette[Tone.PLAIN]
    return Theme(
        name=name,
        primary=palette[Tone.ADVISORY].ground,
        foreground=plain.ink,
        background=plain.ground,
        surface=plain.ground,
        panel=plain.ground,
        text_alpha=1.0,
        dark=is_dark,
        variables=variables(palette),
    )


DAY_THEME: Final = _theme("eyesout-day", DAY, is_dark=False)
NIGHT_THEME: Final = _theme("eyesout-night", NIGHT, is_dark=True)
