(number-missing)
G21
G90
G0 X Y1.
M2
