"""Compiled kernel: the mean square of the welding current over a time step.

Derived, no source: arithmetic.
"""

import math

import numba

# columns of the table of segments: each is a straight piece of the rms current
BEGIN, END, FIRST, LAST = 0, 1, 2, 3  # s, s, A, A


@numba.njit(cache=True)
def mean_square(segment, begin, end, frequency):
    """Mean of the squared current [A2] from ``begin`` to ``end`` [s] inside one segment.

    ``frequency`` [Hz] of the mains, 0 for direct current. A half wave starts with the segment; on
    a slope the sine's square is averaged apart from the slope, which differs in the third order.
    """
    span = segment[END] - segment[BEGIN]
    slope = (segment[LAST] - segment[FIRST]) / span
    a = segment[FIRST] + slope * (begin - segment[BEGIN])
    b = segment[FIRST] + slope * (end - segment[BEGIN])
    square = (a * a + a * b + b * b) / 3.0
    if frequency == 0.0:
        return square
    w = 4.0 * math.pi * frequency
    x, y = w * (begin - segment[BEGIN]), w * (end - segment[BEGIN])
    return square * (1.0 - (math.sin(y) - math.sin(x)) / (y - x))
