"""Write in any editor; the browser shows the pattern as it will be, a blink after each save.

`watch` notices saves, `desk` works out what they change, `serve` answers the browser. The pages are the bytes that
`publish` would write, plus one script.
"""
