(axis-without-motion)
G21
G90
X1.
M2
