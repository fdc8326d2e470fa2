"""The catalogue of parts: what a thing is, by what words it is known, and what follows from that.

Everything that speaks of parts reads this table. Where nothing else is said: common practice, no source.
"""
