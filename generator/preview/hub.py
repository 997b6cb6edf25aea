"""Tells every open browser tab what happened. A tab that does not listen is let go."""

import contextlib
import json
import queue
import threading

MOST_TABS = 64
PATIENCE = 64
"""Messages a tab may lie behind."""


class Hub:
    """The open tabs. Safe to use from any thread."""

    def __init__(self) -> None:
        self.tabs: dict[queue.Queue[str], None] = {}
        self.lock = threading.Lock()
        self.closed = False

    def join(self) -> "queue.Queue[str] | None":
        """A new tab's queue; None when the preview is ending. An empty string ends a tab: the oldest, when there are many."""
        tab: queue.Queue[str] = queue.Queue(maxsize=PATIENCE)
        with self.lock:
            if self.closed:
                return None
            while len(self.tabs) >= MOST_TABS:
                self._end(next(iter(self.tabs)))
            self.tabs[tab] = None
        return tab

    def leave(self, tab: "queue.Queue[str]") -> None:
        """A tab was closed."""
        with self.lock:
            self.tabs.pop(tab, None)

    def _end(self, tab: "queue.Queue[str]") -> None:
        del self.tabs[tab]
        with contextlib.suppress(queue.Full):
            tab.put_nowait("")

    def tell(self, event: str, data: object) -> None:
        """Send one event to every tab."""
        message = f"event: {event}\ndata: {json.dumps(data, ensure_ascii=False)}\n\n"
        with self.lock:
            for tab in tuple(self.tabs):
                try:
                    tab.put_nowait(message)
                except queue.Full:
                    del self.tabs[tab]

    def close(self) -> None:
        """Let every tab go, and take no more."""
        with self.lock:
            self.closed = True
            for tab in tuple(self.tabs):
                self._end(tab)
