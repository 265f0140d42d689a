"""Read models of the evidence for a weld: what was kept, and what is missing."""

from dataclasses import dataclass
from datetime import datetime

from buttonhole.desk.import_archive import ReleaseConflict
from buttonhole.desk.welding_view import MadeWeld


@dataclass(frozen=True, slots=True)
class Proof:
    """One thing an inspector asks for. `event_ids` name the entries it rests on.

    `found` says whether it is in the record; then `words` say it, else `missing` says what is not
    there. What is not `due` adds to the picture and is not counted.
    """

    key: str
    title: str
    found: bool
    words: tuple[str, ...] = ()
    who: str = ""
    at: datetime | None = None
    event_ids: tuple[str, ...] = ()
    missing: str = ""
    due: bool = True


@dataclass(frozen=True, slots=True)
class JointEvidence:
    """The evidence of one joint, or of one weld of it.

    `primary`: seen on the vehicle and in documents. `secondary`: who and what stood behind it.
    """

    joint_id: str
    name: str
    location: str
    state: str
    weld: MadeWeld | None
    held: bool | None  # whether a release held at the minute asked for; None: nothing to ask
    held_words: str
    primary: tuple[Proof, ...]
    secondary: tuple[Proof, ...]

    @property
    def due(self) -> int:
        """How many things are asked for [-]."""
        return sum(one.due for one in (*self.primary, *self.secondary))

    @property
    def there(self) -> int:
        """How many of them are in the record [-]."""
        return sum(one.due and one.found for one in (*self.primary, *self.secondary))

    @property
    def score(self) -> float:
        """Share of what is asked for that is there [-]."""
        return self.there / self.due if self.due else 0.0

    @property
    def lacking(self) -> tuple[str, ...]:
        """What is not there, one sentence each."""
        both = (*self.primary, *self.secondary)
        return tuple(one.missing for one in both if one.due and not one.found)


@dataclass(frozen=True, slots=True)
class JobEvidence:
    """The evidence of one job on the vehicle."""

    job_id: str
    title: str
    vehicle: str
    area: str
    opened_at: datetime
    opened_by: str
    demo: bool
    joints: tuple[JointEvidence, ...]
    conflicts: tuple[ReleaseConflict, ...]
    sites: tuple[str, ...]  # other records that entries came from


@dataclass(frozen=True, slots=True)
class Evidence:
    """All evidence of a vehicle. `altered` names entries whose contents do not give their hash."""

    vin: str
    asked_at: datetime | None
    jobs: tuple[JobEvidence, ...]
    entries: int
    altered: tuple[str, ...]
    signed_heads: int
    covered: int  # entries of the vehicle under a signed head

    @property
    def joints(self) -> tuple[JointEvidence, ...]:
        """The joints of all jobs."""
        return tuple(joint for job in self.jobs for joint in job.joints)
