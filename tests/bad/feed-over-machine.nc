(feed-over-machine)
G21
G90
G0 X60. Y0.
G0 Z40.
G1 X50. F1600
M2
