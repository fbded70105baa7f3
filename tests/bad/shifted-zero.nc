(code-refused)
G21
G92 X0.
M2
