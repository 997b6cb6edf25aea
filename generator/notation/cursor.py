"""A place in a line's tokens, with the few ways the reader looks ahead. Nothing is consumed unless taken."""

from generator.notation.tokens import Token
from generator.source import Span

END = Token("end", "", 0, 0)
MOST_SKIPPED = 24
"""Little words in a row; a line of nothing else would be gone through from each of them."""
_OPEN = {"(": ")", "[": "]", "{": "}"}


class Cursor:
    """Tokens from `i` to `end` (exclusive); everything past is END."""

    __slots__ = ("end", "i", "tokens")

    def __init__(self, tokens: list[Token], i: int = 0, end: int | None = None) -> None:
        self.tokens = tokens
        self.i = i
        self.end = len(tokens) if end is None else end

    def peek(self, ahead: int = 0) -> Token:
        """The token `ahead` places on."""
        at = self.i + ahead
        return self.tokens[at] if at < self.end else END

    def done(self) -> bool:
        """Nothing is left."""
        return self.i >= self.end

    def take(self) -> Token:
        """The token here; moves past it."""
        at = self.i
        self.i = at + 1
        return self.tokens[at] if at < self.end else END

    # The next few are asked a hundred times a line, so each looks for itself.
    def word(self, *values: str, ahead: int = 0) -> bool:
        """Whether the token `ahead` is one of these canonical words."""
        at = self.i + ahead
        if at >= self.end:
            return False
        token = self.tokens[at]
        return token.value in values and token.type == "word"

    def sign(self, *values: str, ahead: int = 0) -> bool:
        """Whether the token `ahead` is one of these signs."""
        at = self.i + ahead
        if at >= self.end:
            return False
        token = self.tokens[at]
        return token.value in values and token.type == "sign"

    def said(self, *values: str) -> bool:
        """Take the token here if its text is one of these, known word or not."""
        token = self.peek()
        if token.type in ("word", "other", "sign") and token.value in values:
            self.i += 1
            return True
        return False

    def sequence(self, *values: str) -> bool:
        """Take a row of words if all of them are here."""
        at = self.i
        for value in values:
            if at >= self.end:
                return False
            token = self.tokens[at]
            if token.value != value or token.type not in ("word", "other"):
                return False
            at += 1
        self.i = at
        return True

    def skip_words(self, *values: str) -> None:
        """Pass over any of these words, as far as a sentence ever has them one after the other."""
        for _ in range(min(self.end - self.i, MOST_SKIPPED)):
            token = self.tokens[self.i]
            if token.value not in values or token.type not in ("word", "other"):
                return
            self.i += 1

    def span(self, start: int) -> Span:
        """From the token at index `start` to the last one taken."""
        if start >= self.end and start > 0:
            return Span(self.tokens[start - 1].end, self.tokens[start - 1].end)
        last = max(start, min(self.i, len(self.tokens)) - 1)
        return Span(self.tokens[start].start, self.tokens[last].end)

    def closing(self) -> int | None:
        """Index of the bracket that closes the one here; None if it is never closed."""
        depth: list[str] = []
        for at in range(self.i, self.end):
            token = self.tokens[at]
            if token.type != "sign":
                continue
            if token.value in _OPEN:
                depth.append(_OPEN[token.value])
            elif depth and token.value == depth[-1]:
                depth.pop()
                if not depth:
                    return at
        return None

    def inside(self, close: int) -> "Cursor":
        """A cursor over what stands between the bracket here and its closing one."""
        return Cursor(self.tokens, self.i + 1, close)
