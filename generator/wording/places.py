"""Where stitches go, in words: `next 3 sts`, `each dc around`, `2nd ch from hook`, `next ch-2 sp`."""

from dataclasses import dataclass, replace
from typing import assert_never

from generator.notation.tree import How, Loop, Noun, Target
from generator.wording.numbers import ordinal, ordinal_word
from generator.wording.voice import Voice

LOOP_TERMS = {Loop.FRONT: "front-loop", Loop.BACK: "back-loop", Loop.THIRD: "third-loop"}
POST_TERMS = {Loop.FRONT_POST: "front-post", Loop.BACK_POST: "back-post"}


@dataclass(frozen=True, slots=True)
class Scene:
    """What is being written: by whom, in rounds or rows."""

    voice: Voice
    rows: bool = False
    inside: bool = False
    """In brackets: no further asterisk."""
    in_place: bool = False
    """In a group: the place is said once, after the brackets."""
    all_sc: bool = False
    """No other stitch has been worked in the part so far, so that `inc` can only be two single crochet in one."""

    @property
    def end(self) -> str:
        """`around` or `across`."""
        return self.voice.term("across" if self.rows else "around")

    def course(self, n: int = 1) -> str:
        """The word for a round or a row, or several."""
        return self.voice.term("row" if self.rows else "round", n)

    def nth(self, n: int) -> str:
        """`2nd`, or `second` where everything is written out."""
        return ordinal_word(n) if self.voice.whole else ordinal(n)


def thing(target: Target, n: int, voice: Voice) -> str:
    """What kind of place it is, one or several."""
    match target.noun:
        case Noun.STITCH:
            return voice.stitch(target.kind, n) if target.kind else voice.term("stitch", n)
        case Noun.SPACE:
            return space(target, n, voice)
        case Noun.CHAIN:
            return voice.chains(n)
        case Noun.PLACE:
            return voice.term("place", n)
        case Noun.RING:
            # Never `MR`: that is also read as a colour's initials.
            return voice.language.terms[target.kind].name if target.kind else voice.term("ring", n)
        case Noun.GAP:
            return voice.term("gap", n)
        case Noun.CORNER:
            return voice.say("corner-space", n=target.size, ch=voice.chains(), space=voice.term("space", n),
                             corner=voice.term("corner")) if target.size else voice.term("corner", n)  # fmt: skip
        case Noun.ROW_END:
            stitches = voice.term("stitch", n)
            return (
                voice.say("of-piece", stitch=stitches, piece=target.kind) if target.kind else voice.term("row-end", n)
            )
        case Noun.START:
            return voice.term("turning-chain")
    assert_never(target.noun)


def space(target: Target, n: int, voice: Voice) -> str:
    """A chain space by its size, or the middle of a named group."""
    if target.kind:
        if target.kind in voice.language.terms:
            return voice.term(target.kind, n)
        return voice.say("stitch-space", stitch=voice.stitch(target.kind), space=voice.term("space", n))
    if target.size:
        return voice.say("chain-space", ch=voice.chains(), n=target.size, space=voice.term("space", n))
    if target.how is How.SAME:
        return voice.term("space", n)
    if target.count > 1:  # `next 3 ch sps` would be the next space of three chains
        return voice.term("space", n)
    return voice.say("space-any", ch=voice.chains(), space=voice.term("space", n))


def where(target: Target, scene: Scene, each: int = 1) -> str:
    """The place of a step. `each` is how many stitches go into every one of several."""
    text = _place(target, scene, each)
    if target.below:
        phrase = "below-one" if target.below == 1 else "below"
        text = scene.voice.say(phrase, where=text, n=target.below, course=scene.course(), courses=scene.course(2))
    if target.course:
        text = scene.voice.say("course-of", where=text, course=scene.course(), n=target.course)
    if target.loop in LOOP_TERMS:
        return scene.voice.say("loop-of", loop=loop(target, scene.voice), where=text)
    if target.side:
        return scene.voice.say("side-of", where=text, chain=scene.voice.chains())
    return text


def loop(target: Target, voice: Voice) -> str:
    """`BLO`, or `back loops` for several stitches written out."""
    many = target.how is How.EACH or target.count > 1
    return voice.term(LOOP_TERMS[target.loop], 2 if many and voice.whole else 1)


