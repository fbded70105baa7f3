(code-refused)
G21
G90
G81 X1. Z-1. R1. F50
M2
