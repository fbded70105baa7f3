(number-malformed)
G21
G90
G0 X1.2.3
M2
