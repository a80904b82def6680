"""Questions that ask evaluate() many times: comparison, ore map, find one number, why a groove overturns."""
