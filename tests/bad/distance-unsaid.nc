(distance-unsaid)
G21
G0 X1.
M2
