(code-unknown)
G21
G123
M2
