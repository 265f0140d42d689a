"""Arc welding with wire and gas: wire, gas, machine map, plug, seam, braze."""
