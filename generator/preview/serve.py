"""The preview's web server: the standard library's, on this machine only unless asked otherwise.

It has no files. A request names a page that the desk makes, or one of the preview's own two files; everything else is
not found. No request changes anything, and no other site's page may read an answer.
"""

import json
import mimetypes
import queue
import secrets
import select
import socket
import threading
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib import resources
from typing import Any

from generator.preview.hub import Hub
from generator.preview.requests import COOKIE, Asked, Refused, allowed_hosts, examine, holds_token

OWN = "-preview/"
HEARTBEAT = 15.0
"""Seconds between signs of life to a tab."""
GLANCE = 2.0
"""Seconds between looks whether a tab is still open."""
SLOW = 10.0
"""Seconds a request may take to arrive, or an answer to be taken."""
HEADERS = (
    ("Cache-Control", "no-store"),
    ("X-Content-Type-Options", "nosniff"),
    ("Referrer-Policy", "no-referrer"),
    ("Cross-Origin-Resource-Policy", "same-origin"),
    ("X-Frame-Options", "DENY"),
)
TYPES = {
    ".js": "text/javascript",
    ".css": "text/css",
    ".svg": "image/svg+xml",
    ".webp": "image/webp",
    ".avif": "image/avif",
}


@dataclass(frozen=True, slots=True)
class Answers:
    """What the server asks for: a page's bytes by path, and what stands in the margin beside it. A tab says which drawings it has kept."""

    page: Callable[[str, Collection[str]], bytes | None]
    state: Callable[[str], object]


def content_type(path: str) -> str:
    """The media type of a path, with UTF-8 for texts."""
    ending = path[path.rindex(".") :].lower() if "." in path else ".html"
    kind = TYPES.get(ending) or mimetypes.guess_type("x" + ending)[0] or "application/octet-stream"
    text = kind.startswith("text/") or kind.endswith(("+xml", "/xml", "/json", "javascript"))
    return f"{kind}; charset=utf-8" if text else kind


def own_files() -> Mapping[str, bytes]:
    """The preview's own script and style sheet."""
    folder = resources.files(__package__).joinpath("client")
    return {OWN + name: folder.joinpath(name).read_bytes() for name in ("preview.js", "preview.css")}


