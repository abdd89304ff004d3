"""What commands print: tables and sentences for the terminal."""
