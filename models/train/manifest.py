"""Write models/manifest.toml: `python manifest.py MODELS_FOLDER`, after any model file has changed."""

import hashlib
import sys
from pathlib import Path
from typing import Final

_EAR: Final = (
    "encoder derived from Moonshine tiny, Copyright (c) 2025 Moonshine AI (ear/LICENSE-moonshine); "
    "phone head by the eyesout authors, trained on the data named in README.md"
)
_VOSK: Final = (
    "network by the eyesout authors, trained on the data in README.md and phone times from ear/ear.onnx"
)
_WORDS: Final = (
    "words and pronunciations of the CMU Pronouncing Dictionary, Copyright (C) 1993-2015 Carnegie Mellon "
    "University (vosk/LICENSE-cmudict); their frequencies by wordfreq 3 (Robyn Speer), CC BY-SA 4.0"
)
_DICTIONARY: Final = (
    "the CMU Pronouncing Dictionary, Copyright (C) 1993-2015 Carnegie Mellon University "
    "(dictionary/LICENSE-cmudict), unchanged"
)
FILES: Final = (
    ("dictionary/cmudict.dict.gz", "BSD-2-Clause", _DICTIONARY),
    ("ear/ear.onnx", "MIT", _EAR),
    ("ear/calibration.json", "MIT", "the eyesout authors"),
    ("vosk/am/final.mdl", "MIT", _VOSK),
    ("vosk/conf/mfcc.conf", "MIT", "the eyesout authors"),
    ("vosk/conf/model.conf", "MIT", "the eyesout authors"),
    ("vosk/graph/HCLr.fst", "BSD-2-Clause", _WORDS),
    ("vosk/graph/Gr.fst", "BSD-2-Clause and CC-BY-SA-4.0", _WORDS),
    ("vosk/graph/words.txt", "BSD-2-Clause", _WORDS),
    ("vosk/graph/disambig_tid.int", "MIT", "the eyesout authors"),
    ("vosk/graph/phones/word_boundary.int", "MIT", "the eyesout authors"),
)


def main() -> None:
    """Hash the files and write the manifest."""
    folder = Path(sys.argv[1])
    lines = ["# Written by models/train/manifest.py; every file is checked against it when it is loaded."]
    for path, licence, attribution in FILES:
        content = (folder / path).read_bytes()
        lines += [
            "",
            "[[file]]",
            f'path = "{path}"',
            f"bytes = {len(content)}",
            f'sha256 = "{hashlib.sha256(content).hexdigest()}"',
            f'licence = "{licence}"',
            f'attribution = "{attribution}"',
        ]
    (folder / "manifest.toml").write_text("\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
