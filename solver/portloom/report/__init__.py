"""What people see: text for the screen, HTML pages, SVG pictures, and the folder that holds them."""
