"""Texts in the user's language; English stands in the code, other languages in ``languages``."""

import gettext
from pathlib import Path

_FOLDER = Path(__file__).parent / "languages"

_ = gettext.translation("buttonhole", _FOLDER, fallback=True).gettext
