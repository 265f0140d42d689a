"""``buttonhole propose``: a set-up from physics, inside what a machine can do."""

from pathlib import Path
from typing import Annotated

import typer

from buttonhole.cli.words import _

MachineOption = Annotated[
    Path,
    typer.Option("--machine", metavar="FILE", help=_("Machine file (TOML), see examples.")),
]
CurrentTypeOption = Annotated[
    str | None,
    typer.Option("--current-type", metavar="TYPE", help=_("MFDC, AC50 or AC60, if it has more.")),
]
