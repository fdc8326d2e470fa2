"""The usual cautions, on every plan and sheet."""

CAUTIONS: tuple[str, ...] = (
    "Battery off first: take the negative lead off before any work, and put it back last.",
    "Main fuse at the battery: within 178 mm of it, 1,016 mm where the feed is sheathed all the way (33 CFR 183.455).",
    "Never defeat a lighting, brake or engine-stop circuit to make a plan fit.",
    "A plan is no approval: local codes and licensed practice have the last word. Test every circuit "
    "before the bike is ridden.",
)
