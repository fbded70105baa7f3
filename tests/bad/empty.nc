(end-missing)
