"""What is given out: documents from answers, pictures from values, and both on paper."""
