"""What a file leaves out and its parts bring; what must be asked because nobody else can know it."""
