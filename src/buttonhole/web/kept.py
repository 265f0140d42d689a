"""Answers that took long, kept for the next look at the same page."""

import json
import threading
from collections import OrderedDict
from typing import Any

MOST = 64


class Kept:
    """The last answers by what they are of; they are lost when the server stops."""

    def __init__(self) -> None:
        self._found: OrderedDict[str, Any] = OrderedDict()
        self._lock = threading.Lock()

    def get(self, of: object) -> Any:
        """The answer, or None when it is not kept."""
        with self._lock:
            return self._found.get(json.dumps(of, sort_keys=True))

    def put(self, of: object, answer: Any) -> None:
        """Keep an answer; the oldest ones go."""
        with self._lock:
            self._found[json.dumps(of, sort_keys=True)] = answer
            while len(self._found) > MOST:
                self._found.popitem(last=False)
