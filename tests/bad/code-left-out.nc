(code-not-on-control job: valve-cap-triangle)
G21
G40
M2
