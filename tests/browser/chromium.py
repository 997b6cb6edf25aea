"""A browser for tests: headless Chromium of the system, asking nobody anything."""

import functools
import http.server
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from shutil import which
from typing import Any

import pytest
from playwright.sync_api import Browser, sync_playwright

ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage",
]  # fmt: skip


@contextmanager
def browser() -> Iterator[Browser]:
    """Headless Chromium; the test is skipped where there is none."""
    place = which("chromium") or which("chromium-browser")
    if not place:
        pytest.skip("no Chromium on this computer")
    with sync_playwright() as play:
        opened = play.chromium.launch(executable_path=place, args=ARGUMENTS)
        yield opened
        opened.close()


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: Any) -> None:
        pass


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """A folder on this machine's own address, as any static host would show it; below a path, as some do."""
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(_Quiet, directory=str(folder)))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_address[1]}"
    finally:
        server.shutdown()
        server.server_close()
        thread.join()
