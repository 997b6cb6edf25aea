"""The designer's manual is made where the studio asks for it, and its links lead somewhere."""

import re

from generator.checks.run import RULES
from generator.pages.studio import Post
from generator.publish.guide import guide

ABOUT = Post("about", "About", "We are here.")
HELP = Post("help", "Help", "Words of our own.\n")


def test_no_help_page_no_manual() -> None:
    made = guide([ABOUT])
    assert made.prose == (ABOUT,) and made.posts == ()


def test_every_rule_has_its_page_and_is_listed() -> None:
    made = guide([ABOUT, HELP])
    assert made.prose[0] == ABOUT
    body = made.prose[1].body
    assert body.startswith("Words of our own.")
    linked = set(re.findall(r"\(help/([\w-]+)\.html\)", body))
    assert linked == {post.slug for post in made.posts}
    assert {rule.name for rule in RULES} < linked
    assert len({post.slug for post in made.posts}) == len(made.posts)


def test_pages_leave_their_title_to_the_page() -> None:
    for post in guide([HELP]).posts:
        assert not post.body.startswith("#") or post.body.startswith("## ")
        assert post.title and post.body
