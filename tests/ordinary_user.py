"""Python as a user whom permissions hold, also where the tests run as root."""

import os
import shutil
import sys
from typing import Final

import pytest

needs_setpriv: Final = pytest.mark.skipif(
    os.name != "posix" or shutil.which("setpriv") is None, reason="needs setpriv"
)


def ordinary_python(*words: str) -> list[str]:
    """A command line; root goes without the capabilities by which it writes anywhere (capabilities(7))."""
    taken = "-dac_override,-dac_read_search"
    without = [] if os.geteuid() else ["setpriv", f"--bounding-set={taken}", f"--inh-caps={taken}"]
    return [*without, sys.executable, *words]
