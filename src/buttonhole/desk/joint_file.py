"""A joint file: sheets, what is around them and what texts say, for the way of joining.

A weld file does as well: it may carry the same tables, and what it says of the set-up is left
alone.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from buttonhole.desk.joint_keys import JOINT_FORM, JoinedSheetEntry, JointEntry
from buttonhole.desk.weld_file import arc_weld_file_from, is_arc_weld, weld_file_from
from buttonhole.desk.weld_file.around_keys import CircumstancesEntry, MakerTextEntry
from buttonhole.desk.weld_file.faults import first_fault
from buttonhole.desk.weld_file.read import named_file, read_toml
from buttonhole.joint.aluminium_book import aluminium_book, find_aluminium
from buttonhole.joint.coating import Coating
from buttonhole.joint.designation import sheet_as_printed
from buttonhole.joint.hints import Magnet
from buttonhole.procedure.joining.circumstances import (
    UNNAMED_ALLOY,
    Access,
    Adhesive,
    Circumstances,
    JoinedSheet,
    JointToJoin,
    Near,
    Original,
    RemainingFlange,
    Zone,
)
from buttonhole.procedure.joining.maker_text import Says, StatedRule, Whose, rule_of
from buttonhole.procedure.joining.method import find_method
from buttonhole.procedure.joining.rule import Rule
from buttonhole.units import BadInput

_WELD_TABLES = ("sheet", "gap", "circumstances", "maker_text")
_SHEET_KEYS = tuple(JoinedSheetEntry.model_fields)


@dataclass(frozen=True, slots=True)
class JointFile:
    """A joint and the rules of the texts the file brings."""

    joint: JointToJoin
    rules: tuple[Rule, ...] = ()


def read_joint_file(path: str | Path) -> JointFile:
    """Read one joint from a TOML file.

    Parameters
    ----------
    path : str or Path
        A joint file, or a weld file.

    Returns
    -------
    JointFile
        The joint.

    Raises
    ------
    BadFile
        The file can't be read or describes no joint; names the file, the key and what is right.
    """
    data = read_toml(path, what="a joint file")
    with named_file(path):
        return joint_file_from(data)


def joint_file_from(data: Mapping[str, Any]) -> JointFile:
    """Turn the keys of a joint file, or of a JSON body with the same keys, into a joint.

    Parameters
    ----------
    data : mapping
        Tables and values as read; quantities are texts with their unit.

    Returns
    -------
    JointFile
        The joint in SI units.

    Raises
    ------
    BadInput
        The first thing that is wrong; its key names the table and the value.
    """
    try:
        entries = JointEntry.model_validate(_of_weld(data) if "process" in data else data)
    except ValidationError as error:
        raise first_fault(error, JOINT_FORM) from None
    sheets = tuple(_sheet(one, place) for place, one in enumerate(entries.sheet, start=1))
    joint = JointToJoin(sheets, entries.gap, circumstances_from(entries.circumstances))
    return JointFile(joint, rules_from(entries.maker_text))


def joint_of_weld(keys: Mapping[str, Any]) -> JointToJoin:
    """
    Return the joint of a weld file's keys that were read before.

    Parameters
    ----------
    keys : mapping
        Tables and values; quantities are texts with their unit.

    Returns
    -------
    JointToJoin
        Its sheets and what the keys say is around them.

    Raises
    ------
    BadInput
        When they describe no joint.
    """
    return joint_file_from(_part(keys)).joint


def _of_weld(data: Mapping[str, Any]) -> dict[str, Any]:
    """The joint's part of a weld file that is right as a whole."""
    if is_arc_weld(data):
        arc_weld_file_from(data)
    else:
        weld_file_from(data)
    return _part(data)


def _part(data: Mapping[str, Any]) -> dict[str, Any]:
    part = {key: data[key] for key in _WELD_TABLES if key in data}
    part["sheet"] = [
        {key: value for key, value in one.items() if key in _SHEET_KEYS} for one in data["sheet"]
    ]
    return part


