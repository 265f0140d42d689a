"""The archive of a vehicle: one file that can be read and checked without this program."""

from buttonhole.record.archive.opening import Archive, Refused, open_archive
from buttonhole.record.archive.packing import Content, pack

__all__ = ["Archive", "Content", "Refused", "open_archive", "pack"]
