"""Writes am/final.mdl: a transition model and an nnet3 network in Kaldi's binary form.

After the Write functions of Kaldi's hmm-topology.cc, transition-model.cc, nnet-nnet.cc,
nnet-simple-component.cc and am-nnet-simple.cc.
"""

import struct

import numpy as np
import torch
from vosk_net import FINE, KERNELS, LEFT, RIGHT, Net
from vosk_phone import COUNT, outputs


def token(word: str) -> bytes:
    """A word and its blank."""
    return word.encode() + b" "


def integer(value: int) -> bytes:
    """A 32-bit number with its size in front."""
    return b"\x04" + struct.pack("<i", value)


def real(value: float) -> bytes:
    """A 32-bit floating-point number with its size in front."""
    return b"\x04" + struct.pack("<f", value)


def integers(values: list[int]) -> bytes:
    """A vector of 32-bit integers."""
    return b"\x04" + struct.pack("<i", len(values)) + np.array(values, "<i4").tobytes()


def vector(values: np.ndarray) -> bytes:
    """A vector of 32-bit numbers."""
    return token("FV") + integer(len(values)) + np.asarray(values, "<f4").tobytes()


def matrix(values: np.ndarray) -> bytes:
    """A matrix of 32-bit numbers."""
    rows, columns = values.shape
    return token("FM") + integer(rows) + integer(columns) + np.ascontiguousarray(values, "<f4").tobytes()


def topology() -> bytes:
    """One emitting state for every phone, whose first frame has an output of its own."""
    state = integer(0) + integer(1) + integer(2) + integer(0) + real(0.5) + integer(1) + real(0.5)
    final = integer(-1) + integer(-1) + integer(0)
    phones = list(range(1, COUNT + 1))
    index = [-1] + [0] * COUNT
    body = integers(phones) + integers(index) + integer(-1) + integer(1) + integer(2) + state + final
    return token("<Topology>") + body + token("</Topology>")


def transition_model() -> bytes:
    """Transition ids in the order of the phones."""
    tuples = b"".join(
        integer(phone) + integer(0) + integer(outputs(phone)[0]) + integer(outputs(phone)[1])
        for phone in range(1, COUNT + 1)
    )
    logs = np.full(2 * COUNT + 1, np.log(0.5))
    logs[0] = 0
    return (
        token("<TransitionModel>")
        + topology()
        + token("<Tuples>") + integer(COUNT) + tuples + token("</Tuples>")
        + token("<LogProbs>") + vector(logs) + token("</LogProbs>")
        + token("</TransitionModel>")
    )  # fmt: skip


def affine(weight: np.ndarray, bias: np.ndarray) -> bytes:
    """A FixedAffineComponent."""
    name = "FixedAffineComponent"
    return (
        token(f"<{name}>") + token("<LinearParams>") + matrix(weight)
        + token("<BiasParams>") + vector(bias) + token(f"</{name}>")
    )  # fmt: skip


def rectifier(width: int) -> bytes:
    """A RectifiedLinearComponent without statistics."""
    name, none = "RectifiedLinearComponent", vector(np.zeros(0))
    count = token("<Count>") + b"\x08" + struct.pack("<d", 0.0)
    return (
        token(f"<{name}>") + token("<Dim>") + integer(width) + token("<ValueAvg>") + none
        + token("<DerivAvg>") + none + count + token(f"</{name}>")
    )  # fmt: skip


def passing(width: int) -> bytes:
    """A NoOpComponent."""
    return (
        token("<NoOpComponent>") + token("<Dim>") + integer(width) + token("<BackpropScale>") + real(1.0)
        + token("</NoOpComponent>")
    )  # fmt: skip


def folded(conv: torch.nn.Conv1d, norm: torch.nn.BatchNorm1d | None) -> tuple[np.ndarray, np.ndarray]:
    """A convolution, and the batch norm after it, as one affine of spliced frames."""
    weight = conv.weight.detach().permute(0, 2, 1).reshape(conv.out_channels, -1)
    bias = conv.bias.detach()
    if norm is not None:
        gain = norm.weight.detach() / torch.sqrt(norm.running_var + norm.eps)
        weight, bias = weight * gain[:, None], (bias - norm.running_mean) * gain + norm.bias.detach()
    return weight.numpy(), bias.numpy()


def spliced(source: str, kernel: int, step: int) -> str:
    """Kaldi's descriptor of a layer's frames."""
    half = kernel // 2
    parts = [source if n == 0 else f"Offset({source}, {n * step})" for n in range(-half, half + 1)]
    return f"Append({', '.join(parts)})"


def network(net: Net) -> bytes:
    """The nnet3 network."""
    lines, components, source = ["input-node name=input dim=40"], [], "input"

    def add(name: str, written: bytes, given: str) -> None:
        lines.append(f"component-node name={name} component={name} input={given}")
        components.append(token("<ComponentName>") + token(name) + written)

    for n, (layer, kernel) in enumerate(zip(net.layers, KERNELS, strict=True)):
        weight, bias = folded(layer.conv, layer.norm)
        add(f"affine{n}", affine(weight, bias), spliced(source, kernel, 3 if n >= FINE else 1))
        add(f"relu{n}", rectifier(len(bias)), f"affine{n}")
        if layer.adds:
            add(f"sum{n}", passing(len(bias)), f"Sum(relu{n}, {source})")
        source = f"sum{n}" if layer.adds else f"relu{n}"
    add("last", affine(*folded(net.out, None)), source)
    lines.append("output-node name=output input=last objective=linear")
    config = "\n" + "".join(f"{line}\n" for line in lines) + "\n"
    return (
        token("<Nnet3>") + config.encode() + token("<NumComponents>") + integer(len(components))
        + b"".join(components) + token("</Nnet3>")
    )  # fmt: skip


def final_mdl(net: Net) -> bytes:
    """The whole file."""
    priors = token("<Priors>") + vector(np.zeros(0))
    context = token("<LeftContext>") + integer(LEFT) + token("<RightContext>") + integer(RIGHT)
    return b"\x00B" + transition_model() + network(net) + context + priors
