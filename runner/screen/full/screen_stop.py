"""The signals by which a system asks a program to stop: an order, an interrupt, a terminal that is gone."""

import signal
from typing import Final

STOPPING: Final = tuple(
    getattr(signal, name) for name in ("SIGTERM", "SIGINT", "SIGHUP") if hasattr(signal, name)
)
