"""The bibliography: every source key used by a table or a docstring."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from buttonhole.sources import checksum

ENTRY = re.compile(
    r"^@(?P<kind>\w+)\{(?P<key>[^,\s]+),\n(?P<body>.*?)^\}", re.MULTILINE | re.DOTALL
)
FIELD = re.compile(r"^\s*(?P<name>\w+)\s*=\s*\{(?P<value>.*?)\},?\s*$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Reference:
    """One entry of the bibliography; ``fields`` holds author, title, year and the like."""

    key: str
    kind: str
    fields: Mapping[str, str]

    @property
    def title(self) -> str:
        """Title as printed."""
        return self.fields["title"]

    def __str__(self) -> str:
        parts = (
            "author",
            "institution",
            "title",
            "journal",
            "publisher",
            "number",
            "year",
            "doi",
            "note",
        )
        return ". ".join(self.fields[part] for part in parts if part in self.fields)


@cache
def bibliography() -> Mapping[str, Reference]:
    """Return key -> reference for everything in ``data/sources.bib``."""
    text = (checksum.DATA / "sources.bib").read_text(encoding="utf-8")
    entries = {}
    for match in ENTRY.finditer(text):
        fields = {f["name"]: f["value"] for f in FIELD.finditer(match["body"])}
        key = match["key"]
        if key in entries:
            raise ValueError(f"sources.bib: two entries {key!r}; give each its own key")
        entries[key] = Reference(key, match["kind"], MappingProxyType(fields))
    return MappingProxyType(entries)
