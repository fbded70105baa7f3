(expression-or-parameter)
G21
G90
G0 X[1+2]
M2
