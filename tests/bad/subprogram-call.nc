(code-refused)
G21
M98 P100
M2
