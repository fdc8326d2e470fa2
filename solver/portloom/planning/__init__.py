"""The job from end to end: a bike and its units go in, a proven best plan that passed its check comes out."""
