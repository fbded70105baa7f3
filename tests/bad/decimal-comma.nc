(decimal-comma)
G21
G90
G0 X1.,5
M2
