"""Questions that ask evaluate() many times: comparison, ore map, one number asked backwards, why a groove overturns."""
