"""A weld file: one weld described in a TOML text, every quantity with its unit.

``read`` opens the file and refuses what is no weld file, ``schema`` says which keys a spot weld has
and turns them into a stack-up and a set-up, ``arc_schema`` does so for plugs, ``seam_schema``
for seams, ``write`` puts a spot weld back into text, ``write_arc`` an arc weld.
"""

from buttonhole.desk.weld_file.arc_schema import PlugWeldFile, arc_weld_file_from, is_arc_weld
from buttonhole.desk.weld_file.read import (
    BadFile,
    named_file,
    read_any_weld_file,
    read_arc_keys,
    read_toml,
    read_weld_file,
)
from buttonhole.desk.weld_file.schema import WeldFile, weld_file_from
from buttonhole.desk.weld_file.seam_schema import SeamWeldFile
from buttonhole.desk.weld_file.write import (
    arc_weld_file_text,
    condition_texts,
    quantity_text,
    set_up_keys,
    weld_file_text,
    write_weld_file,
)
from buttonhole.desk.weld_file.write_arc import arc_file_text, arc_keys

__all__ = [
    "BadFile",
    "PlugWeldFile",
    "SeamWeldFile",
    "WeldFile",
    "arc_file_text",
    "arc_keys",
    "arc_weld_file_from",
    "arc_weld_file_text",
    "condition_texts",
    "is_arc_weld",
    "named_file",
    "quantity_text",
    "read_any_weld_file",
    "read_arc_keys",
    "read_toml",
    "read_weld_file",
    "set_up_keys",
    "weld_file_from",
    "weld_file_text",
    "write_weld_file",
]
