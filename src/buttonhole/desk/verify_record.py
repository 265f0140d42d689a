"""Check that nothing in the record was altered, cut out or moved."""

from buttonhole.record.store import EventStore
from buttonhole.record.verify import Report, verify


def verify_record(
    store: EventStore, *, head_count: int | None = None, head_hash: str | None = None
) -> Report:
    """
    Check the whole record.

    Parameters
    ----------
    store : EventStore
        Where it is kept.
    head_count : int, optional
        Number of events a printed card saw [-].
    head_hash : str, optional
        Hash of the last of them.

    Returns
    -------
    Report
        `words` says it plainly; `fault` has the first bad event.
    """
    return verify(store, head_count=head_count, head_hash=head_hash)
