"""Where events are kept. Only this folder speaks SQL."""

from buttonhole.record.store.backup import copy_files, copy_record
from buttonhole.record.store.event_store import EventStore, open_store
from buttonhole.record.store.trouble import Conflict, StoreTrouble

__all__ = ["Conflict", "EventStore", "StoreTrouble", "copy_files", "copy_record", "open_store"]
