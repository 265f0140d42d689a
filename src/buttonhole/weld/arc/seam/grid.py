"""Plain numbers the kernels of the seam share: codes of the cells and columns of the records.

Cells lie in arrays of shape (nx + 2, nz + 2, ny + 2): one empty cell on every side, so that no
kernel asks whether a neighbour is there. x runs along the seam, z up from the back, y across.
"""

# what a cell is made of; sheets count from the one at the back
VOID = -1  # air that the arc and the losses see
ENCLOSED = -2  # air between two sheets
LOWER = 0  # lower sheet of a lap, backing strip of a butt
UPPER = 1  # upper sheet of a lap, sheet on the torch's left of a butt
RIGHT = 2  # sheet on the other side of a butt
DEPOSIT = 3  # what came from the wire

# columns of the path: the arc goes straight from one row to the next
AT, X, Y, Z, LIT = 0, 1, 2, 3, 4  # s, m, m, m, 1 where the arc burns until the next row

# columns of the bead's outline in a slice
# ends and crown [m], ways along the joint's surface to the ends [m]
Y_LEFT, Z_LEFT, Y_RIGHT, Z_RIGHT, CROWN, WAY_LEFT, WAY_RIGHT = 0, 1, 2, 3, 4, 5, 6

# numbers that say how a march is done, in this order
(
    SIGMA, FINGER_SHARE, FINGER_RADIUS, FINGER_DEPTH, EDGE_SHARE, WET_TEMPERATURE, SPLAT,
    CONVECTION, AMBIENT, STEP_LENGTH, LONGEST_ARC_STEP, COOLING_GROWTH, LONGEST_STEP,
    STOP_BELOW, LONGEST_COOLING, FASTEST_RATE, GAP_SCALE, RESTS_AT, FLATTEST, REACH,
) = range(20)  # fmt: skip

# books of a march [J]
ARC, DROPLETS, LOST = 0, 1, 2
