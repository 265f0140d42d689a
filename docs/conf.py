"""How the documentation is built; start it with ``./go docs``."""

import tomllib
from pathlib import Path

root = Path(__file__).resolve().parent.parent
project_table = tomllib.loads((root / "pyproject.toml").read_text("utf-8"))["project"]

project = "Buttonhole"
author = "Buttonhole maintainers"
copyright = "Buttonhole maintainers"
release = version = project_table["version"]

extensions = [
    "myst_parser",
    "sphinx.ext.autodoc",
    "sphinx.ext.napoleon",
    "sphinxcontrib.bibtex",
]
exclude_patterns = ["_build"]
templates_path: list[str] = []

html_theme = "furo"
html_title = f"Buttonhole {release}"
# Nothing is fetched from elsewhere when a page is read in a shop without a network.
html_show_sourcelink = False

myst_enable_extensions = ["colon_fence", "deflist", "dollarmath"]
myst_heading_anchors = 3

# Docstrings follow the numpydoc sections, with one of our own that names the bibliography keys.
napoleon_google_docstring = False
napoleon_numpy_docstring = True
napoleon_use_rtype = False
napoleon_custom_sections = [("Sources", "notes_style")]

autodoc_member_order = "bysource"
autodoc_typehints = "none"

bibtex_bibfiles = ["../src/buttonhole/sources/data/sources.bib"]
bibtex_default_style = "unsrt"

# Standards have no authors; their number is their name.
suppress_warnings = ["bibtex.missing_field"]
