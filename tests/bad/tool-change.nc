(code-refused)
G21
T2 M6
M2
