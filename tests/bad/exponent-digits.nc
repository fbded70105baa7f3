(word-unused)
G21
G90
G0 X1E3
M2
