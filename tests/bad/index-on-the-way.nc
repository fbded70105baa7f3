(index-while-moving)
G21
G90
G0 X60. Y0. A0.
G0 Z40.
G0 X50. A60.
M2
