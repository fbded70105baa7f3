(group-twice)
G21
G90
G0 G1 X1.
M2
