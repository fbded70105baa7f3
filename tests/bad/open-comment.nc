(comment-open)
G21
G90 (absolute
M2
