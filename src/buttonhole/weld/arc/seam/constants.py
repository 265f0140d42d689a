"""Numbers of the seam model that no handbook gives, with how well each is known.

Prior values and spreads: common practice, no source, unless a line says otherwise.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SeamConstants:
    """What the model of a seam takes for granted; without losses it meets closed forms."""

    # m, standard deviation of the arc's heat across its axis at 100 A; for the 1.5 to 2 mm arc of
    # dip transfer (tsai-eagar-1985, from memory)
    sigma: float = 1.5e-3  # m
    finger_share: float = 0.4  # -, of the arc's heat that goes deeper along the axis, at 100 A
    finger_radius: float = 1.2e-3  # m, its standard deviation across the axis
    finger_depth: float = 1.0e-3  # m, its standard deviation along the axis
    edge_attachment: float = 0.5  # -, 0 to 1: how much an open gap draws the arc to the edge
    splat: float = 1.0e-3  # m, standard deviation along the seam of where droplets land
    below_solidus: float = 50.0  # K, how far under its solidus a face is wetted by its own metal
    contact: float = 4e3  # W/m2/K, between clamped sheets
    stirring: float = 4.0  # -, factor on the conductivity of the melt
    convection: float = 10.0  # W/m2/K
    emissivity: float | None = None  # -, None: the sheet's own
    evaporation: bool = True
    # deg, angle at which melt comes to rest on cold metal; steeper runs on (schiaffino-sonin-1997,
    # from memory; beads of dip transfer, a third as high as wide, have it too)
    rests_at: float = 55.0  # deg
    flattest: float = 0.05  # -, hollow over width; flatter draws in
    gap_air: float = 0.06  # W/m/K, conductivity of hot air


SEAM = SeamConstants()

# What is known least: the factor one standard deviation away, in a lognormal sense; judged, after
# the spread of published arc efficiencies and of the priors above.
SPREADS = {
    "power": 0.05,  # efficiency 0.84 +/- 0.04
    "sigma": 0.15,
    "finger_share": 0.35,
    "contact": 0.8,
    "stirring": 0.4,
}
