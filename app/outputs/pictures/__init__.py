"""Values in, scenes out: boxes, lines, hatches, words and shapes that window, paper and command line paint alike."""
