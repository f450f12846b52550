"""Signatures: Ed25519 (RFC 8032) by a key of the user's, made on request; the one user of `cryptography`.

Who has the key, or the computer with the key on it, can sign anything: a signature shows what others changed.
"""

import base64
import os
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final, Self

from runner.errors import RecordError, UsageError
from runner.place import key_file

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

PREFIX: Final = "ed25519:"
"""How a public key is written: this, then its 32 bytes in Base64."""
SIZE: Final = 32


@dataclass(frozen=True, slots=True)
class Key:
    """A key that signs."""

    public: str
    """The part that anyone may have."""
    _private: "Ed25519PrivateKey"

    @classmethod
    def of(cls, private: "Ed25519PrivateKey") -> Self:
        """The key with its public part written out."""
        return cls(PREFIX + base64.b64encode(private.public_key().public_bytes_raw()).decode(), private)

    def sign(self, digest: str) -> str:
        """The signature of a line's hash, in Base64."""
        return base64.b64encode(self._private.sign(digest.encode())).decode()


def own_key() -> Key | None:
    """The user's key; None when none was made, or it or its library cannot be used: nothing is signed."""
    try:
        content = key_file().read_bytes()
    except OSError:
        return None
    try:
        from cryptography.hazmat.primitives.asymmetric.ed25519 import (  # noqa: PLC0415 - an optional extra
            Ed25519PrivateKey,
        )

        return Key.of(Ed25519PrivateKey.from_private_bytes(base64.b64decode(content, validate=True)))
    except (ImportError, ValueError):
        return None  # a run must not end for it; `eyesout verify --against` says what is not signed


def make_key() -> Path:
    """Make the user's key, readable by them alone; UsageError when there is one already."""
    try:
        from cryptography.hazmat.primitives.asymmetric.ed25519 import (  # noqa: PLC0415 - an optional extra
            Ed25519PrivateKey,
        )
    except ImportError:
        raise _no_library() from None
    path = key_file()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
            file.write(base64.b64encode(Ed25519PrivateKey.generate().private_bytes_raw()))
    except FileExistsError:
        raise UsageError(f"there is a key already in {path}; it is not replaced") from None
    except OSError as error:
        raise RecordError(f"cannot keep a key in {path}: {error.strerror}") from None
    return path


def read_public(words: str) -> bytes:
    """The 32 bytes of a public key as it is printed on reports; UsageError when it is none."""
    try:
        content = base64.b64decode(words.strip().removeprefix(PREFIX), validate=True)
    except ValueError:
        content = b""
    if len(content) != SIZE:
        raise UsageError(
            "not a public key; write ed25519: and the 44 characters that a report shows after it"
        )
    return content


def is_signed(public: bytes, signature: str, digest: str) -> bool:
    """Whether this key signed that hash; UsageError when the library for it is missing."""
    try:
        from cryptography.exceptions import InvalidSignature  # noqa: PLC0415 - an optional extra
        from cryptography.hazmat.primitives.asymmetric.ed25519 import (  # noqa: PLC0415
            Ed25519PublicKey,
        )
    except ImportError:
        raise _no_library() from None
    try:
        Ed25519PublicKey.from_public_bytes(public).verify(
            base64.b64decode(signature, validate=True), digest.encode()
        )
    except (InvalidSignature, ValueError):
        return False
    return True


def _no_library() -> UsageError:
    return UsageError('signatures need one more library: pip install "eyesout[sign]"')
