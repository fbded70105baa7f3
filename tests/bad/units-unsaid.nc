(units-unsaid)
G90
G0 X1.
M2
