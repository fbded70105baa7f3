(number-missing)
G21
G90
G0 X1.E
M2
