"""A certificate of the maker's own, which makes the way over the network secure: read and tried before it is used."""

from __future__ import annotations

import ssl
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from storyrod.faults import Fault, JobError

_OPTION: Final = "--certificate"
_ALLOWED: Final = "a certificate with its key, both PEM text, that is valid today"


@dataclass(frozen=True, slots=True, kw_only=True)
class Certificate:
    """A certificate and its key, by their files.

    Attributes:
        names: the names and addresses that it is made for, as `saw-bench.local` and `192.168.1.20`.
    """

    file: Path
    key: Path
    names: tuple[str, ...]

    @classmethod
    def asked(cls, file: Path | None, key: Path | None) -> Certificate | None:
        """Return the certificate that is asked for, as `read`; None where there is none.

        Raises:
            JobError: as `read`, or a key is named without its certificate.
        """
        if file is None and key is not None:
            raise _bad(f'a key, "{key.name}", and no certificate', "Name the certificate too.")
        return cls.read(file, key) if file is not None else None

    @classmethod
    def read(cls, file: Path, key: Path | None = None) -> Certificate:
        """Return a certificate that works; the key is in a file of its own, or in the same.

        A server and a client are made of it and speak to each other in memory: so it is known before the page is
        opened that the key belongs to the certificate, that it has not run out, and for which names it is.

        Raises:
            JobError: a file is not there or is no certificate, the two do not belong together, or it has run out.
        """
        key = key or file
        for path in (file, key):
            if not path.is_file():
                raise _bad(f'no file "{path.name}"', "Check the name of the file.")
        try:
            names = _names(file, key)
        except ssl.SSLCertVerificationError as error:
            raise _bad(f"a certificate that does not hold: {error.verify_message}", "Make a new one.") from None
        except (ssl.SSLError, OSError, ValueError):
            raise _bad(
                "files that are no certificate and its key, or do not belong together",
                "Name the certificate first, then its key; a key with a password cannot be used.",
            ) from None
        if not names:
            raise _bad("a certificate for no name and no address", "Make one for this computer's name or address.")
        return cls(file=file, key=key, names=names)


def _names(file: Path, key: Path) -> tuple[str, ...]:
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.load_cert_chain(file, key, password=_no_password)
    client = ssl.create_default_context(cafile=str(file))
    client.check_hostname = False  # which names it is for is what is asked
    client.verify_flags |= ssl.VERIFY_X509_PARTIAL_CHAIN  # it is trusted here by itself, whoever signed it
    there, back = ssl.MemoryBIO(), ssl.MemoryBIO()
    asking, answering = client.wrap_bio(back, there), server.wrap_bio(there, back, server_side=True)
    waiting = [asking, answering]
    for _ in range(10):  # a greeting goes to and fro a few times
        for side in tuple(waiting):
            try:
                side.do_handshake()
            except ssl.SSLWantReadError:
                continue
            waiting.remove(side)
        if not waiting:
            break
    told = asking.getpeercert() or {}
    entries = [tuple(map(str, entry)) for entry in told.get("subjectAltName", ())]
    return tuple(dict.fromkeys(entry[1].lower() for entry in entries if entry[0] in {"DNS", "IP Address"}))


def _no_password() -> str:
    raise ValueError("the key has a password")


def _bad(found: str, do: str) -> JobError:
    return JobError(Fault(code="certificate", field=_OPTION, found=found, allowed=_ALLOWED, do=do))
