"""Criteria: where their figures come from and what they give."""

from dataclasses import replace

import pytest

from buttonhole.coupon.criterion import (
    criteria,
    find_criterion,
    maker_criterion,
    minimum_diameter,
    minimum_force,
    own_criterion,
)
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.sources import Status, bibliography
from buttonhole.units import BadInput


def stack(*thickness: float) -> StackUp:
    return StackUp(tuple(Sheet(find_steel("DC04"), t * 1e-3) for t in thickness))


def test_what_is_from_memory_stays_editable() -> None:
    memory = [c for c in criteria() if c.status is Status.MEMORY]
    assert memory
    assert all(c.editable and c.cautions for c in memory)
    with pytest.raises(BadInput, match="memory"):
        replace(memory[0], editable=False)


def test_every_source_stands_in_the_bibliography() -> None:
    assert {c.source for c in criteria()} <= set(bibliography())


def test_keys_are_unlike() -> None:
    keys = [c.key for c in criteria()]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize(
    ("key", "limits"),
    [
        ("4-root-t", (3.35, 4.38)),
        ("4.5-root-t", (3.76, 4.93)),
        ("5-root-t", (4.18, 5.48)),
        ("aws-d8.1m", (4.38, 4.38)),  # the second thickest governs both
    ],
)
def test_limits_of_three_sheets(key: str, limits: tuple[float, float]) -> None:
    on = stack(0.7, 1.2, 1.6)
    found = [minimum_diameter(find_criterion(key), on, face) * 1e3 for face in on.interfaces]
    assert [round(d, 2) for d in found] == list(limits)


def test_the_slug_column_ends_where_it_is_printed() -> None:
    slug = find_criterion("bs-1140-slug")
    with pytest.raises(BadInput, match="BS 1140"):
        minimum_diameter(slug, stack(0.5, 0.5), 0)
    assert minimum_diameter(slug, stack(1.0, 1.0), 0) * 1e3 == pytest.approx(5.0, abs=0.06)


def test_unknown_key_lists_the_keys() -> None:
    with pytest.raises(BadInput, match="4-root-t"):
        find_criterion("4-root")


def test_a_force_criterion_goes_by_the_thinner_sheet() -> None:
    rule = find_criterion("aws-c1.1-shear")
    assert minimum_force(rule, stack(0.8, 1.5), 0) == minimum_force(rule, stack(0.8, 0.8), 0)
    with pytest.raises(BadInput, match="force"):
        minimum_diameter(rule, stack(0.8, 0.8), 0)
    with pytest.raises(BadInput, match="diameter"):
        minimum_force(find_criterion("4-root-t"), stack(0.8, 0.8), 0)


def test_a_criterion_of_ones_own_says_why() -> None:
    assert minimum_diameter(own_criterion(4.0, "as agreed"), stack(1.0, 1.0), 0) == pytest.approx(
        4.0e-3
    )
    with pytest.raises(BadInput, match="reason"):
        own_criterion(4.0, " ")
    with pytest.raises(BadInput, match="factor"):
        maker_criterion("manual 1")
    with pytest.raises(BadInput, match="document"):
        maker_criterion(" ", factor=4.0)
    with pytest.raises(BadInput, match="interface"):
        minimum_diameter(own_criterion(4.0, "as agreed"), stack(1.0, 1.0), 1)
