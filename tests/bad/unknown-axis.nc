(axis-unknown)
G21
G90
G0 B10.
M2
