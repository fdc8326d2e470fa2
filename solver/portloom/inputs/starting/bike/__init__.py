"""What is asked of a bike's builder, and the lines of the bike's file that the answers write."""
