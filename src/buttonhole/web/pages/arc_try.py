"""Try settings of an arc: sliders and steps that answer at once, and one change at a time."""

from collections.abc import Mapping
from time import perf_counter
from typing import Any
from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from buttonhole.desk.accept_arc_set_up import arc_of, with_set_up
from buttonhole.desk.arc_view import ArcKind, Keys
from buttonhole.desk.weld_file import arc_weld_file_from
from buttonhole.desk.what_if import what_if_answer
from buttonhole.units import BadInput, parse
from buttonhole.web import arc_form
from buttonhole.web.arc_rows import chances, judged_rows, told_rows
from buttonhole.web.dials import Dial, Turned, turned
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form, sentence
from buttonhole.web.render import page
from buttonhole.web.screen import joint_screen
from buttonhole.web.shop import OurShop, Reading
from buttonhole.web.shown import Screen
from buttonhole.web.solved import solved
from buttonhole.web.work import Progress

router = APIRouter(prefix="/joints/{joint_id}/arc", responses=RESPONSES)
ALL, PLUG, SEAMS = arc_form.BOTH, arc_form.PLUG, arc_form.SEAMS


# dial, and the kinds of joint that have it
DIALS: tuple[tuple[Dial, frozenset[ArcKind]], ...] = (
    (Dial("contact_tube_distance", "Contact tube to work", "length", "mm", 1.0, 6.0, 30.0), ALL),
    (Dial("wire_feed_speed", "Wire feed", "speed", "m/min", 0.2, 2.0, 14.0), ALL),
    (Dial("hole_diameter", "Hole", "length", "mm", 0.5, 4.0, 14.0), PLUG),
    (Dial("arc_time", "Arc time", "time", "s", 0.1, 0.2, 8.0), PLUG),
    (Dial("travel_speed", "Travel speed", "travel_speed", "mm/s", 0.5, 2.0, 30.0), SEAMS),
    (Dial("aim_offset", "Aim, plus on to the lower sheet", "length", "mm", 0.5, -5.0, 5.0), SEAMS),
    (Dial("work_angle", "Work angle", "angle", "deg", 5.0, 30.0, 100.0), SEAMS),
    (Dial("gap", "Gap", "length", "mm", 0.1, 0.0, 2.0), ALL),
)


@router.get("/try")
def try_settings(request: Request, joint_id: str, form: Form, desk: Reading) -> Response:
    """Say at once what the settings turned so far would give; nothing is saved."""
    screen = joint_screen(desk, joint_id, "Set-up", by_arc=True)
    arc = arc_of(screen.view)
    dials = read_dials(form, arc.chosen, arc.kind)
    keys = turned_keys(arc.chosen, dials)
    begun = perf_counter()
    try:
        found, said = solved(keys, quick=True), ""
    except BadInput as bad:
        found, said = None, f"{bad.key}: {sentence(bad.message)}"
    seconds = perf_counter() - begun
    parts = "HX-Request" in request.headers
    joint_moved = any(keys.get(key) != arc.chosen.get(key) for key in ("gap", "root_gap", "sheet"))
    typed = arc_form.typed_set_up(keys["set_up"], arc.kind)
    return page(
        request,
        "arc_try_answer.html" if parts else "arc_try.html",
        joint=screen,
        demo=screen.view.demo,
        kind=arc.kind,
        turned=dials,
        partial=parts,
        found=found,
        said=said,
        seconds=seconds,
        judged=judged_rows(found, None) if found else (),
        told=told_rows(found)[:6] if found else (),
        chances=chances(found) if found else {},
        joint_moved=joint_moved,
        take=f"/joints/{joint_id}/arc?{urlencode(typed)}",
    )


def read_dials(form: Answers, keys: Keys, kind: ArcKind) -> tuple[Turned, ...]:
    """Where every dial of a kind of joint stands."""
    starts = ((dial, _standing(keys, dial)) for dial, kinds in DIALS if kind in kinds)
    return tuple(turned(form, dial, start) for dial, start in starts if start is not None)


def _standing(keys: Keys, dial: Dial) -> float | None:
    """Where a dial stands in the keys of a weld [unit of the dial]; None where it has none."""
    sheet: Mapping[str, Any] = keys["sheet"][0]
    text = keys["set_up"].get(dial.key) or keys.get(dial.key)
    if dial.key == "hole_diameter":
        text = sheet.get("hole_diameter")
    if dial.key == "gap":
        text = keys.get("gap") or keys.get("root_gap") or "0 mm"
    if dial.key == "aim_offset":
        text = text or "0 mm"
    if text is None:
        return None
    return round(parse(str(text), dial.kind) / parse(f"1 {dial.unit}", dial.kind), 6)


def turned_keys(keys: Keys, dials: tuple[Turned, ...]) -> dict[str, Any]:
    """Put where the dials stand into the keys of a weld; what was not turned keeps its text."""
    table = dict(keys["set_up"])
    made: dict[str, Any] = dict(keys)
    for one in dials:
        dial = one.dial
        if _standing(keys, dial) == one.value:
            continue
        text = f"{one.value:g} {dial.unit}"
        if dial.key == "gap":
            made["root_gap" if keys.get("joint") == "butt_backed" else "gap"] = text
        elif dial.key == "hole_diameter":
            made["sheet"] = _drilled(keys["sheet"], one.value)
        else:
            table[dial.key] = text
    return with_set_up(made, table)


