"""Forms: generated from the fields of a record, one group of them open at a time."""
