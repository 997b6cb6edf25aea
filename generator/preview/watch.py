"""Notices saves, however an editor makes them, and tells each burst once.

Editors rename, write twice, write slowly, leave swap files; a branch switch touches a thousand files. A burst ends
when nothing has happened for `QUIET` seconds, or after `LONGEST_BURST` at most.
"""

import queue
import threading
import time
from collections.abc import Callable, Iterable
from pathlib import Path

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer
from watchdog.observers.api import BaseObserver
from watchdog.observers.polling import PollingObserver

QUIET = 0.012
"""Seconds of silence that end a burst. Two writes of one save are under a millisecond apart."""
LONGEST_BURST = 0.25
STARTLED = ("created", "modified", "moved", "deleted", "closed")
"""Kinds of events that mean a change; opening and reading don't."""


def is_noise(path: str) -> bool:
    """Whether a file is an editor's own: hidden, swap, backup, or a probe for write access."""
    name = path.replace("\\", "/").rpartition("/")[2]
    return (
        name.startswith((".", "#", "~"))
        or name.endswith(("~", ".swp", ".swx", ".tmp", ".bak", ".part", ".crdownload"))
        or name.isdigit()
    )


class _Ear(FileSystemEventHandler):
    def __init__(self, heard: "queue.SimpleQueue[str]") -> None:
        self.heard = heard

    def on_any_event(self, event: FileSystemEvent) -> None:
        if event.event_type not in STARTLED or (event.is_directory and event.event_type == "modified"):
            return
        for path in (event.src_path, getattr(event, "dest_path", "")):
            text = path if isinstance(path, str) else bytes(path).decode("utf-8", "surrogateescape")
            if text and not is_noise(text):
                self.heard.put(text)


class Watch:
    """Watches folders from `start` to `stop` and calls `changed` with the paths of each burst, on a thread of its own."""

    def __init__(self, folders: Iterable[Path], changed: Callable[[frozenset[Path]], None]) -> None:
        self.folders = tuple(folder.resolve() for folder in folders)
        self.changed = changed
        self.heard: queue.SimpleQueue[str] = queue.SimpleQueue()
        self.stopping = threading.Event()
        self.observer: BaseObserver = Observer()
        self.thread = threading.Thread(target=self._listen, name="watch", daemon=True)

    def start(self) -> None:
        """Begin; where the system has no more watches to give, look at the files twice a second instead."""
        try:
            self._observe(self.observer)
        except OSError:
            self.observer = PollingObserver(timeout=0.5)
            self._observe(self.observer)
        self.thread.start()

    def _observe(self, observer: BaseObserver) -> None:
        for folder in self.folders:
            if folder.is_dir():
                observer.schedule(_Ear(self.heard), str(folder), recursive=True)
        observer.start()

    def stop(self) -> None:
        """End, and wait until it has."""
        self.stopping.set()
        self.heard.put("")
        self.observer.stop()
        self.observer.join(timeout=2)
        self.thread.join(timeout=2)

    def _listen(self) -> None:
        while not self.stopping.is_set():
            burst = self._burst(self.heard.get())
            if burst and not self.stopping.is_set():
                self.changed(burst)

    def _burst(self, first: str) -> frozenset[Path]:
        paths, end = {first}, time.monotonic() + LONGEST_BURST
        while (left := end - time.monotonic()) > 0:
            try:
                paths.add(self.heard.get(timeout=min(QUIET, left)))
            except queue.Empty:
                break
        return frozenset(Path(path) for path in paths if path)
