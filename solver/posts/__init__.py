"""Plans as people post them: YAML, CSV, a Markdown table or plain lines, to who is on which port."""
