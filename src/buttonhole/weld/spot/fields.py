"""Names of the rows of the arrays the kernels share; one array holds many fields of one shape.

And the two numbers that kernels and Python share.

Sources: our own.
"""

# fields over the cells, shape (CELL_FIELDS, nz, nr)
ENTHALPY, TEMPERATURE, CONDUCTIVITY, RESISTIVITY, VOLUME, HEAT, POTENTIAL, PEAK = range(8)
CAPACITY, GAIN, TRIAL, CHANGE, RATIO = range(8, 13)
SOLVER = 13  # seven for the potential solver
AT_OFF = 20  # temperature when the current went off
CELL_FIELDS = 21

# fields over the contacts, shape (CONTACT_FIELDS, contacts, nr)
SHARE, FILM, CONDUCTANCE, HOTTEST, DENSITY = range(5)
CONTACT_FIELDS = 5

# end planes, shape (END_FIELDS, nr)
END_FIELDS = 4

# facts about each contact, shape (contacts, CONTACT_FACTS); all contacts of the whole stack-up
COLD_FILM, HALO, MELTS, DEPTH_A, DEPTH_B, FORCE, NARROWED, ZINC = range(8)
CONTACT_FACTS = 8

# facts about each cap, shape (2, CAP_FACTS)
FACE, DOME, BODY, OUTER_SHEET, DEPTH, RADIUS = range(6)
CAP_FACTS = 6

# the constants, in the order of constants.ContactConstants
(
    FILM_SHEET, FILM_CAP, FILM_EXPONENT, CONDUCT_SHEET, CONDUCT_CAP, CONDUCT_EXPONENT,
    SHAPE, SPREAD, SINK_RATE, SINK_EXPONENT, SINK_RING, BLUR, WATER, RIM,
) = range(14)  # fmt: skip

# columns of the record, one row a step with the current programme running
R_TIME, R_CURRENT, R_RESISTANCE, R_NUGGET = range(4)  # then one diameter for each interface

# what is found at each interface, shape (interfaces, FINDINGS)
WIDEST, WIDEST_IS_FULL, DEEPEST_A, DEEPEST_B, AT_800, AT_500, LAST_AXIS = range(7)
LOAD, AT_LIMIT, MELT, MELT_HEAT = range(7, 11)  # the last two of the step before
FINDINGS = 11

# what is kept of each faying interface over its rings, shape (interfaces, FACE_FIELDS, nr)
(
    F_LAST, F_HOTTEST, F_MELTED_AT, F_FROZEN_AT, F_AT_500, F_AT_700, F_CLOSED, F_REACH,
) = range(8)  # fmt: skip
FACE_FIELDS = 8
CREEP = 5.0  # - exponent by which asperities creep flat, that of the sinking cap; judged, no source
STENCIL = 4  # cells a temperature is read from where somebody wants its course

# sums and greatest values over the weld, shape (SUMS,)
RELEASED, CROSSED = range(2)  # J
SET, GIVEN, PASSED = range(2, 5)  # A2 s: squared current as set, from the machine, through the weld
SKIN_A, SKIN_B = range(5, 7)  # degC, hottest face under each cap
WORKED = 7  # cells times steps
SUMS = 8

# what feeds the weld and cools it, shape (FEED,)
SUPPLIED, REGULATED = range(2)  # yes 1, no 0
OPEN, NOMINAL, DIODE = range(2, 5)  # V: at the mains there are, at those the machine is made for
LOOP, REACTANCE, LEAD, REFERENCE = range(5, 9)  # ohm
PATH, FACTOR, NEAR, FAR = range(9, 13)  # ohm (0: no shunt), -, m, m
OUTSIDE = 13  # degC beyond the caps
FEED = 14

# what marching ended with
DONE, NOT_FINITE, TOO_MANY_STEPS = range(3)

# Load on the ring round a nugget at which every second weld splashes [-]. Judged: published
# schedules come to 0.2 to 0.65, the upper ends of the guideline currents of ISO 14373 for bare
# sheet to 0.5 to 0.7; the balance itself would say 1, for a ring pressed evenly all round.
OPENS_AT = 0.70
MELTING_GROWTH = 0.036  # - of volume when steel melts; 7280 to 7030 kg/m3, from memory
