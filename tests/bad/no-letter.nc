(number-malformed)
G21
G90
12 G0 X1.
M2
