import numpy as np
import pytest

from buttonhole.learning.spot_surrogate import spot_point, spot_surrogate
from buttonhole.learning.surrogate import (
    Runs,
    fitted,
    from_square,
    powers,
    spread_points,
    terms,
    to_square,
)
from buttonhole.units import BadInput
from buttonhole.weld.spot.emulator import at_once
from tests.learning.made import THIN, THIN_SET, joint, set_up


def test_terms_are_all_products_up_to_the_third_degree() -> None:
    x = np.array([[2.0, 3.0]])
    wanted = [np.prod([x[0, i] for i in one]) for one in powers(2)]
    assert terms(x)[0] == pytest.approx(wanted)
    assert len(powers(5)) == 56


def test_a_cubic_is_fitted_exactly() -> None:
    x = spread_points(100, (-1.0, 0.0), (1.0, 2.0))
    y = np.column_stack([x[:, 0] ** 3 - x[:, 1], x[:, 0] * x[:, 1] ** 2, x[:, 0]])
    none = np.zeros_like(y, bool)
    found = fitted(
        ("a", "b"), (-1.0, 0.0), (1.0, 2.0), 1, Runs(x, y, none, none), melt_spread=lambda e: e + 1
    )
    other = spread_points(20, (-1.0, 0.0), (1.0, 2.0), seed=2)
    assert found.at(other)[:, 0] == pytest.approx(other[:, 0] ** 3 - other[:, 1], abs=1e-9)
    assert (found.error < 1e-9).all()


def test_a_run_that_is_only_a_bound_pulls_one_way() -> None:
    x = np.linspace(-1.0, 1.0, 200)[:, None]
    y = np.maximum(x, 0.0)  # below nothing it only shows that it is not above
    values = np.column_stack([y[:, 0]] * 3)
    most = values <= 0.0
    found = fitted(
        ("a",), (-1.0,), (1.0,), 1, Runs(x, values, most, np.zeros_like(most)),
        melt_spread=lambda e: e,
    )  # fmt: skip
    assert found.at(np.array([[0.5]]))[0, 0] == pytest.approx(0.5, abs=0.02)
    assert found.at(np.array([[-0.5]]))[0, 0] < 0.02


def test_squares_go_there_and_back() -> None:
    size = np.array([-1e-3, 0.0, 0.5e-3, 1e-3, 3e-3, 8e-3])
    assert from_square(to_square(size)) == pytest.approx(size)


def test_spot_surrogate_follows_the_emulator() -> None:
    """Held-out welds, drawn anew, within the errors the surrogate owns up to."""
    own = joint("thin").surrogate
    assert own.trusted
    chance, off = np.random.default_rng(9), []
    for _ in range(20):
        tried = set_up(
            7.5e3 * np.exp(chance.uniform(-0.2, 0.3)),
            0.2 * np.exp(chance.uniform(-0.3, 0.3)),
            2.5e3 * np.exp(chance.uniform(-0.2, 0.2)),
        )
        said = at_once.quick(THIN, tried).interfaces[0].nugget_diameter.value
        off.append(own.at(spot_point(tried, THIN, THIN_SET))[0] - said)
    assert np.sqrt(np.mean(np.square(off))) < 3.0 * own.error[0]


def test_more_current_and_time_grow_it_and_more_force_does_not() -> None:
    own = joint("strong").surrogate
    at = own.at(np.zeros(5))
    for i, sign in ((0, 1.0), (1, 1.0), (3, -1.0)):  # a wider face the least
        moved = np.zeros(5)
        moved[i] = 0.1
        assert sign * (own.at(moved)[0] - at[0]) > 0.01e-3, own.inputs[i]
    assert own.at(np.array([0.25, 0, 0, 0, 0]))[2] > at[2]  # splashes sooner


def test_interfaces_are_kept_apart() -> None:
    own = joint("three").surrogate
    assert own.interfaces == 2
    assert own.figures == 6
    assert own.place("spoil") == 4


def test_a_set_up_that_never_melts_is_refused() -> None:
    with pytest.raises(BadInput, match="melt"):
        spot_surrogate(THIN, set_up(1.5e3, 0.05, 6e3))
