"""A weld file: one weld described in a TOML text, every quantity with its unit.

``read`` opens the file and refuses what is no weld file, ``schema`` says which keys there are and
turns them into a stack-up and a set-up, ``write`` puts a weld back into text.
"""

from buttonhole.desk.weld_file.read import BadFile, named_file, read_toml, read_weld_file
from buttonhole.desk.weld_file.schema import WeldFile, weld_file_from
from buttonhole.desk.weld_file.write import (
    condition_texts,
    quantity_text,
    set_up_keys,
    weld_file_text,
    write_weld_file,
)

__all__ = [
    "BadFile",
    "WeldFile",
    "condition_texts",
    "named_file",
    "quantity_text",
    "read_toml",
    "read_weld_file",
    "set_up_keys",
    "weld_file_from",
    "weld_file_text",
    "write_weld_file",
]