def _drilled(sheets: list[Mapping[str, Any]], hole: float) -> list[dict[str, Any]]:
    """Drill the first sheet to ``hole`` [mm]; the holes below keep their steps to it."""
    first = parse(sheets[0]["hole_diameter"], "length") * 1e3
    drilled = []
    for sheet in sheets:
        made = dict(sheet)
        if "hole_diameter" in sheet:
            own = parse(sheet["hole_diameter"], "length") * 1e3
            made["hole_diameter"] = f"{own + hole - first:g} mm" if own > 0.0 else "0 mm"
        drilled.append(made)
    return drilled


@router.get("/what-if")
def show_what_if(request: Request, joint_id: str, desk: Reading, shop: OurShop) -> Response:
    """What one change at a time would make of the weld; it takes seconds, so it is watched."""
    screen = joint_screen(desk, joint_id, "Set-up", by_arc=True)
    keys = arc_of(screen.view).chosen
    answer = shop.kept.get(("what if", keys))
    if answer is None:

        def compare(progress: Progress) -> None:
            shop.kept.put(("what if", keys), what_if_answer(arc_weld_file_from(keys), progress))

        here = f"/joints/{joint_id}"
        work = shop.works.start(
            "Welding it otherwise in the model", compare, then=f"{here}/arc/what-if", back=here
        )
        return RedirectResponse(f"/search/{work.number}", 303)
    return _what_if_page(request, screen, answer)


COLUMNS = {
    "plug": (
        ("fusion_probability", "Fused", "%"),
        ("hole_probability", "Hole", "%"),
        ("fused_diameter_mm", "Fused", "mm"),
        ("penetration_mm", "Depth", "mm"),
        ("back_spot_diameter_mm", "Molten, back", "mm"),
        ("head_diameter_mm", "Head", "mm"),
        ("haz_diameter_mm", "Heat zone", "mm"),
        ("welding_current_A", "Current", "A"),
    ),
    "brazed plug": (
        ("fusion_probability", "Wetted", "%"),
        ("melting_probability", "A sheet melts", "%"),
        ("hole_probability", "Hole", "%"),
        ("wetted_diameter_mm", "Wetted", "mm"),
        ("head_diameter_mm", "Head", "mm"),
        ("haz_diameter_mm", "Heat zone", "mm"),
        ("welding_current_A", "Current", "A"),
    ),
    "brazed seam": (
        ("hole_probability", "Hole", "%"),
        ("wetted_lower_mm", "Wetted, lower", "mm"),
        ("wetted_upper_mm", "Wetted, upper", "mm"),
        ("penetration_lower_mm", "Melted, lower", "mm"),
        ("throat_mm", "Throat", "mm"),
        ("haz_width_lower_mm", "Heat zone, lower", "mm"),
        ("haz_width_upper_mm", "Heat zone, upper", "mm"),
    ),
    "seam": (
        ("fusion_probability", "Fused", "%"),
        ("hole_probability", "Hole", "%"),
        ("penetration_lower_mm", "Melted, lower", "mm"),
        ("penetration_upper_mm", "Melted, upper", "mm"),
        ("throat_mm", "Throat", "mm"),
        ("haz_width_lower_mm", "Heat zone, lower", "mm"),
        ("haz_width_upper_mm", "Heat zone, upper", "mm"),
    ),
}


def _what_if_page(request: Request, screen: Screen, answer: Mapping[str, Any]) -> Response:
    columns = COLUMNS[("brazed " if answer["brazed"] else "") + answer["process"]]
    rows: list[tuple[str, list[str], tuple[str, ...]]] = []
    rows.append(("As set", [_cell(answer["as_set"], key, unit) for key, _, unit in columns], ()))
    for one in answer["changes"]:
        cells = [_cell(one["figures"], key, unit) for key, _, unit in columns]
        signs = [_sign(one["differences"][key], unit) for key, _, unit in columns]
        rows.append((one["change"].capitalize(), cells, tuple(signs)))
    return page(
        request,
        "arc_what_if.html",
        joint=screen,
        demo=screen.view.demo,
        heads=[name for _, name, _ in columns],
        rows=rows,
        left_out=answer["left_out"],
    )


def _cell(figures: Mapping[str, float], key: str, unit: str) -> str:
    value = figures[key]
    return f"{100 * value:.0f} %" if unit == "%" else f"{value:.{0 if unit == 'A' else 1}f} {unit}"


def _sign(value: float, unit: str) -> str:
    """Say a difference with an arrow; what would not be read on a calliper is "same"."""
    shown = 100 * value if unit == "%" else value
    least = {"%": 1.0, "mm": 0.05, "A": 1.0}[unit]
    if abs(shown) < least:
        return "same"
    places = 1 if unit == "mm" else 0
    return f"{'▲' if shown > 0 else '▼'} {shown:+.{places}f}".replace("-", "−")
