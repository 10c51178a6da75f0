"""Timestamps of the list of originals (RFC 3161): asked for, taken in and checked, all offline.

A list names every original by its hash alone, and the last line of each log; an authority that
signs the list's hash with a time thereby shows that all of it existed before then. It does not
show when a photo was taken. A list, its request, the reply and the authority's certificate lie in
custody/ under one name.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from claimkit.intake.walk import STAMP
from claimkit.model.anchors import LogHead
from claimkit.model.stop import CannotGoOn
from claimkit.model.verified import Outcome, Point
from claimkit.proof.anchors import Anchor

if TYPE_CHECKING:
    from cryptography.x509 import Certificate
    from rfc3161_client import TimeStampResponse

_FIRST = "claimkit list of originals 1"
_HEAD = re.compile(r"log ([a-z0-9][a-z0-9_-]{0,39}) line ([1-9]\d{0,8}) ([0-9a-f]{64})")
_SHA = re.compile(r"[0-9a-f]{64}")
NEEDED = (
    "Timestamps need the library rfc3161-client, which is not installed. "
    'Install it with: pip install "claimkit[timestamp]"'
)


@dataclass(frozen=True, slots=True)
class Listed:
    """What a list names: hashes of originals and last lines of logs."""

    originals: frozenset[str]
    heads: tuple[LogHead, ...]


@dataclass(frozen=True, slots=True)
class Stamped:
    """A reply that was checked: when, by whom, and the certificate that it was checked against."""

    at: datetime
    authority: str
    root_sha256: str


def list_text(originals: Iterable[str], heads: Iterable[LogHead]) -> bytes:
    """Write a list: one line a log, then one line an original, in order."""
    lines = [f"log {h.writer} line {h.number} {h.sha256}" for h in heads]
    return "\n".join([_FIRST, *sorted(lines), *sorted(set(originals)), ""]).encode("ascii")


def read_list(data: bytes) -> Listed | None:
    """Read a list back; None where it is none."""
    try:
        first, *lines, last = data.decode("ascii").split("\n")
    except (UnicodeDecodeError, ValueError):
        return None
    heads = [match for line in lines if (match := _HEAD.fullmatch(line))]
    hashes = [line for line in lines if _SHA.fullmatch(line)]
    if first != _FIRST or last or len(heads) + len(hashes) != len(lines):
        return None
    return Listed(frozenset(hashes), tuple(LogHead(m[1], int(m[2]), m[3]) for m in heads))


def name_of(text: bytes) -> str:
    """Name the files of a list by its hash."""
    return f"stamp-{hashlib.sha256(text).hexdigest()[:12]}"


def request(text: bytes) -> bytes:
    """Give the request for a timestamp of a list; the same list gives the same bytes."""
    try:
        from rfc3161_client import HashAlgorithm, TimestampRequestBuilder
    except ImportError as error:
        raise CannotGoOn(NEEDED) from error
    builder = TimestampRequestBuilder().data(text).hash_algorithm(HashAlgorithm.SHA256)
    return builder.nonce(nonce=False).cert_request(cert_request=True).build().as_bytes()


def check(text: bytes, reply: bytes, roots: Sequence[bytes]) -> Stamped | str:
    """Check a reply against the list and certificates (PEM or DER); a sentence where it fails.

    All certificates given are trusted. Raises CannotGoOn where the library is not installed.
    """
    try:
        from rfc3161_client import VerificationError, VerifierBuilder, decode_timestamp_response
    except ImportError as error:
        raise CannotGoOn(NEEDED) from error
    try:
        response = decode_timestamp_response(reply)
    except ValueError:
        return "It is no reply of a timestamp authority (RFC 3161)."
    try:
        trusted = [one for root in roots for one in certificates(root)]
        imprint = response.tst_info.message_imprint.message
    except ValueError:
        return "The authority refused the request, or the certificate file holds none."
    if not trusted:
        return "There is no certificate of the authority to check it against."
    if imprint != hashlib.sha256(text).digest():
        return "It is a timestamp of something else: the hash in it is not that of the list."
    builder = VerifierBuilder()
    for one in dict.fromkeys(trusted):
        builder = builder.add_root_certificate(one)
    try:
        builder.build().verify(response, imprint)
    except (VerificationError, ValueError) as error:
        return f"Its signature does not lead to the certificate given: {error}."
    at = response.tst_info.gen_time
    at = at.astimezone(UTC) if at.tzinfo else at.replace(tzinfo=UTC)
    return Stamped(at, _authority(response), _fingerprint(trusted))


def certificates(data: bytes) -> list[Certificate]:
    """Read certificates from PEM or DER. Raises ValueError where there is none."""
    from cryptography import x509

    if b"-----BEGIN" in data:
        return x509.load_pem_x509_certificates(data)
    return [x509.load_der_x509_certificate(data)]


def _authority(response: TimeStampResponse) -> str:
    from cryptography import x509

    for signer in response.signed_data.signer_infos:
        for data in response.signed_data.certificates:
            one = x509.load_der_x509_certificate(data)
            if (one.issuer, one.serial_number) == (signer.issuer, signer.serial_number):
                return one.subject.rfc4514_string()
    return "an authority that its reply does not name"


def _fingerprint(trusted: Sequence[Certificate]) -> str:
    from cryptography.hazmat.primitives import hashes

    return trusted[0].fingerprint(hashes.SHA256()).hex()


@dataclass(frozen=True, slots=True)
class Stamps:
    """What the timestamps of a job have shown."""

    points: tuple[Point, ...] = ()
    anchors: tuple[Anchor, ...] = ()


def stamps(
    files: Mapping[str, bytes], originals: Iterable[str], roots: Sequence[Path] = ()
) -> Stamps:
    """Check every timestamp among the files of custody/, by name.

    `originals` are the hashes of those that are here. `roots` are trusted instead of the
    certificates kept beside the replies.
    """
    here = frozenset(originals)
    points: list[Point] = []
    anchors: list[Anchor] = []
    trusted = [root.read_bytes() for root in roots]
    names = {match[0].rpartition(".")[0] for name in files if (match := STAMP.fullmatch(name))}
    for name in sorted(names):
        where = f"custody/{name}"
        text, reply = files.get(f"{name}.list"), files.get(f"{name}.tsr")
        listed = read_list(text) if text is not None else None
        if text is None or listed is None or name_of(text) != name:
            told = "The list of a timestamp is gone or was changed."
            points.append(Point(Outcome.BROKEN, f"{where}.list", told))
        elif reply is None:
            told = "It waits to be sent, or for its reply to be taken in."
            points.append(Point(Outcome.NOTE, f"{where}.tsq", told))
        else:
            kept = trusted or [files.get(f"{name}.pem", b"")]
            point = _one(f"{where}.tsr", (text, reply), kept, own=bool(roots))
            points.append(point)
            if point.outcome is Outcome.HOLDS:
                anchors.append(Anchor(f"the timestamp {where}.tsr", listed.heads))
                count = f"{len(here & listed.originals)} of the {len(here)} originals here"
                points.append(Point(Outcome.NOTE, f"{where}.list", f"It names {count}."))
    return Stamps(tuple(points), tuple(anchors))


def _one(where: str, pair: tuple[bytes, bytes], roots: Sequence[bytes], *, own: bool) -> Point:
    try:
        found = check(*pair, roots)
    except CannotGoOn as error:
        return Point(Outcome.OPEN, where, f"It was not checked. {error}")
    if isinstance(found, str):
        return Point(Outcome.BROKEN, where, found)
    trust = "that you gave" if own else "kept beside it; compare that with the authority's own"
    told = (
        f"{found.authority} states that the list existed before {found.at:%Y-%m-%d %H:%M:%S} UTC. "
        f"Its signature leads to the certificate {trust}, SHA-256 {found.root_sha256}."
    )
    return Point(Outcome.HOLDS, where, told)
