"""Several bikes on several units: a row each, ranked; headroom; rows kept in a file."""
