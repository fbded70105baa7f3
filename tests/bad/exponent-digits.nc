(word-unused)
G21
G90
G0 X1.E3
M2