class Server(ThreadingHTTPServer):
    """The listening server; `token` is empty unless other machines may ask."""

    daemon_threads = True
    block_on_close = False
    request_queue_size = 64

    def __init__(self, desk: Answers, hub: Hub, port: int = 0, lan: bool = False) -> None:
        super().__init__(("" if lan else "127.0.0.1", port), Handler)
        self.desk, self.hub, self.files = desk, hub, own_files()
        self.token = secrets.token_urlsafe(12) if lan else ""
        self.lan_address = lan_address() if lan else ""
        addresses = (self.lan_address,) if self.lan_address else ()
        self.hosts = allowed_hosts(self.server_port, addresses)

    def server_bind(self) -> None:
        """Bind without asking the network for this machine's name, which can take seconds without one."""
        socket.socket.setsockopt(self.socket, socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        self.socket.bind(self.server_address)
        self.server_address = self.socket.getsockname()
        self.server_name, self.server_port = "localhost", self.server_address[1]

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A tab that was closed in the middle of an answer is nothing to tell."""

    def begin(self) -> threading.Thread:
        """Answer requests on a thread of its own."""
        thread = threading.Thread(target=self.serve_forever, kwargs={"poll_interval": 0.5}, name="serve", daemon=True)
        thread.start()
        return thread

    def end(self) -> None:
        """Stop at once, open tabs or not."""
        self.hub.close()
        self.shutdown()
        self.server_close()


def lan_address() -> str:
    """This machine's address in its network; empty without one. Asking for the route sends nothing."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address kept free for documentation (RFC 5737)
        except OSError:
            return ""
        return str(probe.getsockname()[0])


class Handler(BaseHTTPRequestHandler):
    """One request."""

    server: Server
    protocol_version = "HTTP/1.1"
    server_version, sys_version = "spiralbound", ""
    timeout = SLOW
    disable_nagle_algorithm = True  # an answer goes out in two writes, and the second must not wait

    def do_GET(self) -> None:
        """Answer."""
        asked = self._asked()
        if isinstance(asked, Refused):
            self._send(asked.status, asked.reason.encode(), "text/plain; charset=utf-8")
        elif asked.path == OWN + "events":
            self._events()
        elif asked.path == OWN + "state":
            self._state(asked)
        elif asked.path in self.server.files:
            self._send(200, self.server.files[asked.path], content_type(asked.path))
        else:
            self._page(asked)

    do_HEAD = do_GET

    def _asked(self) -> Asked | Refused:
        asked = examine(self.path, self.server.hosts, self.headers.get("Host"))
        foreign = self.client_address[0] not in ("127.0.0.1", "::1", "::ffff:127.0.0.1")
        if isinstance(asked, Asked) and foreign:
            cookies = self.headers.get("Cookie", "")
            if not self.server.token or not holds_token(self.server.token, asked.token, cookies):
                return Refused(403, "open the address with its token, as shown where the preview was started")
        if self.headers.get("Content-Length", "0") != "0" or self.headers.get("Transfer-Encoding"):
            self.close_connection = True
            return Refused(400, "nothing is taken in here")
        return asked

    def _page(self, asked: Asked) -> None:
        body = self.server.desk.page(asked.path, asked.query.get("kept", "").split(","))
        if body is None:
            self._send(404, b"there is no such page", "text/plain; charset=utf-8")
        else:
            self._send(200, body, content_type(asked.path if not asked.path.endswith("/") else ".html"), asked.token)

    def _state(self, asked: Asked) -> None:
        body = json.dumps(self.server.desk.state(asked.query.get("page", "")), ensure_ascii=False)
        self._send(200, body.encode(), "application/json; charset=utf-8")

    def _send(self, status: int, body: bytes, kind: str, token: str = "") -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        for name, value in HEADERS:
            self.send_header(name, value)
        if token and token == self.server.token:
            self.send_header("Set-Cookie", f"{COOKIE}={token}; HttpOnly; SameSite=Strict; Path=/")
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(body)

    def _events(self) -> None:
        tab = self.server.hub.join()
        if tab is None:
            self._send(503, b"too many tabs are open", "text/plain; charset=utf-8")
            return
        self.close_connection = True
        self.send_response(200)
        self.send_header("Content-Type", "text/event-stream; charset=utf-8")
        self.send_header("Connection", "close")
        for name, value in HEADERS:
            self.send_header(name, value)
        self.end_headers()
        try:
            self._stream(tab)
        except OSError:
            return  # the tab was closed
        finally:
            self.server.hub.leave(tab)

    def _stream(self, tab: "queue.Queue[str]") -> None:
        self.wfile.write(b"retry: 500\nevent: hello\ndata: {}\n\n")
        silent = 0.0
        while True:
            try:
                message, silent = tab.get(timeout=GLANCE), 0.0
            except queue.Empty:
                silent += GLANCE
                if self._closed():
                    return
                if silent < HEARTBEAT:
                    continue
                message, silent = ": still here\n\n", 0.0
            if not message:
                return
            self.wfile.write(message.encode())

    def _closed(self) -> bool:
        """Whether the tab hung up: it never sends anything, so there is something to read only at the end."""
        readable, _, _ = select.select([self.connection], [], [], 0)
        return bool(readable) and not self.connection.recv(1024, socket.MSG_PEEK)

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """What the library refuses by itself (long lines, strange methods), as short as our own answers."""
        self.close_connection = True
        self.request_version = "HTTP/1.1"  # else a line that names no version gets an answer without a status
        self._send(code, (message or "refused").encode(), "text/plain; charset=utf-8")

    def log_message(self, format: str, *args: object) -> None:
        """Nothing: the terminal belongs to the writer's findings."""