def _place(target: Target, scene: Scene, each: int) -> str:
    voice = scene.voice
    one, many = thing(target, 1, voice), thing(target, 2, voice)
    if target.noun is Noun.RING:
        return one
    if target.noun is Noun.START:
        return start_chain(target, scene)
    if target.noun is Noun.GAP and target.how is not How.SAME:
        return _gap(target, scene)
    if target.noun is Noun.SPACE and target.kind in voice.language.terms and target.size:
        return _chain_of(target, scene)
    if target.nth and target.noun in (Noun.SPACE, Noun.CHAIN) and target.how in (How.NEXT, How.SAME):
        return voice.say("chain-nth", nth=scene.nth(target.nth), ch=voice.chains(), where=_arch(target, scene))
    match target.how:
        case How.NEXT:
            return _next(target, scene, each, one, many)
        case How.EACH:
            return _each(target, scene, one, many)
        case How.SAME:
            return voice.say("where-same", one=one)
        case How.FIRST:
            phrase = "where-first" if target.count == 1 else "where-first-many"
            return voice.say(phrase, one=one, many=many, n=target.count)
        case How.LAST:
            return voice.say("where-last", one=one)
        case How.ANY:
            return voice.say("where-any", one=one)
        case How.FROM_HOOK:
            return voice.say("from-hook", nth=scene.nth(target.nth or 2), ch=voice.chains())
        case How.SKIPPED:
            phrase = "where-skipped" if target.count == 1 else "where-skipped-many"
            return voice.say(phrase, one=one, many=many, n=target.count)
        case How.PREVIOUS:
            return voice.say("made", thing=one)
    assert_never(target.how)


def _chain_of(target: Target, scene: Scene) -> str:
    """The chain a shell hangs on."""
    chain = space(replace(target, kind=""), 1, scene.voice)
    return scene.voice.say("space-of", space=chain, where=_place(replace(target, size=0), scene, 1))


def _arch(target: Target, scene: Scene) -> str:
    """The arch whose nth chain is meant."""
    name = space(target, 1, scene.voice)
    return scene.voice.say("where-same" if target.how is How.SAME else "where-next", one=name)


def _next(target: Target, scene: Scene, each: int, one: str, many: str) -> str:
    voice = scene.voice
    if target.nth:
        return voice.say("where-nth", nth=scene.nth(target.nth), one=one)
    if target.count == 1:
        return voice.say("where-next", one=one)
    # Several in each of several must say `each of`, or `2 sc in next 3 sts` could be two in all.
    return voice.say("where-each-next" if each > 1 else "where-next-many", n=target.count, many=many)


def _each(target: Target, scene: Scene, one: str, many: str) -> str:
    voice = scene.voice
    if target.every > 1:
        phrase = "every-other" if target.every == 2 else "every-nth"
        one = voice.say(phrase, thing=one, nth=scene.nth(target.every))
    else:
        one = voice.say("every", thing=one)
    if target.leave:
        tail = many if target.leave > 1 else thing(target, 1, voice)
        return voice.say("to-last" if target.leave > 1 else "to-last-one", one=one, n=target.leave, many=tail)
    if target.noun is Noun.CORNER:
        return one  # where corners are, is said by the words before: `sc evenly around, 3 sc in each corner`
    phrase = "where-each-and-space" if target.spaces else "where-each-and-chain" if target.chains else "where-each"
    return voice.say(phrase, one=one, end=scene.end, chain=voice.chains(), ch=voice.chains(), space=voice.term("space"))


def _gap(target: Target, scene: Scene) -> str:
    voice = scene.voice
    if target.how is How.EACH:
        return voice.say("where-each", one=voice.say("every", thing=voice.term("gap")), end=scene.end)
    if target.count == 1:
        return voice.say("where-next", one=voice.term("gap"))
    return voice.say("where-each-next", n=target.count, many=voice.term("gap", 2))


def start_chain(target: Target, scene: Scene) -> str:
    """The beginning chain of the round below: its top, or one of its chains."""
    voice = scene.voice
    phrase = "starting-ch-n" if target.size else "starting-ch"
    chain = voice.say(phrase, beg=voice.term("beginning"), ch=voice.chains(), n=target.size)
    if target.nth:
        return voice.say("chain-nth", nth=scene.nth(target.nth), ch=voice.chains(), where=chain)
    return voice.say("top-of", where=chain)
