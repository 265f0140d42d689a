"""The rules for the way of joining: those in force, and each with all its versions."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.method_answer import rule_answer
from buttonhole.desk.rule_book import rule_book
from buttonhole.units import BadInput
from buttonhole.web.faults import RESPONSES, NotFound
from buttonhole.web.render import page
from buttonhole.web.shop import Reading

router = APIRouter(prefix="/rules", responses=RESPONSES)


@router.get("")
def list_rules(request: Request, desk: Reading) -> Response:
    """List the rules in force, by topic."""
    today = desk.shop_time(desk.now()).date()
    topics: dict[str, list[dict[str, object]]] = {}
    for one in rule_book(desk).in_force(today):
        topics.setdefault(one.topic, []).append(rule_answer(one))
    return page(request, "rules.html", topics=topics, demo=False)


@router.get("/{key}")
def show_rule(request: Request, key: str, desk: Reading) -> Response:
    """Show one rule with all its versions, the newest first."""
    book = rule_book(desk)
    try:
        found = book.find(key)
    except BadInput as none:
        raise NotFound("rule of this key", "Start from the list of rules.") from none
    versions = [rule_answer(one) for one in reversed(book.versions(found.key))]
    return page(request, "rule.html", versions=versions, demo=False)
