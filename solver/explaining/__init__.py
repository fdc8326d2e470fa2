"""Explaining: why nothing fits, in trade language, each claim with its proof."""
