"""What is answered when something can't be done: what happened, and what to do now."""

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.types import Scope

from buttonhole.desk import Conflict, NotThere
from buttonhole.procedure.release import ReleaseRefused
from buttonhole.units import BadInput
from buttonhole.web.both import rows
from buttonhole.web.render import page, person

# What every route says it may answer besides its own page.
RESPONSES: dict[int | str, dict[str, str]] = {
    400: {"description": "The request can't be read; nothing was written"},
    404: {"description": "There is no such page, job, joint or coupon"},
    409: {"description": "Somebody saved in between, or the step is not possible now; both shown"},
    422: {"description": "A value can't be used; the answer says which and what would be right"},
}

_WORDS = {
    400: ("This request can't be read.", "Go back to the page before and send it again."),
    404: ("There is no such page.", "The address may be incomplete. Start from the list of jobs."),
    405: ("This address is not one to open by hand.", "Start from the list of jobs."),
}
OUR_FAULT = (
    500,
    "Something in the program broke. What was saved before is safe.",
    "Go back and try once more. If it happens again, write by hand and tell who looks after it.",
)


class NobodyHere(Exception):
    """Something is to be saved, and nobody has given a name at this screen."""


class Unreadable(Exception):
    """A request that is not even of the right form."""


class NotFound(Exception):
    """There is no such thing in the record; ``what`` names it in plain words."""

    def __init__(self, what: str, act: str = "Start from the list of jobs.") -> None:
        super().__init__(what)
        self.what = what
        self.act = act


def refusal(scope: Scope, status: int, said: str, act: str) -> Response:
    """Answer with one sentence of what is wrong and one of what to do."""
    if scope["path"].startswith("/api/"):
        return JSONResponse({"error": {"message": said, "do": act}}, status)
    request = Request(scope)
    return page(request, "fault.html", status=status, said=said, act=act)


def add_fault_pages(app: FastAPI) -> None:
    """Give every kind of failure its page."""

    @app.exception_handler(HTTPException)
    def told(request: Request, error: HTTPException) -> Response:
        said, act = _WORDS.get(error.status_code, (str(error.detail), _WORDS[400][1]))
        return refusal(request.scope, error.status_code, said, act)

    @app.exception_handler(NotFound)
    def missing(request: Request, error: NotFound) -> Response:
        said = f"There is no {error.what} here."
        return refusal(request.scope, 404, said, error.act)

    @app.exception_handler(Unreadable)
    def unread(request: Request, error: Unreadable) -> Response:
        act = "Send the keys of a weld file as one JSON object. Nothing was worked out."
        return refusal(request.scope, 400, str(error), act)

    @app.exception_handler(NotThere)
    def gone(request: Request, error: NotThere) -> Response:
        said = f"There is no such {error.what} in the record."
        return refusal(request.scope, 404, said, "Start from the list of jobs.")

    @app.exception_handler(NobodyHere)
    def nobody(request: Request, _error: NobodyHere) -> Response:
        act = "Tap “Who are you?” above, give your name, then do this step again."
        return refusal(request.scope, 422, "Nobody has given a name here. Nothing was saved.", act)

    @app.exception_handler(Conflict)
    def both(request: Request, error: Conflict) -> Response:
        return _both_versions(request, error)

    @app.exception_handler(ReleaseRefused)
    def refused(request: Request, error: ReleaseRefused) -> Response:
        said = " ".join(one.reason for one in error.refusals)
        act = " ".join(one.do for one in error.refusals)
        return refusal(request.scope, 409, said, act)

    @app.exception_handler(RequestValidationError)
    def unreadable(request: Request, _error: RequestValidationError) -> Response:
        return refusal(request.scope, 422, *_WORDS[404])

    @app.exception_handler(BadInput)
    def bad(request: Request, error: BadInput) -> Response:
        if request.url.path.startswith("/api/"):
            told_of = {"key": error.key, "message": error.message}
            return JSONResponse({"error": told_of}, 422)
        said = f"{error.key.replace('_', ' ')} {error.message}".strip().capitalize()
        return refusal(request.scope, 422, f"{said}.", "Go back, put it right and send it again.")


def _both_versions(request: Request, conflict: Conflict) -> Response:
    typed = dict(getattr(request.state, "typed", {}))
    typed["seen"] = conflict.seen or ""
    last = conflict.theirs[-1]
    return page(
        request,
        "fault_conflict.html",
        status=409,
        theirs=conflict.theirs,
        last=last,
        mine=conflict.mine,
        me=person(request),
        rows=rows(conflict),
        keep=f"/joints/{conflict.subject.partition('/')[2]}",
        action=request.url.path,
        carried=typed,
    )
