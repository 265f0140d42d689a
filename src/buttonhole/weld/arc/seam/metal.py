"""The metals of a seam are those of any arc weld, under the name they have here."""

from buttonhole.weld.arc.metal import ALUMINIUM, COPPER, IRON, Vapour, steel_metal
from buttonhole.weld.arc.metal import ThermalMetal as SeamMetal

__all__ = ["ALUMINIUM", "COPPER", "IRON", "SeamMetal", "Vapour", "steel_metal"]
