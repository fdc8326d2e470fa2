"""Plans: what people and programs are told of an assignment, every figure worked out from its legs."""
