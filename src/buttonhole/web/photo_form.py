"""What stands in the address of a photo's page: how the weld lies, where the handles are.

A tap, a nudge or a snap is one request that answers with a new address. Nothing is kept on the
server, so the back button undoes one step.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from urllib.parse import urlencode

import numpy as np

from buttonhole.desk.read_photo import face_named
from buttonhole.photo.card import WINDOW
from buttonhole.photo.gauge import Face, FaceSetting, Handles, Placed
from buttonhole.units import BadInput
from buttonhole.web.fields import Answers

OWN = (
    *("face", "height", "bar_across", "bar_down", "interface"),
    *("ends", "placed", "snapped", "faint", "hand", "near"),
)
ACTIONS = ("tap.x", "tap.y", "nudge", "pick", "do", "once", "person")
SHOWN_SIDE = 720  # points of the loupe on the page's own grid
NEAR_WIDTH = 14e-3  # m, width of the loupe round a weld
HANDLES = ("1", "2", "3", "4")
STEPS = {
    "left": (-0.1e-3, 0.0),
    "right": (0.1e-3, 0.0),
    "up": (0.0, -0.1e-3),
    "down": (0.0, 0.1e-3),
}
FACES = (
    (Face.BUTTON, "The button", "It stands up from the sheet."),
    (Face.HOLE, "The torn hole", "In the other sheet, its edge on the card's side."),
    (Face.DISC, "A parted face", "A rough disc, level with the sheet."),
)


@dataclass(frozen=True, slots=True)
class PhotoState:
    """Where the page of a photo stands."""

    setting: FaceSetting
    bars: tuple[float, float] | None  # m
    interface: int
    handles: Handles | None
    hand: int  # which handle a tap sets, 0 to 3
    near: bool  # the loupe shows the weld alone, not the whole window
    carried: Mapping[str, str]  # answers of the coupon's questions so far

    def address(self, here: str) -> str:
        """The address of the page in this state."""
        return f"{here}?{urlencode(self.fields())}"

    def fields(self) -> dict[str, str]:
        """All that a form must send along."""
        found = dict(self.carried)
        found |= {
            "interface": str(self.interface),
            "face": self.setting.face.value,
            "height": f"{self.setting.height * 1e3:.2f}",
            "hand": str(self.hand + 1),
            "near": "1" if self.near else "0",
        }
        if self.bars:
            found["bar_across"] = f"{self.bars[0] * 1e3:.2f}"
            found["bar_down"] = f"{self.bars[1] * 1e3:.2f}"
        if self.handles:
            found["ends"] = ",".join(f"{x * 1e3:.3f}" for one in self.handles.ends for x in one)
            found["placed"] = self.handles.placed.value
            found["snapped"] = "1" if self.handles.snapped else "0"
            found["faint"] = "1" if self.handles.faint else "0"
        return found

    @property
    def view(self) -> tuple[float, float, float]:
        """Middle across and down, and width, of what the loupe shows [m]."""
        if not (self.near and self.handles):
            return (0.0, 0.0, WINDOW)
        middle = self.handles.places.mean(axis=0)
        room = 0.5 * (WINDOW - NEAR_WIDTH)
        grid = 0.5e-3  # the picture need not move with every nudge
        x, y = np.clip(np.rint(middle / grid) * grid, -room, room)
        return (float(x), float(y), NEAR_WIDTH)

    def shown(self) -> list[tuple[float, float]]:
        """Where the handles are on the loupe's grid [px]."""
        if not self.handles:
            return []
        x0, y0, width = self.view
        share = SHOWN_SIDE / width
        half = 0.5 * SHOWN_SIDE
        return [((x - x0) * share + half, (y - y0) * share + half) for x, y in self.handles.ends]

    def tapped(self, across: float, down: float, shown: float) -> "PhotoState":
        """After a tap on the loupe, ``shown`` points wide on the screen."""
        x0, y0, width = self.view
        place = (
            x0 + (across / shown - 0.5) * width,
            y0 + (down / shown - 0.5) * width,
        )
        if self.handles is None:
            return replace(self, handles=_first(place), near=True)
        return replace(self._moved(place), hand=(self.hand + 1) % 4)

    def nudged(self, way: str) -> "PhotoState":
        """After a nudge of the handle in hand."""
        if self.handles is None or way not in STEPS:
            return self
        x, y = self.handles.ends[self.hand]
        return self._moved((x + STEPS[way][0], y + STEPS[way][1]))

    def _moved(self, place: tuple[float, float]) -> "PhotoState":
        assert self.handles is not None  # noqa: S101 - asked for before
        ends = list(self.handles.ends)
        half = 0.5 * WINDOW
        ends[self.hand] = (
            min(half, max(-half, place[0])),
            min(half, max(-half, place[1])),
        )
        return replace(self, handles=Handles(tuple(ends), Placed.HAND))


def _first(place: tuple[float, float]) -> Handles:
    """Handles round the first tap, to be set one by one."""
    x, y = place
    arm = 2.5e-3
    half = 0.5 * WINDOW - arm
    x, y = min(half, max(-half, x)), min(half, max(-half, y))
    ends = ((x - arm, y), (x + arm, y), (x, y - arm), (x, y + arm))
    return Handles(ends, Placed.PROGRAM)


def read_state(form: Answers, interfaces: int) -> PhotoState:
    """Read the state out of an address or a form.

    Raises
    ------
    BadInput
        A value that no page of ours sends.
    """
    interface = form.number("interface", low=0, high=interfaces - 1, need="Start from the coupon.")
    height = form.quantity("height", "length", "mm")
    across = form.quantity("bar_across", "length", "mm")
    down = form.quantity("bar_down", "length", "mm")
    if (across is None) != (down is None):
        raise BadInput("bar_down", "give the measured lengths of both bars, or of none")
    setting = FaceSetting(face_named(form.typed.get("face", "button")), height or 0.0)
    hand = form.typed.get("hand", "1")
    carried = {
        key: value for key, value in form.typed.items() if key not in OWN and key not in ACTIONS
    }
    return PhotoState(
        setting=setting,
        bars=(across, down) if across is not None and down is not None else None,
        interface=interface or 0,
        handles=_handles(form.typed),
        hand=HANDLES.index(hand) if hand in HANDLES else 0,
        near=form.typed.get("near", "1") == "1",
        carried=carried,
    )


def _handles(typed: Mapping[str, str]) -> Handles | None:
    text = typed.get("ends", "")
    if not text:
        return None
    try:
        figures = [float(one) * 1e-3 for one in text.split(",")]
    except ValueError:
        figures = []
    if len(figures) != 8:
        raise BadInput("ends", "are not four places; set the handles anew")
    by_hand = typed.get("placed") == Placed.HAND.value
    return Handles(
        tuple(zip(figures[::2], figures[1::2], strict=True)),
        Placed.HAND if by_hand else Placed.PROGRAM,
        typed.get("snapped") == "1",
        typed.get("faint") == "1",
    )
