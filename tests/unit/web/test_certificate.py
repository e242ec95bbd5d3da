"""A certificate of the maker's own: tried before it is used, and the way over the network is encrypted with it."""

from __future__ import annotations

import asyncio
import contextlib
import shutil
import socket
import ssl
import subprocess
from pathlib import Path

import pytest

from storyrod.adapters.web import Certificate
from storyrod.adapters.web._network import Network
from storyrod.adapters.web.serving import start_listener
from storyrod.faults import JobError
from tests.ports import free_port

OPENSSL = shutil.which("openssl")

pytestmark = pytest.mark.skipif(OPENSSL is None, reason="openssl, which makes the certificates, is not on this machine")

SUBJECT = "DNS:saw-bench.local,IP:127.0.0.1"


def made(folder: Path, name: str, *more: str, names: str = SUBJECT, days: int = 30) -> tuple[Path, Path]:
    """Make a certificate and its key with the usual open tool."""
    file, key, wish = (folder / f"{name}{end}" for end in (".pem", "-key.pem", "-wish.pem"))
    kind = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-subj", "/CN=bench"]
    _openssl("req", "-new", *kind, "-keyout", str(key), "-out", str(wish), *(more or ("-nodes",)))
    extra = folder / f"{name}.txt"
    extra.write_text(f"subjectAltName={names}\n" if names else "basicConstraints=CA:FALSE\n")
    sign = ["-signkey", str(key), *(["-passin", more[1]] if more else [])]
    _openssl("x509", "-req", "-in", str(wish), *sign, "-days", str(days), "-extfile", str(extra), "-out", str(file))
    return file, key


def _openssl(*words: str) -> None:
    subprocess.run([str(OPENSSL), *words], check=True, capture_output=True)


@pytest.fixture(scope="module")
def pair(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    return made(tmp_path_factory.mktemp("certificate"), "bench")


def test_it_is_known_for_which_names_it_is(pair: tuple[Path, Path], tmp_path: Path) -> None:
    assert Certificate.read(*pair).names == ("saw-bench.local", "127.0.0.1")
    both = tmp_path / "both.pem"
    both.write_text(pair[0].read_text() + pair[1].read_text())
    assert Certificate.asked(both, None) == Certificate(file=both, key=both, names=("saw-bench.local", "127.0.0.1"))
    assert Certificate.asked(None, None) is None


def test_one_that_does_not_work_is_told_before_anything_is_opened(pair: tuple[Path, Path], tmp_path: Path) -> None:
    other = made(tmp_path, "other")
    locked = made(tmp_path, "locked", "-passout", "pass:choir")
    nameless = made(tmp_path, "nameless", names="")
    words = tmp_path / "words.pem"
    words.write_text("no certificate")
    for file, key, found in [
        (pair[0], other[1], "do not belong together"),
        (*locked, "do not belong together"),
        (words, None, "no certificate"),
        (tmp_path / "gone.pem", None, 'no file "gone.pem"'),
        (pair[0], tmp_path / "gone.pem", 'no file "gone.pem"'),
        (*nameless, "for no name"),
        (None, pair[1], "no certificate"),
    ]:
        with pytest.raises(JobError) as told:
            Certificate.asked(file, key)
        assert found in told.value.faults[0].found
        assert str(tmp_path) not in str(told.value)


def test_one_that_has_run_out_is_told(tmp_path: Path) -> None:
    old = made(tmp_path, "old", days=-1)
    with pytest.raises(JobError) as told:
        Certificate.read(*old)
    assert "does not hold" in told.value.faults[0].found


def test_the_way_in_is_encrypted_with_it(pair: tuple[Path, Path]) -> None:
    """A client that trusts the certificate, and asks for its name, gets the page; an open line gets nothing."""

    async def app(scope, receive, send) -> None:  # type: ignore[no-untyped-def]  # noqa: ANN001
        await send({"type": "http.response.start", "status": 200, "headers": [(b"content-length", b"5")]})
        await send({"type": "http.response.body", "body": f"{scope['scheme']:>5}".encode()})

    async def scene() -> tuple[bytes, bytes, tuple[str, ...]]:
        network = Network()
        network.certificate = Certificate.read(*pair)
        network.attach(app, start_listener, port=free_port(), find=lambda: ("127.0.0.1",))
        await network.open()
        port = int(network.addresses[0].rsplit(":", 1)[1])
        try:
            return (
                await asyncio.to_thread(_asked, port, pair[0]),
                await asyncio.to_thread(_asked, port, None),
                network.addresses,
            )
        finally:
            await network.close()

    secure, plain, addresses = asyncio.run(scene())
    assert secure.startswith(b"HTTP/1.1 200")
    assert secure.endswith(b"https"), "the page knows that the way is encrypted"
    assert b"HTTP/1.1 2" not in plain
    assert addresses[0].startswith("https://saw-bench.local:")
    assert addresses[1].startswith("https://127.0.0.1:")


def _asked(port: int, trusted: Path | None) -> bytes:
    with socket.create_connection(("127.0.0.1", port)) as line:
        if trusted is None:
            return _read(line, port)
        context = ssl.create_default_context(cafile=str(trusted))
        with context.wrap_socket(line, server_hostname="saw-bench.local") as way:
            return _read(way, port)


def _read(way: socket.socket, port: int) -> bytes:
    way.sendall(f"GET /enter HTTP/1.1\r\nHost: saw-bench.local:{port}\r\nConnection: close\r\n\r\n".encode())
    told = b""
    with contextlib.suppress(OSError):
        while part := way.recv(4096):
            told += part
    return told
