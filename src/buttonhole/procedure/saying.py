"""Figures as they stand in reasons: SI in, the shop's units out."""


def kn(force: float) -> str:
    """Write an electrode force, ``force`` [N], in kN."""
    return f"{force / 1e3:.2f} kN"


def ka(current: float) -> str:
    """Write a current, ``current`` [A], in kA."""
    return f"{current / 1e3:.1f} kA"


def ms(time: float) -> str:
    """Write a time, ``time`` [s], in ms."""
    return f"{time * 1e3:.0f} ms"


def mm(length: float) -> str:
    """Write a length, ``length`` [m], in mm."""
    return f"{length * 1e3:.2f} mm"


def share(part: float) -> str:
    """Write a probability, ``part`` [-], in per cent; what is nearly sure is never called sure."""
    if 0.0 < part < 0.01:
        return "under 1 %"
    if 0.99 < part < 1.0:
        return "over 99 %"
    return f"{part * 100:.0f} %"
