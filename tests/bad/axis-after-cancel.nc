(axis-without-motion)
G21
G90
G0 X1.
G80
X2.
M2
