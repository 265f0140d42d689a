"""The form of an arc joint: into the keys of a weld file and back, faults beside their fields."""

import pytest

from buttonhole.desk.arc_view import ArcKind, arc_kind, way_of
from buttonhole.desk.weld_file import arc_weld_file_from
from buttonhole.procedure.joining.method import JoiningMethod
from buttonhole.web import arc_form
from buttonhole.web.fields import Answers

STEEL = {"thickness-1": "0.8", "metal-1": "DC04", "coating-1": "GI"} | {
    "thickness-2": "1,5",
    "metal-2": "HCT600X",
    "coating-2": "GI",
}
ALUMINIUM = {"thickness-1": "2", "metal-1": "EN AW-6082"} | {
    "thickness-2": "2",
    "metal-2": "EN AW-6082",
}


def typed(kind: ArcKind, **more: str) -> Answers:
    sheets = ALUMINIUM if kind is ArcKind.ALUMINIUM else STEEL
    return Answers({**arc_form.STARTS[kind], **sheets, **more})


@pytest.mark.parametrize("kind", ArcKind)
def test_what_a_form_begins_with_is_a_weld_of_its_kind(kind: ArcKind) -> None:
    form = typed(kind)
    keys = arc_form.read_keys(form, kind)
    assert form.faults == {}
    assert keys is not None
    assert arc_kind(arc_weld_file_from(keys)) is kind


@pytest.mark.parametrize("kind", ArcKind)
def test_a_form_and_its_keys_say_the_same(kind: ArcKind) -> None:
    more = {"width": "60", "gap": "0.2", "backing": "copper"}
    more |= {"piece_length": "80"} if kind is ArcKind.PLUG else {"overlap": "20"}
    keys = arc_form.read_keys(typed(kind, **more), kind)
    assert keys is not None
    again = arc_form.read_keys(Answers(arc_form.typed_keys(keys, kind)), kind)
    assert again == keys


def test_texts_keep_their_units_and_a_decimal_comma_is_a_point() -> None:
    keys = arc_form.read_keys(typed(ArcKind.PLUG, arc_time="1900 ms"), ArcKind.PLUG)
    assert keys is not None
    assert keys["sheet"][1]["thickness"] == "1.5 mm"
    assert keys["set_up"]["arc_time"] == "1900 ms"
    assert keys["set_up"]["wire_feed_speed"] == "6.4 m/min"


def test_a_butt_takes_its_gap_between_the_edges() -> None:
    kind = ArcKind.SEAM
    keys = arc_form.read_keys(typed(kind, joint="butt_backed", gap="1", work_angle="90"), kind)
    assert keys is not None
    assert keys["root_gap"] == "1 mm"
    assert "gap" not in keys


@pytest.mark.parametrize(
    ("kind", "more", "field"),
    [
        (ArcKind.PLUG, {"hole_diameter-1": ""}, "hole_diameter-1"),
        (ArcKind.PLUG, {"hole_diameter-1": "2"}, "hole_diameter-1"),
        (ArcKind.PLUG, {"thickness-1": "0.8 kg"}, "thickness-1"),
        (ArcKind.PLUG, {"metal-2": "no such steel"}, "metal-2"),
        (ArcKind.PLUG, {"arc_time": ""}, "arc_time"),
        (ArcKind.PLUG, {"arc_time": "99"}, "arc_time"),
        (ArcKind.PLUG, {"gas": "argon"}, "gas"),
        (ArcKind.PLUG, {"torch_path": "zigzag"}, "torch_path"),
        (ArcKind.PLUG, {"backing": "copper"}, "width"),
        (ArcKind.SEAM, {"length": "300"}, "length"),
        (ArcKind.SEAM, {"joint": "corner"}, "joint"),
        (ArcKind.SEAM, {"work_angle": "10"}, "work_angle"),
        (ArcKind.SEAM, {"stitch_pause": "5"}, "stitch_length"),
        (ArcKind.BRAZE, {"gas": "M21"}, "gas"),
        (ArcKind.ALUMINIUM, {"metal-1": "EN AW-9999"}, "metal-1"),
        (ArcKind.ALUMINIUM, {"thickness-1": "0.5"}, "thickness-1"),
    ],
)
def test_what_is_wrong_is_marked_at_its_field(
    kind: ArcKind, more: dict[str, str], field: str
) -> None:
    form = typed(kind, **more)
    assert arc_form.read_keys(form, kind) is None
    assert list(form.faults) == [field]
    assert form.faults[field].endswith((".", "?"))


def test_all_figures_that_are_no_figures_are_marked_at_once() -> None:
    form = typed(ArcKind.PLUG, arc_voltage="many", arc_time="long", **{"thickness-1": "thin"})
    assert arc_form.read_keys(form, ArcKind.PLUG) is None
    assert {"arc_voltage", "arc_time", "thickness-1"} <= form.faults.keys()


def test_a_third_sheet_without_the_second_is_refused() -> None:
    form = typed(ArcKind.PLUG, **{"thickness-2": "", "thickness-3": "1"})
    assert arc_form.read_keys(form, ArcKind.PLUG) is None
    assert {"thickness-2", "thickness-3"} <= form.faults.keys()


def test_a_plug_may_be_brazed_and_its_form_offers_the_wires_for_it() -> None:
    offered = {value for _, group in arc_form.wire_choices(ArcKind.PLUG) for value, _ in group}
    assert {"G 3Si1", "S Cu 6560", "S Al 4043"} <= offered
    form = typed(ArcKind.PLUG, wire="S Cu 6560", gas="I1")
    keys = arc_form.read_keys(form, ArcKind.PLUG)
    assert form.faults == {}
    assert keys is not None
    weld = arc_weld_file_from(keys)
    assert arc_kind(weld) is ArcKind.PLUG
    assert way_of(weld) is JoiningMethod.BRAZE


def test_a_plug_may_be_of_aluminium_and_its_form_offers_the_alloys() -> None:
    offered = {value for _, group in arc_form.metal_choices(ArcKind.PLUG) for value, _ in group}
    assert {"DC04", "unknown", "EN AW-6082"} <= offered
    sheets = {"thickness-1": "1.5", "coating-1": "GI", "thickness-2": "2", "coating-2": "unknown"}
    form = Answers({**arc_form.start_of(ArcKind.PLUG, aluminium=True), **sheets})
    keys = arc_form.read_keys(form, ArcKind.PLUG)
    assert form.faults == {}
    assert keys is not None
    assert all("alloy" in one and "coating" not in one for one in keys["sheet"])
    weld = arc_weld_file_from(keys)
    assert arc_kind(weld) is ArcKind.PLUG
    assert way_of(weld) is JoiningMethod.ALUMINIUM_MIG
    again = arc_form.read_keys(Answers(arc_form.typed_keys(keys, ArcKind.PLUG)), ArcKind.PLUG)
    assert again == keys


@pytest.mark.parametrize(
    ("more", "field"),
    [({"metal-2": "EN AW-6082"}, "metal-1"), ({"wire": "S Al 4043", "gas": "I1"}, "wire")],
)
def test_steel_and_aluminium_in_one_plug_are_refused(more: dict[str, str], field: str) -> None:
    form = typed(ArcKind.PLUG, **more)
    assert arc_form.read_keys(form, ArcKind.PLUG) is None
    assert list(form.faults) == [field]
