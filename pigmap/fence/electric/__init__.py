"""What a fence of nets carries: a first-order estimate, which a meter overrules."""
