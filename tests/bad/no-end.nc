(end-missing)
G21
G90
G0 X60. Y0.
G0 Z40.
