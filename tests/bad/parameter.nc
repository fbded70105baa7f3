(expression-or-parameter)
G21
G90
#1=5
G0 X#1
M2
