"""Names of the rows of the arrays the kernels share; one array holds many fields of one shape.

Sources: our own.
"""

# fields over the cells, shape (CELL_FIELDS, nz, nr)
ENTHALPY, TEMPERATURE, CONDUCTIVITY, RESISTIVITY, VOLUME, HEAT, PEAK, BEFORE = range(8)
CAPACITY, GAIN, TRIAL, CHANGE, RATIO, AT_800, AT_500, UP_500, UP_700 = range(8, 17)
CELL_FIELDS = 17

# numbers of the model, shape (CLOSURE,)
(
    ARC_HEAT, SPREAD, SPREAD_RISE, RIM_SHARE, RIM_LENGTH, CONTACT, WETS, SPLAT, PILE, LOSSES,
    BACK_FILM,
) = range(11)  # fmt: skip
CLOSURE = 11

# sums over the weld, shape (SUMS,)
FROM_ARC, FROM_DROPS, LOST, CROSSED, LAID, FILLED_AT = range(6)
SUMS = 6

# what marching ended with
DONE, NOT_FINITE, TOO_MANY_STEPS, NO_ROOM = range(4)
