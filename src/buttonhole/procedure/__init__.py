"""From a stack-up to leave to weld: authority, machine, proposed set-up, release with an end."""
