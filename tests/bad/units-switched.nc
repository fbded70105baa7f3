(units-switched)
G21
G90
G0 X1.
G20
M2
