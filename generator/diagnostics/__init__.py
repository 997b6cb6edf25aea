"""What is said to the writer (`record`) and, at the edges only, how it is shown (`terminal`, `panel`, `lines`)."""
