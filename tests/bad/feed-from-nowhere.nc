(start-unknown)
G21
G90
G1 X60. Y0. Z40. F100
M2
