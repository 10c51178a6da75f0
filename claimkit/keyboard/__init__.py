"""What is asked at a keyboard and becomes a record: questions, answers, and what is measured."""
