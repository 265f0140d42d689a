"""Gauges of the shop: what their own study found, kept in the record for later readings."""

from dataclasses import dataclass

from buttonhole.coupon.gauge import Gauge, GaugeKind, studied_gauge, usual_gauge
from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.saving import append
from buttonhole.units import BadInput

STUDIED = "gauge_studied"


@dataclass(frozen=True, slots=True)
class KeepGauge:
    """What a study of kept buttons found of a gauge.

    ``repeat``: spread of one reader's repeated readings; ``reader``: between readers, both one
    standard deviation [m]. ``study`` says how many buttons were read by whom, and when.
    """

    name: str
    kind: GaugeKind
    repeat: float
    reader: float
    study: str = ""


def keep_gauge(desk: Desk, command: KeepGauge) -> Gauge:
    """
    Keep a gauge; under a name that is known it goes before what was kept of it.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : KeepGauge
        The gauge and what was found.

    Returns
    -------
    Gauge
        As readings use it from now on.

    Raises
    ------
    BadInput
        When the name is none or a spread is none.
    """
    study = text("study", command.study, longest=LONGEST_TEXT)
    name = text("name", command.name)
    if "/" in name:
        raise BadInput("name", "holds a slash; take another name")
    gauge = studied_gauge(name, command.kind, command.repeat, command.reader, study)
    payload = {
        "gauge": name,
        "kind": command.kind,
        "repeat": command.repeat,
        "reader": command.reader,
        "study": study,
    }
    append(desk, [desk.draft(STUDIED, (f"gauge/{name}",), payload)], {})
    return gauge


def gauges(desk: Desk) -> tuple[Gauge, ...]:
    """
    List the gauges a reading can be taken with.

    Parameters
    ----------
    desk : Desk
        Where the person works.

    Returns
    -------
    tuple of Gauge
        The shop's own with its last study, then one of each kind with the usual figures.
    """
    own: dict[str, Gauge] = {}
    for event in desk.store.events_of_type(STUDIED):
        said = event.payload
        kind, name = GaugeKind(said["kind"]), str(said["gauge"])
        found = (float(said["repeat"]), float(said["reader"]), str(said["study"]))
        own[name] = studied_gauge(name, kind, *found)
    return (*own.values(), *(usual_gauge(one) for one in GaugeKind))
