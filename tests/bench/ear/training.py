"""The training scripts that the bench shares: the split by speaker, noise, voices, a reference model."""

import importlib
import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[3]
sys.path.insert(0, str(ROOT / "models" / "train"))  # scripts that import each other by name; no package

augment: Any = importlib.import_module("augment")
noise: Any = importlib.import_module("noise")
pair: Any = importlib.import_module("pair")
recording: Any = importlib.import_module("recording")
sentence: Any = importlib.import_module("sentence")
speaker: Any = importlib.import_module("speaker")
transcribe: Any = importlib.import_module("transcribe")
vocabulary: Any = importlib.import_module("vocabulary")
