"""The one place that imports matplotlib, whose list of fonts is kept in our cache folder."""

from __future__ import annotations

import os
from types import ModuleType

from runner.errors import UsageError
from runner.place import font_folder


def load_plotter() -> ModuleType:
    """The library with its module `figure`; UsageError when it is not installed."""
    os.environ.setdefault("MPLCONFIGDIR", str(font_folder()))  # read when it is imported
    try:
        import matplotlib.figure  # noqa: PLC0415 - only who draws needs it
    except ImportError:
        raise UsageError('a chart needs matplotlib; install it with: pip install "eyesout[plots]"') from None
    return matplotlib
