"""One preview from start to stop: the desk, the watch, the server, and what passes between them."""

import threading
from dataclasses import asdict
from datetime import date
from pathlib import Path

from generator.preview.desk import Desk
from generator.preview.hub import Hub
from generator.preview.serve import Answers, Server
from generator.preview.watch import Watch
from generator.publish import shelf

FIRST = 0.06
"""Seconds the browsers get to take the new words before the charts are drawn."""


class Session:
    """A running preview.

    Raises:
        OSError: the port is taken.
    """

    def __init__(self, content: Path, published: Path, today: date, port: int = 0, lan: bool = False) -> None:
        self.hub = Hub()
        self.desk = Desk(content, published, today)
        self.server = Server(Answers(self.desk.page, self.desk.state), self.hub, port, lan)
        self.watch = Watch((content, shelf.OWN), self._changed)
        self.ended = threading.Event()

    @property
    def address(self) -> str:
        """Where the browser finds the page the writer is at."""
        return f"http://127.0.0.1:{self.server.server_port}/{self.desk.newest()}"

    @property
    def lan_address(self) -> str:
        """Where a phone finds it; empty unless asked for."""
        if not self.server.lan_address:
            return ""
        return f"http://{self.server.lan_address}:{self.server.server_port}/?token={self.server.token}"

    def start(self) -> None:
        """Begin to watch and to serve; the first page is made while the browser still opens."""
        self.watch.start()
        self.server.begin()
        threading.Thread(target=self.desk.get_ready, daemon=True).start()

    def wait(self) -> None:
        """Until somebody stops it; waking now and then so that Ctrl-C is heard on every system."""
        while not self.ended.wait(3600):
            continue

    def stop(self) -> None:
        """End at once."""
        self.ended.set()
        self.watch.stop()
        self.server.end()

    def _changed(self, paths: frozenset[Path]) -> None:
        news = self.desk.changed(paths)
        if news is not None:
            self.hub.tell("saved", asdict(news))
            self.ended.wait(FIRST)
            if later := self.desk.settle():
                self.hub.tell("saved", asdict(later))
