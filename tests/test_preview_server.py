"""The preview's server from outside: what it answers, what it refuses, how it stops. No browser needed."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator import cli
from generator.preview import serve
from generator.preview.hub import MOST_TABS, PATIENCE, Hub
from generator.preview.requests import COOKIE, Asked, Refused, allowed_hosts, examine, holds_token
from generator.preview.serve import Answers, Server

PAGES = {"": b"<h1>start</h1>", "index.html": b"<h1>start</h1>", "patterns/かご.html": b"basket", "a b.svg": b"<svg/>"}


def page_at(path: str, _kept: Sequence[str] = ()) -> bytes | None:
    """A desk that has these pages and no drawings to keep back."""
    return PAGES.get(path)


@pytest.fixture
def server() -> Iterator[Server]:
    running = Server(Answers(page_at, lambda page: {"page": page}), Hub())
    running.begin()
    yield running
    running.end()


def ask(server: Server, path: str, host: str | None = None, method: str = "GET") -> tuple[int, bytes, dict[str, str]]:
    connection = HTTPConnection("127.0.0.1", server.server_port, timeout=5)
    connection.putrequest(method, path, skip_host=True)
    if host != "":
        connection.putheader("Host", host or f"127.0.0.1:{server.server_port}")
    connection.endheaders()
    answer = connection.getresponse()
    found = answer.status, answer.read(), {name.lower(): value for name, value in answer.getheaders()}
    connection.close()
    return found


def raw(server: Server, data: bytes) -> bytes:
    with socket.create_connection(("127.0.0.1", server.server_port), timeout=5) as line:
        line.sendall(data)
        line.shutdown(socket.SHUT_WR)
        received = b""
        while piece := line.recv(65536):
            received += piece
    return received


def test_pages_come_with_their_type_and_no_leave_to_read_them_elsewhere(server: Server) -> None:
    status, body, headers = ask(server, "/index.html")
    assert (status, body, headers["content-type"]) == (200, b"<h1>start</h1>", "text/html; charset=utf-8")
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["cache-control"] == "no-store"
    assert "access-control-allow-origin" not in headers
    assert ask(server, "/a%20b.svg")[2]["content-type"].startswith("image/svg+xml")
    assert ask(server, "/patterns/%E3%81%8B%E3%81%94.html?turn=3")[1] == b"basket"
    assert json.loads(ask(server, "/-preview/state?page=x%20y")[1]) == {"page": "x y"}
    assert ask(server, "/nothing")[0] == 404
    assert ask(server, "/index.html", method="HEAD")[:2] == (200, b"")


@pytest.mark.parametrize(
    "host", ["", "studio.example", "127.0.0.1", "127.0.0.1:1", "evil.example:80", "localhost.example"]
)
def test_a_foreign_host_is_refused(server: Server, host: str) -> None:
    assert ask(server, "/", host)[0] == 403


@pytest.mark.parametrize(
    "path",
    ["/../etc/passwd", "/a/../../x", "/%2e%2e/etc/passwd", "/..%2fetc/passwd", "/a%5c..%5cb", "/a//b", "/./x",
     "/a%00b", "/%252e%252e/x", "/%ff", "/a%0d%0ab", "/" + "x" * 3000],
)  # fmt: skip
def test_no_path_leads_out(server: Server, path: str) -> None:
    assert ask(server, path)[0] == 400
    assert ask(server, "//etc/passwd")[0] == 404  # the library folds the slashes; no such page


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "OPTIONS", "CONNECT", "TRACE", "BREW"])
def test_nothing_but_reading_is_answered(server: Server, method: str) -> None:
    assert ask(server, "/index.html", method=method)[0] == 501


@pytest.mark.parametrize(
    ("request_line", "status"),
    [
        (b"GET http://127.0.0.1/index.html HTTP/1.1", b"400"),
        (b"GET " + b"/" + b"x" * 70000 + b" HTTP/1.1", b"414"),
        (b"GET /index.html HTTP/9.9", b"505"),
        (b"nonsense", b"400"),
    ],
)
def test_odd_request_lines_are_refused(server: Server, request_line: bytes, status: bytes) -> None:
    host = f"Host: 127.0.0.1:{server.server_port}".encode()
    answer = raw(server, request_line + b"\r\n" + host + b"\r\n\r\n")
    assert status in answer.split(b"\r\n", 1)[0]


def test_endless_headers_and_bodies_are_refused(server: Server) -> None:
    host = f"Host: 127.0.0.1:{server.server_port}\r\n".encode()
    assert b" 431 " in raw(server, b"GET / HTTP/1.1\r\n" + host + b"X: y\r\n" * 200 + b"\r\n").split(b"\r\n", 1)[0]
    body = raw(server, b"GET / HTTP/1.1\r\n" + host + b"Content-Length: 5\r\n\r\nhello")
    assert b" 400 " in body.split(b"\r\n", 1)[0]


def test_a_slow_client_is_let_go_and_keeps_nobody_waiting(server: Server, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(serve.Handler, "timeout", 0.2)
    slow = socket.create_connection(("127.0.0.1", server.server_port), timeout=5)
    slow.sendall(b"GET /index.html HTTP/1.1\r\nHo")
    assert ask(server, "/index.html")[0] == 200
    assert slow.recv(100) == b""
    slow.close()


def listen(server: Server) -> socket.socket:
    line = socket.create_connection(("127.0.0.1", server.server_port), timeout=5)
    line.sendall(f"GET /-preview/events HTTP/1.1\r\nHost: localhost:{server.server_port}\r\n\r\n".encode())
    received = b""
    while b"event: hello\ndata: {}\n\n" not in received:
        received += line.recv(4096)
    return line


def test_every_tab_is_told(server: Server) -> None:
    tabs = [listen(server) for _ in range(3)]
    server.hub.tell("saved", {"pages": ["é.html"]})
    for tab in tabs:
        assert tab.recv(4096).decode() == 'event: saved\ndata: {"pages": ["é.html"]}\n\n'
        tab.close()


def test_fifty_tabs_come_and_go(server: Server) -> None:
    for _ in range(50):
        listen(server).close()
    for _ in range(100):
        server.hub.tell("saved", {})
        if not server.hub.tabs:
            break
        time.sleep(0.02)
    assert not server.hub.tabs


def test_it_stops_at_once_with_tabs_open() -> None:
    running = Server(Answers(page_at, lambda page: {}), Hub())
    thread = running.begin()
    tab = listen(running)
    running.end()
    thread.join(timeout=2)
    assert not thread.is_alive()
    assert tab.recv(100) == b""
    tab.close()


def test_a_tab_that_does_not_read_is_let_go() -> None:
    hub = Hub()
    tab = hub.join()
    assert tab is not None
    for number in range(PATIENCE + 1):
        hub.tell("saved", number)
    assert not hub.tabs


def test_the_oldest_of_too_many_tabs_is_let_go() -> None:
    hub = Hub()
    oldest = hub.join()
    assert oldest is not None
    assert all(hub.join() is not None for _ in range(MOST_TABS))
    assert oldest.get_nowait() == "" and len(hub.tabs) == MOST_TABS
    hub.close()
    assert hub.join() is None


HOSTS = allowed_hosts(8000)


def test_other_machines_need_the_token() -> None:
    assert holds_token("secret", "secret", "")
    assert holds_token("secret", "", f"a=b; {COOKIE}=secret")
    assert not holds_token("secret", "", "")
    assert not holds_token("secret", "secre", f"{COOKIE}=")
    assert not holds_token("secret", "", f"{COOKIE}x=secret")


@given(st.text(max_size=60))
def test_property_what_is_answered_has_no_way_up(path: str) -> None:
    asked = examine("/" + path, HOSTS, "localhost:8000")
    if isinstance(asked, Asked):
        assert not {"..", "."} & set(asked.path.split("/"))
        assert "\\" not in asked.path and "\0" not in asked.path
    else:
        assert isinstance(asked, Refused) and asked.status == 400


def test_a_phone_needs_the_token_and_then_a_cookie() -> None:
    running = Server(Answers(page_at, lambda page: {}), Hub(), lan=True)
    running.begin()
    try:
        if not running.lan_address:
            pytest.skip("this machine is in no network")
        home = f"{running.lan_address}:{running.server_port}"

        def visit(path: str, **headers: str) -> tuple[int, str]:
            connection = HTTPConnection(running.lan_address, running.server_port, timeout=5)
            connection.request("GET", path, headers={"Host": home, **headers})
            answer = connection.getresponse()
            cookie = answer.getheader("Set-Cookie") or ""
            answer.read()
            connection.close()
            return answer.status, cookie

        assert visit("/index.html") == (403, "")
        assert visit("/index.html?token=guess") == (403, "")
        status, cookie = visit(f"/index.html?token={running.token}")
        assert status == 200 and "HttpOnly" in cookie and "SameSite=Strict" in cookie
        assert visit("/index.html", Cookie=cookie.split(";")[0])[0] == 200
        assert visit("/index.html", Host="evil.example")[0] == 403
    finally:
        running.end()


def test_without_leave_no_other_machine_can_reach_it(server: Server) -> None:
    assert server.server_address[0] == "127.0.0.1"
    assert server.token == ""


@pytest.mark.skipif(sys.platform == "win32", reason="Ctrl-C reaches a child differently there")
def test_the_command_serves_until_ctrl_c(tmp_path: Path) -> None:
    (tmp_path / "content" / "patterns").mkdir(parents=True)
    (tmp_path / "content" / "patterns" / "mat.md").write_text(
        "---\ntitle: Mat\n---\n```rounds\nRnd 1: 6 sc in magic ring (6)\n```\n", encoding="utf-8"
    )
    command = [sys.executable, "-m", "generator.cli", "preview", "--no-browser"]
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parent.parent)}
    running = subprocess.Popen(
        command, cwd=tmp_path, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    assert running.stdout is not None
    told = running.stdout.readline()
    address = urlsplit(told.split()[-1])
    connection = HTTPConnection(address.netloc, timeout=30)
    connection.request("GET", address.path)
    assert b"<h1>Mat</h1>" in connection.getresponse().read()
    connection.close()
    running.send_signal(signal.SIGINT)
    _, fault = running.communicate(timeout=30)
    assert (running.returncode, fault) == (0, "")


def test_a_taken_port_is_said_plainly(server: Server, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "patterns").mkdir()
    arguments = ["preview", "--content", str(tmp_path), "--no-browser", "--port", str(server.server_port)]
    assert cli.main(arguments) == 2
    assert "can't be used" in capsys.readouterr().err
