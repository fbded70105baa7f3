(code-refused)
G21
G41 D1
M2
