(code-refused)
G21
G91
G53 G0 Z0.
M2
