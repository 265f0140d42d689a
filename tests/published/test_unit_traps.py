"""Units that look alike and are not (verification: exact definitions).

Sources: SI brochure (9th ed., minute, bar, standard gravity in table 8 and resolution 2 of the
3rd CGPM); NIST SP 811 (2008), appendix B: inch, foot, pound, pound-force, ksi; a mains cycle is
the inverse of the mains frequency by definition.
"""

import pytest

from buttonhole.units import BadInput, cycles, parse


def test_ten_cycles_of_60_hz_are_8_33_of_50_hz() -> None:
    # 10 / 60 s, printed as 166.667 ms; to half of the last digit
    seconds = parse("10 cycles@60Hz", "time")
    assert seconds * 1e3 == pytest.approx(166.667, abs=0.0005)
    assert cycles(seconds, 50.0) == pytest.approx(8.333, abs=0.0005)
    assert parse("10 cycles@50Hz", "time") == pytest.approx(0.2, rel=1e-15)


def test_cycles_without_a_frequency_are_refused() -> None:
    with pytest.raises(BadInput, match="mains frequency"):
        parse("10 cycles", "time")


def test_kgf_is_not_dan() -> None:
    # kgf = 9.80665 N exactly, daN = 10 N exactly
    assert parse("1 kgf", "force") == 9.80665
    assert parse("1 daN", "force") == 10.0
    assert parse("225 kgf", "force") != pytest.approx(parse("225 daN", "force"), rel=0.01)


def test_pound_force() -> None:
    # NIST SP 811 B.8: 1 lbf = 4.448222 N (seven digits)
    assert parse("1 lbf", "force") == pytest.approx(4.448222, abs=5e-7)
    # The optimum chart's 412 lbf is its 1.833 kN
    assert parse("412 lbf", "force") == pytest.approx(1833, abs=0.5)


def test_cubic_feet_per_hour() -> None:
    # (0.3048 m)^3 / 3600 s = 0.4719 l/min, exact definition of the foot
    assert parse("1 cfh", "flow") / parse("1 l/min", "flow") == pytest.approx(0.4719, abs=5e-5)


def test_seventy_ksi() -> None:
    # NIST SP 811 B.8: 1 ksi = 6.894757 MPa
    assert parse("70 ksi", "stress") == pytest.approx(482.6e6, abs=0.05e6)
    assert parse("1 psi", "pressure") == pytest.approx(6894.757, abs=5e-4)


def test_inch_per_minute() -> None:
    assert parse("100 ipm", "speed") == pytest.approx(parse("2.54 m/min", "speed"), rel=1e-15)
