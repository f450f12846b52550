"""Write the trained ear as one small ONNX file: `python export.py --weights W --encoder E --out ear.onnx`.

Matrices become 8-bit integers with a scale for each output (they are multiplied as such); kernels of
convolutions and the GRU are stored as 16-bit numbers and computed in 32. W has heads.pt and, when
the encoder was trained too, encoder.pt.
"""

import argparse
from pathlib import Path

import numpy as np
import onnx
import torch
from ear import Ear, Heads
from encoder import load_encoder
from onnx import helper, numpy_helper


class Plain(torch.nn.Module):
    """The ear without the argument that only batches need."""

    def __init__(self, ear: torch.nn.Module) -> None:
        super().__init__()
        self.ear = ear

    def forward(self, sound: torch.Tensor) -> torch.Tensor:
        """Sound (1, samples) to log probabilities (1, frames, 40)."""
        return self.ear(sound)


def load_ear(weights: Path, encoder_file: Path) -> Ear:
    """The trained network."""
    state = {n: v.float() for n, v in torch.load(weights / "heads.pt", weights_only=True).items()}
    heads = Heads(1 + max(int(name.split(".")[1]) for name in state), state["each.0.join.weight"].shape[0])
    heads.load_state_dict(state)
    encoder = load_encoder(encoder_file)
    if (weights / "encoder.pt").exists():
        state = torch.load(weights / "encoder.pt", weights_only=True)
        encoder.load_state_dict({n: v.float() for n, v in state.items()})
    return Ear(encoder, heads).eval()


def write_plain(ear: torch.nn.Module, path: Path) -> None:
    """32-bit ONNX."""
    axes = {"sound": {0: "batch", 1: "samples"}, "phones": {0: "batch", 1: "frames"}}
    torch.onnx.export(
        Plain(ear).eval(), (torch.randn(1, 20_000) * 0.1,), str(path), input_names=["sound"],
        output_names=["phones"], dynamic_axes=axes, opset_version=17, dynamo=False,
    )  # fmt: skip


def halved(model: onnx.ModelProto) -> onnx.ModelProto:
    """Store large 32-bit weights as 16-bit ones, made 32-bit again when the file is loaded."""
    graph, casts = model.graph, []
    for tensor in list(graph.initializer):
        if tensor.data_type == onnx.TensorProto.FLOAT and np.prod(tensor.dims) > 4000:
            small = numpy_helper.from_array(
                numpy_helper.to_array(tensor).astype(np.float16), f"{tensor.name}_half"
            )
            casts.append(helper.make_node("Cast", [small.name], [tensor.name], to=onnx.TensorProto.FLOAT))
            graph.initializer.remove(tensor)
            graph.initializer.append(small)
    nodes = [*casts, *graph.node]
    del graph.node[:]
    graph.node.extend(nodes)
    return model


def write(ear: torch.nn.Module, out: Path) -> None:
    """Plain, then 8-bit matrices, then 16-bit kernels."""
    from onnxruntime.quantization import (  # noqa: PLC0415 - after `encoder`, which keeps telemetry off
        QuantType,
        quantize_dynamic,
    )

    out.parent.mkdir(parents=True, exist_ok=True)
    plain, quantised = out.with_suffix(".plain.onnx"), out.with_suffix(".int8.onnx")
    write_plain(ear, plain)
    quantize_dynamic(plain, quantised, op_types_to_quantize=["MatMul"], per_channel=True, reduce_range=False,
                     weight_type=QuantType.QInt8)  # fmt: skip
    onnx.save(halved(onnx.load(quantised)), out)
    quantised.unlink()


def main() -> None:
    """Read the arguments and write the file."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--weights", type=Path, required=True)
    parser.add_argument("--encoder", type=Path, required=True)
    parser.add_argument("--out", type=Path, required=True)
    options = parser.parse_args()
    write(load_ear(options.weights, options.encoder), options.out)
    print(f"{options.out.stat().st_size / 1e6:.2f} MB")


if __name__ == "__main__":
    main()
