"""The record: events, their canonical form, the hash chain, and the store that keeps them."""

from buttonhole.record.chain import Fault, FaultKind, first_fault
from buttonhole.record.event import GENESIS, Draft, Event, seal
from buttonhole.record.verify import Report, verify

__all__ = [
    "GENESIS",
    "Draft",
    "Event",
    "Fault",
    "FaultKind",
    "Report",
    "first_fault",
    "seal",
    "verify",
]
