"""Write down what recordings say with the whole Moonshine tiny model, where they came without a transcript.

`python transcribe.py ASSETS_FOLDER OUT.tsv FILE...`: one line a file, `path<TAB>confidence<TAB>text`.
"""

import itertools
import sys
from pathlib import Path

import numpy as np
from listen import read_sound

from runner.voice.ear.network import onnxruntime  # by way of it, so that no telemetry is sent

_END, _BEGIN = 2, 1


def read_tokens(path: Path) -> list[bytes]:
    """The byte pieces of tokenizer.bin: a length (one byte, or two above 127), then that many bytes."""
    data, at, pieces = path.read_bytes(), 0, []
    while at < len(data):
        length = data[at]
        at += 1
        if length >= 128:
            length = data[at] * 128 + length - 128
            at += 1
        pieces.append(data[at : at + length])
        at += length
    return pieces


class Transcriber:
    """Greedy search with the decoder's cache."""

    def __init__(self, folder: Path) -> None:
        settings = onnxruntime.SessionOptions()
        settings.intra_op_num_threads = 1
        self._encoder = onnxruntime.InferenceSession(str(folder / "encoder_model.ort"), settings)
        self._decoder = onnxruntime.InferenceSession(str(folder / "decoder_model_merged.ort"), settings)
        self._pieces = read_tokens(folder / "tokenizer.bin")

    def text(self, samples: np.ndarray) -> tuple[str, float]:
        """Words and the mean log probability of their pieces."""
        batch = samples[None].astype(np.float32)
        frames = self._encoder.run(
            None, {"input_values": batch, "attention_mask": np.ones(batch.shape, np.int64)}
        )[0]
        names = [i.name for i in self._decoder.get_inputs() if i.name.startswith("past")]
        past = {name: np.zeros((1, 8, 0, 36), np.float32) for name in names}
        tokens, scores = [_BEGIN], []
        for _ in range(int(len(samples) / 16000 * 7) + 6):
            token, score, past = self._next(tokens, frames, len(samples), past, names)
            scores.append(score)
            if token == _END:
                break
            tokens.append(token)
        text = b"".join(self._pieces[t] for t in tokens[1:]).replace("\u2581".encode(), b" ")
        return text.decode("utf-8", "replace").strip(), float(np.mean(scores))

    def scores(self, samples: np.ndarray, texts: list[str]) -> list[float]:
        """Log probability of each text, as the whole of what is said."""
        batch = samples[None].astype(np.float32)
        mask = np.ones(batch.shape, np.int64)
        frames = self._encoder.run(None, {"input_values": batch, "attention_mask": mask})[0]
        return [self._score(self._encoded(text), frames, len(samples)) for text in texts]

    def _score(self, tokens: list[int], frames: np.ndarray, samples: int) -> float:
        given = {
            "input_ids": np.array([[_BEGIN, *tokens]], np.int64),
            "encoder_hidden_states": frames,
            "encoder_attention_mask": np.ones((1, samples), np.int64),
            "use_cache_branch": np.array([False]),
        }
        past = [i.name for i in self._decoder.get_inputs() if i.name.startswith("past")]
        logits = self._decoder.run(
            ["logits"], given | {n: np.zeros((1, 8, 0, 36), np.float32) for n in past}
        )[0][0]
        logits = logits - logits.max(1, keepdims=True)
        logits -= np.log(np.exp(logits).sum(1, keepdims=True))
        return float(sum(logits[n, token] for n, token in enumerate([*tokens, _END])))

    def _encoded(self, text: str) -> list[int]:
        """Byte-pair encoding: of all neighbours that may merge, those with the lowest number first."""
        numbers = {piece: number for number, piece in enumerate(self._pieces)}
        pieces = [character.encode() for character in "\u2581" + text.replace(" ", "\u2581")]
        while True:
            pairs = [(numbers.get(a + b, 1 << 30), n) for n, (a, b) in enumerate(itertools.pairwise(pieces))]
            best, at = min(pairs, default=(1 << 30, 0))
            if best == 1 << 30:
                return [numbers[piece] for piece in pieces]
            pieces[at : at + 2] = [pieces[at] + pieces[at + 1]]

    def _next(
        self,
        tokens: list[int],
        frames: np.ndarray,
        samples: int,
        past: dict[str, np.ndarray],
        names: list[str],
    ) -> tuple[int, float, dict[str, np.ndarray]]:
        is_first = len(tokens) == 1
        given = {
            "input_ids": np.array([tokens[-1:]], np.int64),
            "encoder_hidden_states": frames,
            "encoder_attention_mask": np.ones((1, samples), np.int64),
            "use_cache_branch": np.array([not is_first]),
        }  # fmt: skip
        logits, *present = self._decoder.run(None, given | past)
        kept = {
            name: value if is_first or ".decoder." in name else past[name]
            for name, value in zip(names, present, strict=True)
        }
        row = logits[0, -1] - logits[0, -1].max()
        token = int(row.argmax())
        return token, float(row[token] - np.log(np.exp(row).sum())), kept


def main() -> None:
    """Transcribe the files named."""
    transcriber = Transcriber(Path(sys.argv[1]))
    with Path(sys.argv[2]).open("w", encoding="utf-8") as out:
        for name in sys.argv[3:]:
            text, score = transcriber.text(read_sound(Path(name)).astype(np.float32) / 32768)
            out.write(f"{name}\t{score:.2f}\t{text}\n")
            out.flush()


if __name__ == "__main__":
    main()
