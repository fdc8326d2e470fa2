"""How one plan differs from another: two documents of plans go in, what a fitter must change comes out."""
