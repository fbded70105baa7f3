(start-unknown)
G21
G91
G0 X60.
M2
