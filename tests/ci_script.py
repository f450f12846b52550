"""The scripts of `.ci`, which are no package, as modules."""

import importlib.util
import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent


def ci_script(name: str) -> Any:
    """`.ci/NAME.py`, loaded."""
    spec = importlib.util.spec_from_file_location(name, ROOT / ".ci" / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module  # dataclasses look their module up
    spec.loader.exec_module(module)
    return module
