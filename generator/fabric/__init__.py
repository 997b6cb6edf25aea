"""Working: the tree is worked stitch by stitch on a live edge (`edge`, `work`) into a fabric (`model`)."""
