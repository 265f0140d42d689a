"""Turns what a page shows into HTML."""

from collections.abc import Mapping
from functools import cache
from typing import Any
from uuid import uuid4

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from buttonhole.language import LANGUAGES, Display
from buttonhole.language.display import display_of_codes, displayed, language_of
from buttonhole.web import words
from buttonhole.web.saying import own, say_text, shown_field
from buttonhole.web.template_text import SAY, TemplateText

THEMES = ("sun", "dark", "auto")


@cache
def environment() -> Environment:
    """The templates: every value is escaped, a name nobody gave is an error."""
    env = Environment(
        loader=PackageLoader("buttonhole.web"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        extensions=[TemplateText],
    )
    env.filters.update(words.FILTERS)
    env.filters["own"] = own
    env.globals[SAY] = say_text
    env.globals["shown_field"] = shown_field
    env.globals["languages"] = LANGUAGES
    env.globals["cautions"] = words.CAUTIONS
    return env


def page(request: Request, template: str, *, status: int = 200, **shown: Any) -> Response:
    """Answer with a page.

    Parameters
    ----------
    request : Request
        The request; theme and person are read from its cookies.
    template : str
        File name of the template.
    status : int
        Status of the answer [-].
    **shown : object
        What the template shows.

    Returns
    -------
    Response
        The page.
    """
    theme = request.cookies.get("theme", "auto")
    display = display_of(request)
    query = request.url.query if request.method == "GET" else ""
    frame: Mapping[str, Any] = {
        "theme": theme if theme in THEMES else "auto",
        "person": person(request),
        "here": request.url.path,
        "again": request.url.path + (f"?{query}" if query else ""),
        "once": uuid4().hex,
        "display": display,
    }
    with displayed(display):
        text = environment().get_template(template).render({**frame, **shown})
    return HTMLResponse(text, status, {"Content-Language": display.language})


def display_of(request: Request) -> Display:
    """Language and units at this screen: as chosen, else as the browser asks for."""
    asked = request.headers.get("accept-language", "")
    language = language_of(request.cookies.get("language", ""), asked)
    return display_of_codes(language, request.cookies.get("units", ""))


def person(request: Request) -> str:
    """The name given at this screen, or nothing."""
    from urllib.parse import unquote

    return unquote(request.cookies.get("person", ""))[:60].strip()


def drawing(svg: str) -> Markup:
    """Take a drawing of ours into a page: its texts were escaped when it was drawn."""
    return Markup(svg)  # noqa: S704 - only paper.figure makes them
