"""``buttonhole what-if``: what one change at a time would make of an arc weld."""

from typing import Any

from buttonhole.cli import say
from buttonhole.cli.verbs.predict import JsonOption, WeldFileArgument
from buttonhole.cli.words import _

COLUMNS = {
    "plug": (
        (_("fused"), "fused_diameter_mm", 1.0),
        (_("depth"), "penetration_mm", 1.0),
        (_("spot"), "back_spot_diameter_mm", 1.0),
        (_("head"), "head_diameter_mm", 1.0),
        (_("zone"), "haz_diameter_mm", 1.0),
        (_("good%"), "fusion_probability", 100.0),
        (_("hole%"), "hole_probability", 100.0),
    ),
    "brazed plug": (
        (_("wetted"), "wetted_diameter_mm", 1.0),
        (_("molten"), "penetration_mm", 1.0),
        (_("zone"), "haz_diameter_mm", 1.0),
        (_("head"), "head_diameter_mm", 1.0),
        (_("wet%"), "fusion_probability", 100.0),
        (_("melt%"), "melting_probability", 100.0),
        (_("hole%"), "hole_probability", 100.0),
    ),
    "brazed seam": (
        (_("wet l"), "wetted_lower_mm", 1.0),
        (_("wet u"), "wetted_upper_mm", 1.0),
        (_("molten"), "penetration_lower_mm", 1.0),
        (_("throat"), "throat_mm", 1.0),
        (_("zone l"), "haz_width_lower_mm", 1.0),
        (_("zone u"), "haz_width_upper_mm", 1.0),
        (_("hole%"), "hole_probability", 100.0),
    ),
    "seam": (
        (_("lower"), "penetration_lower_mm", 1.0),
        (_("upper"), "penetration_upper_mm", 1.0),
        (_("throat"), "throat_mm", 1.0),
        (_("zone l"), "haz_width_lower_mm", 1.0),
        (_("zone u"), "haz_width_upper_mm", 1.0),
        (_("good%"), "fusion_probability", 100.0),
        (_("hole%"), "hole_probability", 100.0),
    ),
}
NAMES = 36  # letters of the column of changes


def what_if(file: WeldFileArgument, json: JsonOption = False) -> None:
    """Say what one change at a time would make of a plug or a seam."""
    from buttonhole.desk.weld_file import BadFile, WeldFile, named_file, read_any_weld_file
    from buttonhole.desk.what_if import what_if_answer

    described = read_any_weld_file(file)
    if isinstance(described, WeldFile):
        raise BadFile(str(file), "process", _("is a spot weld; give a plug or a seam"))
    with named_file(file), say.progress(_("welding")) as progress:
        answer = what_if_answer(described, progress)
    if json:
        say.give_json(answer)
        return
    say.give_lines(_lines(answer))


def _lines(answer: dict[str, Any]) -> list[str]:
    columns = COLUMNS[("brazed " if answer["brazed"] else "") + answer["process"]]
    lines = [" " * NAMES + "".join(f"{name:>8}" for name, _key, _factor in columns)]
    cells = "".join(f"{answer['as_set'][key] * each:8.1f}" for _name, key, each in columns)
    lines += [f"{_('as set'):<{NAMES}}{cells}", _("difference, if")]
    for one in answer["changes"]:
        cells = "".join(f"{one['differences'][key] * each:+8.1f}" for _name, key, each in columns)
        lines.append(f"  {one['change']:<{NAMES - 2}}{cells}")
    for text in answer["left_out"]:
        lines += say.wrapped(_("left out: {}").format(text), first="  ")
    text = _(
        "Lengths in mm. Differences smaller than the intervals of `predict` may have either sign "
        "in the shop. How wide the heat zone is follows aim and travel far more than the angle of "
        "the torch: a wide one comes from an arc that dwells on one sheet. The vehicle maker's "
        "procedure prevails."
    )
    return [*lines, "", *say.wrapped(text)]
