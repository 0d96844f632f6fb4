"""The units of SMPP 3.4 as bytes: a header of four numbers, then the fields of each command in order."""

import struct
from dataclasses import dataclass

# SMPP 3.4, 5.1.2.1: command_id.
BIND_TRANSMITTER, SUBMIT_SM, UNBIND = 0x00000002, 0x00000004, 0x00000006
ENQUIRE_LINK, GENERIC_NACK, RESPONSE = 0x00000015, 0x80000000, 0x80000000
_HEADER = struct.Struct(">IIII")
VERSION = 0x34
MOST_BYTES = 65536


class Garbled(ValueError):  # noqa: N818 - what came cannot be read
    """Bytes that are no unit of the protocol."""


@dataclass(frozen=True, kw_only=True)
class Unit:
    """One unit: its command, its status (0 is well), its number in the session, and the fields after the header."""

    command: int
    status: int = 0
    sequence: int
    body: bytes = b""

    def packed(self) -> bytes:
        """The bytes that go over the line."""
        length = _HEADER.size + len(self.body)
        header = _HEADER.pack(length, self.command, self.status, self.sequence)
        return header + self.body


def length_of(start: bytes) -> int:
    """How many bytes the unit has that begins so.

    Raises:
        Garbled: it has fewer than a header, or more than any unit.
    """
    (length,) = struct.unpack(">I", start[:4])
    if not _HEADER.size <= length <= MOST_BYTES:
        raise Garbled(f"a unit of {length} bytes")
    return int(length)


def unpacked(raw: bytes) -> Unit:
    """A unit of whole bytes."""
    _, command, status, sequence = _HEADER.unpack(raw[: _HEADER.size])
    return Unit(
        command=command, status=status, sequence=sequence, body=raw[_HEADER.size :]
    )


def text(value: str, most: int) -> bytes:
    """A C-Octet String of at most so many bytes, its end mark among them (3.1).

    Raises:
        ValueError: it is longer, or holds what is no plain letter.
    """
    raw = value.encode("ascii") + b"\0"
    if len(raw) > most or b"\0" in raw[:-1]:
        raise ValueError(f"{value[:20]!r} has more than {most - 1} letters.")
    return raw


@dataclass(frozen=True, kw_only=True)
class Address:
    """A number with its type and its plan (5.2.5, 5.2.6)."""

    ton: int
    npi: int
    number: str

    def packed(self) -> bytes:
        """Type, plan and number as fields of a unit."""
        return bytes((self.ton, self.npi)) + text(self.number, 21)


def address(given: str) -> Address:
    """A number as people write it: +1207... is international, letters are a name, the rest is left to the centre."""
    plain = given.strip().replace(" ", "").replace("-", "")
    if plain.startswith("+") and plain[1:].isdecimal():
        return Address(ton=1, npi=1, number=plain[1:])
    if plain.isdecimal() or not plain:
        return Address(ton=0, npi=0, number=plain)
    return Address(ton=5, npi=0, number=given.strip())


def bind(
    system_id: str, password: str, system_type: str, *, version: int = VERSION
) -> bytes:
    """The fields of bind_transmitter (4.1.1)."""
    names = text(system_id, 16) + text(password, 9) + text(system_type, 13)
    return names + bytes((version,)) + bytes((0, 0)) + text("", 41)


@dataclass(frozen=True, kw_only=True)
class Short:
    """One short message: between whom, in which alphabet, of which bytes; ``headed`` where it begins with a header."""

    source: Address
    destination: Address
    coding: int
    message: bytes
    headed: bool = False

    def packed(self) -> bytes:
        """The fields of submit_sm (4.4.1): no schedule, no receipt, not to be replaced."""
        if len(self.message) > 254:
            raise ValueError("A short message has at most 254 bytes.")
        return b"".join(
            (
                text("", 6),
                self.source.packed(),
                self.destination.packed(),
                bytes((0x40 if self.headed else 0, 0, 0)),
                text("", 17),
                text("", 17),
                bytes((0, 0, self.coding, 0, len(self.message))),
                self.message,
            )
        )


def message_id(body: bytes) -> str:
    """The number that submit_sm_resp gives a message (4.4.2); empty where it gives none."""
    return body.partition(b"\0")[0].decode("ascii", "replace")[:64]
