"""The API: the same keys in, the same object out as on the command line."""

from fastapi import APIRouter

from buttonhole.web.faults import RESPONSES

router = APIRouter(prefix="/api", responses=RESPONSES)