def circumstances_from(entry: CircumstancesEntry | None) -> Circumstances:
    """Turn the table of circumstances into what the rules are asked with.

    Parameters
    ----------
    entry : CircumstancesEntry or None
        As read.

    Returns
    -------
    Circumstances
        What is around the joint.
    """
    if entry is None:
        return Circumstances()
    return Circumstances(
        access=None if entry.access is None else Access(entry.access),
        flange_width=entry.flange_width,
        reach_needed=entry.reach_needed,
        arm_reach=entry.arm_reach,
        adhesive=None if entry.adhesive is None else Adhesive(entry.adhesive),
        visible=entry.visible,
        sectioning=entry.sectioning,
        zone=None if entry.zone is None else Zone(entry.zone),
        original_joining=None
        if entry.original_joining is None
        else Original(entry.original_joining),
        original_count=entry.original_count,
        remaining_flange=None
        if entry.remaining_flange is None
        else RemainingFlange(entry.remaining_flange),
        near=tuple(one for one in Near if one in entry.near),
        earlier_repair=entry.earlier_repair,
        model_year=entry.model_year,
        means=tuple(find_method(one) for one in dict.fromkeys(entry.means)),
    )


def rules_from(entries: list[MakerTextEntry]) -> tuple[Rule, ...]:
    """Turn what texts say into rules.

    Parameters
    ----------
    entries : list of MakerTextEntry
        As read.

    Returns
    -------
    tuple of Rule
        One for each text.

    Raises
    ------
    BadInput
        A text names no method or can't be found again.
    """
    found = []
    for place, one in enumerate(entries, start=1):
        try:
            stated = StatedRule(
                methods=one.method.strip(),
                says=Says(one.says),
                whose=Whose(one.rank),
                reference=one.reference,
                revision=one.revision,
                read_on=one.read_on,
                read_by=one.read_by,
                text=one.text,
                applies_to=one.applies_to,
            )
            found.append(rule_of(stated, key=f"text-{place}"))
        except BadInput as bad:
            raise BadInput(f"maker_text {place} {bad.key}", bad.message) from bad
    return tuple(found)


def _sheet(entry: JoinedSheetEntry, place: int) -> JoinedSheet:
    try:
        if (entry.steel is None) == (entry.alloy is None):
            raise BadInput(
                "steel",
                'is missing, or stands beside alloy; give steel = "DC04" or "unknown", or alloy = '
                '"EN AW-6016" for aluminium',
            )
        magnet = Magnet(entry.magnet) if entry.magnet else None
        hints = {"hardness": entry.hardness, "magnet": magnet}
        if entry.alloy is not None:
            return JoinedSheet(entry.thickness, alloy=_alloy(entry.alloy), **hints)  # type: ignore[arg-type] # by name
        steel, coating = sheet_as_printed(entry.steel or "", Coating(entry.coating))
        return JoinedSheet(entry.thickness, steel, coating=coating, **hints)  # type: ignore[arg-type] # by name
    except BadInput as bad:
        raise BadInput(f"sheet {place} {bad.key}", bad.message) from bad


def _alloy(text: str) -> str:
    if text.strip().casefold() in ("unknown", UNNAMED_ALLOY):
        return UNNAMED_ALLOY
    found = find_aluminium(text)
    if found is None:
        listed = ", ".join(aluminium_book())
        raise BadInput("alloy", f'{text[:40]!r} is none of {listed}; give one, or "unknown"')
    return found.designation


def around_text(told: Circumstances) -> str:
    """
    Write circumstances as the table of a joint file.

    Parameters
    ----------
    told : Circumstances
        What is around a joint.

    Returns
    -------
    str
        TOML, to be read again to the same; empty where nothing was told.
    """
    rows = []
    for one in fields(told):
        value = getattr(told, one.name)
        if one.name == "aluminium" or value in (None, (), False):
            continue
        if isinstance(value, bool):
            shown = "true"
        elif isinstance(value, tuple):
            shown = "[" + ", ".join(f'"{each}"' for each in value) + "]"
        elif isinstance(value, float):
            shown = f'"{value * 1e3:.10g} mm"'
        else:
            shown = str(value) if isinstance(value, int) else f'"{value}"'
        rows.append(f"{one.name} = {shown}")
    return "\n".join(["", "[circumstances]", *rows, ""]) if rows else ""
