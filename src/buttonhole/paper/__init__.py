"""Cards and sheets that hang in the bay, and the pictures shown on screen and on paper."""
