"""The colours of wires as a question: which lie together, what tells them apart, and how good an answer is."""
