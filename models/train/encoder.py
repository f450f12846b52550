"""The Moonshine tiny encoder in PyTorch, with the weights of the released .ort file.

The architecture is public (arXiv 2410.15608); the file holds its matrices as 8-bit numbers with
one scale each, so the weights here are those numbers made floating point again.
"""

from pathlib import Path
from typing import Any

import numpy as np
import torch
from torch import Tensor, nn
from torch.nn import functional

import runner.voice.ear.network  # noqa: F401 - before anything of onnxruntime: no telemetry

WIDTH, HEADS, HEAD, ROTARY = 288, 8, 36, 32


def _rotated(x: Tensor, cos: Tensor, sin: Tensor) -> Tensor:
    """Rotary position on the first 32 of each head's 36 numbers, in interleaved pairs."""
    turned, rest = x[..., :ROTARY], x[..., ROTARY:]
    pairs = torch.stack((-turned[..., 1::2], turned[..., 0::2]), -1).reshape(turned.shape)
    return torch.cat((turned * cos + pairs * sin, rest), -1)


class Norm(nn.Module):
    """Layer norm without a bias."""

    def __init__(self) -> None:
        super().__init__()
        self.weight = nn.Parameter(torch.ones(WIDTH))
        self.register_buffer("zero", torch.zeros(WIDTH), persistent=False)

    def forward(self, x: Tensor) -> Tensor:
        """Normalise each frame."""
        return functional.layer_norm(x, (WIDTH,), self.weight, self.zero)


class Block(nn.Module):
    """Self-attention and a feed-forward layer, each after a layer norm and added to its input."""

    def __init__(self) -> None:
        super().__init__()
        self.norm1 = Norm()
        self.q = nn.Linear(WIDTH, WIDTH, bias=False)
        self.k = nn.Linear(WIDTH, WIDTH, bias=False)
        self.v = nn.Linear(WIDTH, WIDTH, bias=False)
        self.o = nn.Linear(WIDTH, WIDTH, bias=False)
        self.norm2 = Norm()
        self.fc1 = nn.Linear(WIDTH, 4 * WIDTH)
        self.fc2 = nn.Linear(4 * WIDTH, WIDTH)

    def forward(self, x: Tensor, cos: Tensor, sin: Tensor, mask: Tensor | None) -> Tensor:
        """One layer; mask (batch, 1, 1, frames) is added to the attention scores."""
        batch, frames, _ = x.shape
        y = self.norm1(x)
        q, k, v = (m(y).view(batch, frames, HEADS, HEAD).transpose(1, 2) for m in (self.q, self.k, self.v))
        q, k = _rotated(q, cos, sin), _rotated(k, cos, sin)
        scores = q @ k.transpose(-1, -2) * HEAD**-0.5
        if mask is not None:
            scores = scores + mask
        y = (scores.softmax(-1) @ v).transpose(1, 2).reshape(batch, frames, WIDTH)
        x = x + self.o(y)
        return x + self.fc2(functional.gelu(self.fc1(self.norm2(x))))


class Encoder(nn.Module):
    """Sound (batch, samples) to frames (batch, frames, 288), 41.7 a second."""

    def __init__(self) -> None:
        super().__init__()
        self.conv1 = nn.Conv1d(1, WIDTH, 127, 64, bias=False)
        self.norm = nn.GroupNorm(1, WIDTH)
        self.conv2 = nn.Conv1d(WIDTH, 2 * WIDTH, 7, 3)
        self.conv3 = nn.Conv1d(2 * WIDTH, WIDTH, 3, 2)
        self.blocks = nn.ModuleList(Block() for _ in range(6))
        self.last = Norm()
        self.register_buffer("rates", 1 / 10000 ** (torch.arange(0, ROTARY, 2) / ROTARY), persistent=False)

    def front(self, sound: Tensor) -> Tensor:
        """The convolutions."""
        x = self.norm(torch.tanh(self.conv1(sound[:, None])))
        x = functional.gelu(self.conv3(functional.gelu(self.conv2(x))))
        return x.transpose(1, 2)

    def taps(self, sound: Tensor, after: tuple[int, ...], lengths: Tensor | None = None) -> list[Tensor]:
        """What comes out of the blocks named; lengths (frames of each) keep padding out of attention."""
        x = self.front(sound)
        angles = torch.arange(x.shape[1], device=x.device)[:, None] * self.rates
        angles = torch.stack((angles, angles), -1).reshape(-1, ROTARY)
        cos, sin = torch.cos(angles), torch.sin(angles)
        mask = None
        if lengths is not None:
            beyond = torch.arange(x.shape[1], device=x.device)[None] >= lengths[:, None]
            mask = torch.zeros_like(beyond, dtype=x.dtype).masked_fill(beyond, -1e9)[:, None, None]
        found = []
        for number, block in enumerate(self.blocks):
            x = block(x, cos, sin, mask)
            if number in after:
                found.append(self.last(x) if number == len(self.blocks) - 1 else x)
        return found

    def forward(self, sound: Tensor, lengths: Tensor | None = None) -> Tensor:
        """Encode."""
        return self.taps(sound, (len(self.blocks) - 1,), lengths)[0]


