"""A program of its own for the tests: writes events and says on standard output which are kept."""

import sys

from buttonhole.record.event import Draft
from buttonhole.record.store import open_store


def main() -> None:
    path, name, subject, count = sys.argv[1:5]
    store = open_store(path)
    for number in range(int(count)):
        event_id = f"{name}-{number}"
        text = "x" * (number * 37 % 4000)
        draft = Draft(
            event_id,
            "note",
            "2026-01-01T00:00:00.000000Z",
            name,
            {"about": [subject], "number": number, "text": text},
        )
        # Two events at once every third time: both or none must be there afterwards.
        drafts = [draft]
        if number % 3 == 0:
            drafts.append(Draft(event_id + "-b", "note", draft.at, name, {"about": [subject]}))
        store.append(drafts)
        print(event_id, flush=True)  # noqa: T201 - this is the acknowledgement
    store.close()


if __name__ == "__main__":
    main()
