"""What the pages of a joint are made of: its steps, what comes next, its cards."""

from collections.abc import Sequence
from dataclasses import dataclass

from buttonhole.coupon.criterion import Criterion
from buttonhole.desk.view import JointView
from buttonhole.joint.stack_up import Caution
from buttonhole.web.pictures import StackPictures


@dataclass(frozen=True, slots=True)
class Step:
    """One spot on the flange; ``mark`` is done, now or nothing."""

    name: str
    mark: str
    words: str
    href: str


@dataclass(frozen=True, slots=True)
class Next:
    """The one way on from here."""

    question: str
    why: str
    words: str
    href: str


@dataclass(frozen=True, slots=True)
class CouponCard:
    """A coupon in a list."""

    name: str
    about: str
    tone: str
    state: str
    href: str


@dataclass(frozen=True, slots=True)
class JointCard:
    """A joint in a list."""

    name: str
    about: str
    tone: str
    state: str
    href: str


@dataclass(frozen=True, slots=True)
class LimitRow:
    """Least diameters [m] of one faying interface, one for each rule."""

    name: str
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Screen:
    """A joint as its pages show it."""

    view: JointView
    job_name: str
    steps: tuple[Step, ...]
    next: Next
    pictures: StackPictures
    cautions: tuple[Caution, ...]
    rules: tuple[Criterion, ...]
    in_use: Criterion | None  # None: no rule for a button's size
    limits: tuple[LimitRow, ...]
    coupons: tuple[CouponCard, ...]

    @property
    def id(self) -> str:
        """The joint, as the record names it."""
        return self.view.id

    @property
    def name(self) -> str:
        """The joint, as people name it."""
        return self.view.name


def marked_steps(found: Sequence[tuple[str, bool, str]], at: str) -> tuple[Step, ...]:
    """Mark each step, given as name, whether it is done, and page, as done, here or to come."""
    return tuple(_step(name, done, href, name == at) for name, done, href in found)


def _step(name: str, done: bool, href: str, here: bool) -> Step:
    mark = "now" if here else "done" if done else ""
    words = "you are here" if here else "done" if done else "to come"
    return Step(name, mark, words, href)
