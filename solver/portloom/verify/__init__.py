"""What proves our own plans: a plan laid again from its legs and judged once more, without the search."""
