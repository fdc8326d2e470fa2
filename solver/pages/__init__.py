"""Pages for screen and print: self-contained HTML that needs no network and no script."""
