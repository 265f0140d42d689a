"""Photos of torn welds: the printed card, the camera, the rectified picture, diameters."""
