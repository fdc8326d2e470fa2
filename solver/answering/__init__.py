"""An answer to a posted plan: from its text to what is wrong, what is sound, and what would mend it."""
