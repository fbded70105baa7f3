(code-refused)
G21
G43 H1
M2
