"""The desk: the steps a person takes, one module each.

A step takes a command (a frozen dataclass), checks it, appends events to the record and gives back
a read model. Commands that change a joint say what the person had seen; when somebody else was
faster, `Conflict` brings both versions.
"""

from buttonhole.desk.conflict import Conflict, NotThere
from buttonhole.desk.desk import Desk

__all__ = ["Conflict", "Desk", "NotThere"]
