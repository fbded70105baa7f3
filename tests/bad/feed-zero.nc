(feed-missing)
G21
G90
G0 X60. Y0.
G0 Z30.
G1 X50. F0
M2
