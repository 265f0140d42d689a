"""Gauges: the usual figures, and what a shop's own study changes."""

import pytest

from buttonhole.coupon.gauge import GaugeKind, find_gauge_kind, studied_gauge, usual_gauge
from buttonhole.coupon.reading import CALLIPER_BUTTON, CALLIPER_FACE, READER
from buttonhole.units import BadInput


def test_the_usual_calliper_is_what_readings_without_a_gauge_assume():
    usual = usual_gauge(GaugeKind.CALLIPER)
    assert usual.instrument(clean=True) == CALLIPER_BUTTON
    assert usual.instrument(clean=False) == CALLIPER_FACE
    assert usual.reader == READER


@pytest.mark.parametrize("kind", list(GaugeKind))
def test_a_broken_face_is_never_read_more_surely_than_a_clean_edge(kind: GaugeKind):
    gauge = usual_gauge(kind)
    assert gauge.face >= gauge.edge > 0.0
    assert gauge.kind.words
    assert gauge.kind.how


def test_a_study_of_kept_buttons_betters_clean_edges_only():
    good = studied_gauge("K2", GaugeKind.CALLIPER, 0.03e-3, 0.05e-3, "10 buttons")
    assert (good.edge, good.reader) == (0.03e-3, 0.05e-3)
    assert good.face == CALLIPER_FACE


def test_a_study_that_finds_a_poor_gauge_counts_everywhere():
    poor = studied_gauge("K3", GaugeKind.CALLIPER, 0.4e-3, 0.3e-3, "10 buttons")
    assert (poor.edge, poor.face, poor.reader) == (0.4e-3, 0.4e-3, 0.3e-3)


@pytest.mark.parametrize(
    ("spread", "key"), [(float("nan"), "edge"), (3e-3, "edge"), (-1.0, "edge")]
)
def test_a_spread_no_gauge_has_is_refused(spread: float, key: str):
    with pytest.raises(BadInput) as refused:
        studied_gauge("K2", GaugeKind.LOUPE, spread, 0.1e-3, "study")
    assert refused.value.key == "edge"


def test_a_gauge_needs_a_name_and_a_known_kind():
    with pytest.raises(BadInput, match="written on the gauge"):
        studied_gauge(" ", GaugeKind.LOUPE, 1e-4, 1e-4, "study")
    with pytest.raises(BadInput, match="none of: calliper"):
        find_gauge_kind("eye")
