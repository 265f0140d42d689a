"""The pages, one module for each step of the job."""

from fastapi import APIRouter

from buttonhole.web.pages import (
    coupon,
    entry,
    home,
    joint,
    judge,
    machine,
    person,
    procedure,
    record,
    release,
    set_up,
    steel,
    work,
)

ROUTERS: tuple[APIRouter, ...] = (
    home.router,
    person.router,
    joint.router,
    procedure.router,
    machine.router,
    set_up.router,
    coupon.router,
    judge.router,
    release.router,
    entry.router,
    record.router,
    steel.router,
    work.router,
)
