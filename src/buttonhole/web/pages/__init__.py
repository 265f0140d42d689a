"""The pages, one module for each step of the job."""

from fastapi import APIRouter

from buttonhole.web.pages import (
    arc_joint,
    arc_look,
    arc_set_up,
    arc_try,
    coupon,
    cues,
    entry,
    home,
    joint,
    judge,
    machine,
    method,
    person,
    procedure,
    record,
    release,
    rules,
    set_up,
    steel,
    work,
)

ROUTERS: tuple[APIRouter, ...] = (
    home.router,
    person.router,
    joint.router,
    method.router,
    arc_joint.router,
    arc_set_up.router,
    arc_try.router,
    arc_look.router,
    procedure.router,
    machine.router,
    set_up.router,
    coupon.router,
    judge.router,
    release.router,
    entry.router,
    cues.router,
    record.router,
    steel.router,
    rules.router,
    work.router,
)
