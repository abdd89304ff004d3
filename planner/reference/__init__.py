"""What is written from the models for readers of the files: JSON Schemas and the rule reference."""
