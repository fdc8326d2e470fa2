"""Lines of a post that say nothing of a plan: a greeting, a question, a heading."""

import re

TALK = frozenset({
    "a", "about", "advance", "all", "and", "any", "anybody", "anyone", "are", "at", "be", "been", "before", "bike",
    "bike's", "can", "check", "cheers", "comments", "could", "do", "does", "everybody", "everyone", "far",
    "feedback", "first", "folks", "for", "from", "go", "good", "greetings", "guys", "have", "hello", "help", "here",
    "here's", "hey", "hi", "how", "i", "i've", "ideas", "if", "in", "is", "it", "it's", "let", "look", "looks",
    "me", "my", "new", "of", "ok", "okay", "on", "opinions", "our", "out", "over", "plan", "please", "post",
    "posted", "posts", "right", "s", "see", "so", "some", "someone", "sound", "thank", "thanks", "the", "there",
    "think", "this", "thoughts", "to", "unit", "us", "ve", "we", "welcome", "what", "what's", "will", "wiring",
    "with", "would", "you", "your",
})  # fmt: skip
"""Words of a line that says nothing of a plan."""
NUMBER_OF_WAYS = re.compile(r"\b(?:\d{1,3}|six|eight|ten|eleven|twelve)[ -]?way\b", re.IGNORECASE)


def is_talk(text: str) -> bool:
    """Tell whether a line says nothing of a plan: a greeting, a question, a heading."""
    text = NUMBER_OF_WAYS.sub("", text)
    words = re.findall(r"[^\W_]+(?:-way\b|['’]\w+)?", text.casefold())
    return not re.search(r"[:=>→]\s*\S", text) and all(
        word in TALK or word.replace("’", "'") in TALK or word.endswith("-way") for word in words
    )
