"""Pages over the jobs: the fields of a question, and the widgets that show it."""
