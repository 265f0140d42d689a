"""``buttonhole strength``: what the welds of a joint hold, and how many it needs."""

from pathlib import Path
from typing import Annotated

import typer

from buttonhole.cli import say
from buttonhole.cli.quantities import quantity
from buttonhole.cli.solving import solving
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _

FilesArgument = Annotated[
    list[Path],
    typer.Argument(metavar="FILE...", help=_("Weld file; one for each kind of weld in the joint.")),
]
LoadOption = Annotated[
    str | None,
    typer.Option("--load", metavar="FORCE", help=_("What the joint must hold, as '20 kN'.")),
]
CountOption = Annotated[
    int | None,
    typer.Option("--maker-count", help=_("How many welds the vehicle maker says.")),
]
EfficiencyOption = Annotated[
    float | None,
    typer.Option("--efficiency", help=_("Share of a weld's load that a row makes use of, to 1.")),
]
PullOption = Annotated[
    str,
    typer.Option("--pull", help=_("lap_shear, cross_tension, peel or torsion.")),
]


def strength(
    files: FilesArgument,
    load: LoadOption = None,
    maker_count: CountOption = None,
    efficiency: EfficiencyOption = None,
    pull: PullOption = "lap_shear",
    json: JsonOption = False,
) -> None:
    """Say what welds hold, how they let go, the weakest link, and how many are needed."""
    from buttonhole.desk.strength_of_joint import StrengthAsked, strength_of_joint
    from buttonhole.desk.weld_file import read_any_weld_file

    asked = StrengthAsked(quantity("--load", load, "force"), maker_count, efficiency, pull)
    welds = [(file.name, read_any_weld_file(file)) for file in files]
    with solving(files[0]):
        answer = strength_of_joint(welds, asked)
    if json:
        say.give_json(answer)
        return
    from buttonhole.cli.strength_text import joint_lines

    say.give_lines(joint_lines(answer))