def frame_count(samples: int) -> int:
    """Frames that so many samples give."""
    return (((samples - 127) // 64 + 1 - 7) // 3 + 1 - 3) // 2 + 1


def _tensors(graph: Any) -> dict[str, np.ndarray]:  # noqa: ANN401 - a flatbuffer class without types
    kinds = {1: np.float32, 2: np.uint8, 3: np.int8, 7: np.int64}
    found = {}
    for i in range(graph.InitializersLength()):
        tensor = graph.Initializers(i)
        if tensor.DataType() in kinds:
            shape = [tensor.Dims(d) for d in range(tensor.DimsLength())]
            raw = tensor.RawDataAsNumpy().tobytes()
            found[tensor.Name().decode()] = np.frombuffer(raw, kinds[tensor.DataType()]).reshape(shape)
    return found


def _matrices(graph: Any, tensors: dict[str, np.ndarray]) -> dict[str, np.ndarray]:  # noqa: ANN401 - as above
    """The 36 dequantised matrices (out, in), by the place in the network that their output names."""
    scale_at = {"DynamicQuantizeMatMul": (1, 2, 3), "MatMulIntegerToFloat": (1, 3, 5)}
    found = {}
    for i in range(graph.NodesLength()):
        node = graph.Nodes(i)
        places = scale_at.get(node.OpType().decode())
        if places:
            weight, scale, zero = (tensors[node.Inputs(p).decode()] for p in places)
            where = "/".join(node.Outputs(0).decode().split("/")[1:4])
            found[where] = ((weight.astype(np.float32) - zero.astype(np.float32)) * scale).T.copy()
    return found


def load_encoder(path: Path) -> Encoder:
    """Read encoder_model.ort of the wheel moonshine-voice 0.0.59."""
    from onnxruntime.tools.ort_format_model.ort_flatbuffers_py.fbs import (  # noqa: PLC0415 - training only
        InferenceSession,
    )

    graph = InferenceSession.InferenceSession.GetRootAs(bytearray(path.read_bytes()), 0).Model().Graph()
    tensors = _tensors(graph)
    state = {
        "conv1.weight": tensors["conv1.weight_add_tensor"],
        "conv2.weight": tensors["conv2.weight_add_tensor"],
        "conv2.bias": tensors["conv2.bias"],
        "conv3.weight": tensors["conv3.weight_add_tensor"],
        "conv3.bias": tensors["conv3.bias"],
        "norm.weight": tensors["onnx::Mul_2080"][:, 0],
        "norm.bias": tensors["onnx::Add_2081"][:, 0],
        "last.weight": tensors["layer_norm.weight"],
    }
    matrices = _matrices(graph, tensors)
    for n in range(6):
        for mine, theirs in (("q", "self_attn/q_proj"), ("k", "self_attn/k_proj"), ("v", "self_attn/v_proj"),
                             ("o", "self_attn/o_proj"), ("fc1", "mlp/fc1"), ("fc2", "mlp/fc2")):  # fmt: skip
            state[f"blocks.{n}.{mine}.weight"] = matrices[f"layers.{n}/{theirs}"]
        for mine in ("fc1", "fc2"):
            state[f"blocks.{n}.{mine}.bias"] = tensors[f"layers.{n}.mlp.{mine}.bias"]
        state[f"blocks.{n}.norm1.weight"] = tensors[f"layers.{n}.input_layernorm.weight"]
        state[f"blocks.{n}.norm2.weight"] = tensors[f"layers.{n}.post_attention_layernorm.weight"]
    encoder = Encoder()
    encoder.load_state_dict({name: torch.from_numpy(np.array(value)) for name, value in state.items()})
    return encoder
