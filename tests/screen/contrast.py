"""Contrast of an ink on a ground, after W3C WCAG 2.2."""

from runner.screen.full.palette import Pair

_KNEE = 0.04045


def contrast(pair: Pair) -> float:
    """Contrast ratio, 1 to 21 (W3C WCAG 2.2, "contrast ratio" and "relative luminance")."""
    high, low = sorted((_luminance(pair.ink), _luminance(pair.ground)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def _luminance(colour: str) -> float:
    """Relative luminance of #rrggbb, 0 to 1."""
    red, green, blue = (_linear(int(colour[start : start + 2], 16) / 255) for start in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    """An sRGB channel (0 to 1) as linear light."""
    return channel / 12.92 if channel <= _KNEE else ((channel + 0.055) / 1.055) ** 2.4
