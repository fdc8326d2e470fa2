"""The independent check: a plan laid again from its own legs, and every rule judged once more."""
