"""A program of its own: writes events until the system lets it write no more, then goes on."""

import resource
import signal
import sys

from buttonhole.record.event import Draft
from buttonhole.record.store import StoreTrouble, open_store
from buttonhole.record.verify import verify

AT = "2026-01-01T00:00:00.000000Z"


def main() -> None:
    path, limit = sys.argv[1], int(sys.argv[2])
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    kept = 0
    with open_store(path) as store:
        hard = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, hard))
        try:
            for number in range(5000):
                store.append([Draft(f"e{number}", "note", AT, "x", {"text": "x" * 3000})])
                kept += 1
        except StoreTrouble as trouble:
            print(trouble.kind, "|", trouble.message)  # noqa: T201 - what the test reads
        assert store.head()[0] == kept
        assert verify(store).whole
        resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))
        for number in range(50):
            store.append([Draft(f"later{number}", "note", AT, "x", {"text": "x" * 3000})])
        assert store.head()[0] == kept + 50
        assert verify(store).whole
    print("kept", kept)  # noqa: T201


if __name__ == "__main__":
    main()
