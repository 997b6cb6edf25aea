"""The designer's manual beside the patterns: what can be written, and a page for every rule.

Made only where the studio has a page of its own called `help`; that page gets the list, the others stand under it.
Everything is read off the reader's vocabulary and the rules themselves.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator.checks.run import RULES
from generator.pages import help as pages
from generator.pages.studio import Post

SLUG = "help"
WRITING = "what-you-can-write"


@dataclass(frozen=True, slots=True)
class Guide:
    """The studio's pages with the list of help in place, and the help pages themselves."""

    prose: tuple[Post, ...]
    posts: tuple[Post, ...] = ()


def guide(prose: Sequence[Post]) -> Guide:
    """The manual for a studio that wants one."""
    if not any(post.slug == SLUG for post in prose):
        return Guide(tuple(prose))
    rules = [
        pages.rule_help(rule.name, rule.severity, rule.module.__doc__ or "", rule.bad, rule.good) for rule in RULES
    ]
    listed = _body(pages.rules_markdown(rules, f"{SLUG}/{{rule}}.html"))
    more = f"\n\n[What you can write]({SLUG}/{WRITING}.html): every form that is read, with examples.\n\n{listed}"
    writing = Post(WRITING, "What you can write", _body(pages.writing_markdown()))
    return Guide(
        tuple(replace(post, body=post.body.rstrip() + more) if post.slug == SLUG else post for post in prose),
        (writing, *(Post(page.rule, page.rule, _body(pages.rule_markdown(page))) for page in rules)),
    )


def _body(markdown: str) -> str:
    """Markdown without its first heading, which the page prints itself."""
    return markdown.partition("\n")[2].lstrip()
