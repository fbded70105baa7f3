(word-unused)
G21
G90
G0 X1. P5
M2
