"""Reading: header (`header`), working lines (`tokens`, `parse`), typing slips (`slips`) into the tree (`tree`)."""
