(code-refused)
G21
G28
M2
