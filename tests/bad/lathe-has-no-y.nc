(axis-unknown job: pedal-pin-pentagon-lathe)
G21
G90
G0 X100. Y0.
M2
