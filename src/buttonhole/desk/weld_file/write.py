"""Puts a weld back into the text of a weld file."""

import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

from buttonhole.desk.weld_file.schema import WeldFile
from buttonhole.units import parse
from buttonhole.weld.spot.set_up import ElectrodeCap, Pulse, SpotSetUp

# the unit people use and how many of it one SI unit makes, and the SI unit for odd values
_UNITS = {
    "length": ("mm", 1e3, "m"),
    "current": ("kA", 1e-3, "A"),
    "force": ("kN", 1e-3, "N"),
    "time": ("ms", 1e3, "s"),
}


def quantity_text(value: float, kind: str) -> str:
    """Shortest text with a unit that reads back as exactly this value.

    Parameters
    ----------
    value : float
        The value [SI unit of the kind].
    kind : str
        length, current, force or time.

    Returns
    -------
    str
        For example ``"0.8 mm"`` for a length of 0.0008 m.
    """
    unit, factor, si_unit = _UNITS[kind]
    for digits in range(1, 16):
        text = f"{value * factor:.{digits}g} {unit}"
        if "e" not in text and parse(text, kind) == value:
            return text
    return f"{value!r} {si_unit}"


def weld_file_text(weld: WeldFile) -> str:
    """The TOML text of a weld; reading it gives the same weld again."""
    return "\n".join(_lines(weld)) + "\n"


def write_weld_file(path: str | Path, weld: WeldFile) -> None:
    """Write a weld file; after a crash the old file or the new one is there, never half of one.

    Parameters
    ----------
    path : str or Path
        Where the file goes; a file that is there is replaced.
    weld : WeldFile
        The weld to write.

    Raises
    ------
    OSError
        The folder doesn't exist or may not be written to.
    """
    path = Path(path)
    handle, beside = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(weld_file_text(weld))
            file.flush()
            os.fsync(file.fileno())
        os.chmod(beside, 0o644)
        os.replace(beside, path)
    except BaseException:
        os.unlink(beside)
        raise


def _lines(weld: WeldFile) -> Iterator[str]:
    yield 'process = "spot"'
    if weld.stack.gap:
        yield _quantity("gap", weld.stack.gap, "length")
    for sheet in weld.stack.sheets:
        yield from ("", "[[sheet]]")
        yield _text("steel", sheet.steel.designation)
        yield _quantity("thickness", sheet.thickness, "length")
        yield _text("coating", sheet.coating.value)
    yield from ("", "[set_up]")
    yield from _set_up(weld.set_up)
    if weld.minimum_rule is not None:
        yield from ("", "[criterion]", _text("minimum_rule", weld.minimum_rule))


def _set_up(set_up: SpotSetUp) -> Iterator[str]:
    single = len(set_up.pulses) == 1 and set_up.pulses[0].cool_time == 0.0
    if single:
        yield _quantity("welding_current", set_up.pulses[0].current, "current")
    yield _text("current_type", set_up.current_type.value)
    yield _quantity("electrode_force", set_up.electrode_force, "force")
    yield from _cap(set_up.cap_a, "")
    if set_up.cap_b != set_up.cap_a:
        yield from _cap(set_up.cap_b, "_b")
    yield _quantity("squeeze_time", set_up.squeeze_time, "time")
    if single:
        yield _quantity("weld_time", set_up.pulses[0].time, "time")
        yield from _slopes(set_up.pulses[0])
    yield _quantity("hold_time", set_up.hold_time, "time")
    for pulse in () if single else set_up.pulses:
        yield from ("", "[[set_up.pulse]]")
        yield _quantity("current", pulse.current, "current")
        yield _quantity("time", pulse.time, "time")
        if pulse.cool_time:
            yield _quantity("cool", pulse.cool_time, "time")
        yield from _slopes(pulse)


def _cap(cap: ElectrodeCap, side: str) -> Iterator[str]:
    if cap.face_diameter is not None:
        yield _quantity(f"electrode_face{side}", cap.face_diameter, "length")
    if cap.radius is not None:
        yield _quantity(f"electrode_radius{side}", cap.radius, "length")
    yield _quantity(f"electrode_body{side}", cap.body_diameter, "length")


def _slopes(pulse: Pulse) -> Iterator[str]:
    if pulse.up_slope:
        yield _quantity("slope", pulse.up_slope, "time")
    if pulse.down_slope:
        yield _quantity("down_slope", pulse.down_slope, "time")


def _quantity(key: str, value: float, kind: str) -> str:
    return f'{key} = "{quantity_text(value, kind)}"'


def _text(key: str, value: str) -> str:
    escaped = "".join(
        letter if letter.isprintable() and letter not in '"\\' else f"\\U{ord(letter):08x}"
        for letter in value
    )
    return f'{key} = "{escaped}"'
