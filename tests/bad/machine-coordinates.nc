(code-refused)
G21
G90
G53 G0 Z0
M2
