"""Tells every open browser tab what happened. A tab that does not listen is let go."""

import json
import queue
import threading

MOST_TABS = 64
PATIENCE = 64
"""Messages a tab may lie behind."""


class Hub:
    """The open tabs. Safe to use from any thread."""

    def __init__(self) -> None:
        self.tabs: set[queue.Queue[str]] = set()
        self.lock = threading.Lock()
        self.closed = False

    def join(self) -> "queue.Queue[str] | None":
        """A new tab's queue; None when there are too many or the preview is ending. An empty string ends a tab."""
        tab: queue.Queue[str] = queue.Queue(maxsize=PATIENCE)
        with self.lock:
            if self.closed or len(self.tabs) >= MOST_TABS:
                return None
            self.tabs.add(tab)
        return tab

    def leave(self, tab: "queue.Queue[str]") -> None:
        """A tab was closed."""
        with self.lock:
            self.tabs.discard(tab)

    def tell(self, event: str, data: object) -> None:
        """Send one event to every tab."""
        message = f"event: {event}\ndata: {json.dumps(data, ensure_ascii=False)}\n\n"
        with self.lock:
            for tab in tuple(self.tabs):
                try:
                    tab.put_nowait(message)
                except queue.Full:
                    self.tabs.discard(tab)

    def close(self) -> None:
        """Let every tab go, and take no more."""
        with self.lock:
            self.closed = True
            for tab in self.tabs:
                try:
                    tab.put_nowait("")
                except queue.Full:
                    continue
            self.tabs.clear()
