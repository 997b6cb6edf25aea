"""Single steps in words; lists and repeats of them, and the choice among these functions, are in `flow`."""

from dataclasses import replace

from generator.notation import tree
from generator.notation.tree import How, Loop, Noun, Target
from generator.wording import numbers, remarks
from generator.wording.places import POST_TERMS, Scene, where
from generator.wording.voice import Voice, takes


def work(step: tree.Work, scene: Scene) -> str:
    """`sc in next 3 sts`, `2 sc in next st`, `FPdc around next st`, `sc2tog`."""
    voice, target = scene.voice, step.target
    if takes(step.stitch) > 1 and not scene.in_place:
        return together(step, scene)
    word = voice.stitch(step.stitch)
    if target.loop in POST_TERMS:
        word = voice.say("post-words", post=voice.term(POST_TERMS[target.loop]), stitch=word)
        target = replace(target, loop=Loop.BOTH)
    if scene.in_place:
        return many(step.stitch, step.each * target.count, word, scene)
    if voice.terse and (short := terse(step, word, scene)):
        return short
    what = many(step.stitch, step.each, word, scene)
    if target.loop in POST_TERMS or step.stitch.startswith(("fp", "bp")) or step.target.loop in POST_TERMS:
        return voice.say("post-around", stitch=what, where=where(target, scene, step.each))
    if target.noun is Noun.GAP and target.how is How.NEXT and target.count == 1:
        return voice.say("what-between", what=what, stitches=voice.term("stitch", 2))
    return voice.say("what-in-where", what=what, where=where(target, scene, step.each))


def many(identity: str, n: int, word: str, scene: Scene) -> str:
    """`sc`, `2 sc`; whole words take their plural where the language has one."""
    if n == 1:
        return word
    if scene.voice.whole and word == scene.voice.stitch(identity):
        word = scene.voice.stitch(identity, n)
    return scene.voice.say("count", n=n, things=word)


def terse(step: tree.Work, word: str, scene: Scene) -> str:
    """What a chart room leaves out: the place, where it is simply the next. Empty where it can't be left out."""
    voice, n = scene.voice, step.target.count
    if simply_next(step.target) and step.each == 1:
        return word if n == 1 else voice.say("count", n=n, things=word)
    if simply_next(step.target) and step.each == 2 and scene.all_sc and n == 1:
        return voice.term("increase")
    if replace(step.target, implied=False) == Target(How.EACH) and step.each == 1:
        return voice.say("what-end", what=word, end=scene.end)
    return ""


def simply_next(target: Target) -> bool:
    """The next stitch or stitches, whatever they are: what a maker takes when nothing is said."""
    return replace(target, count=1, implied=False) == Target()


def together(step: tree.Work, scene: Scene) -> str:
    """Stitches closed together; the target counts places: over the next ones, several times over, or all round."""
    voice, target = scene.voice, step.target
    word, each = voice.stitch(step.stitch), takes(step.stitch)
    if target.how is How.EACH and target.loop is Loop.BOTH:
        return voice.say("what-end", what=word, end=scene.end)
    n = max(1, target.count // each) if target.how is How.NEXT else 1
    if replace(target, count=1, implied=False) != Target():
        place = where(replace(target, count=each) if target.how is How.NEXT else target, scene)
        word = voice.say("what-over", what=word, where=place)
    if n == 1:
        return word
    phrase = "times-terse" if voice.terse else "times"
    if word != voice.stitch(step.stitch):
        phrase = "repeat-count-terse" if voice.terse else "repeat-count"
    return voice.say(phrase, steps=word, n=n)


def chain(step: tree.Chain, scene: Scene) -> str:
    """`ch 3`, with what it counts as where that is settled."""
    voice = scene.voice
    text = voice.say("chain", ch=voice.chains(), n=step.n)
    if step.stands_for:
        what = voice.stitch(step.stands_for)
        if step.stands_chains:
            further = voice.say("chain", ch=voice.chains(), n=step.stands_chains)
            what = voice.say("list", first=what, second=further)
        return voice.say("chain-counts", chain=text, what=what)
    if step.counts is True:
        return voice.say("chain-counts-stitch", chain=text, stitch=voice.term("stitch"))
    if step.counts is False:
        return voice.say("chain-counts-not", chain=text, stitch=voice.term("stitch"))
    return text


def skip(step: tree.Skip, scene: Scene) -> str:
    """`skip next 2 sts`; `miss 2` where the place goes without saying."""
    voice = scene.voice
    if voice.terse and simply_next(step.target):
        return voice.say("skip", skip=voice.term("skip"), where=step.target.count)
    return voice.say("skip", skip=voice.term("skip"), where=where(step.target, scene))


def squares(step: tree.Mesh, scene: Scene) -> str:
    """Squares of filet by their number."""
    voice = scene.voice
    name = "block" if step.filled else "space"
    if not step.n:
        return voice.say("squares-each", one=voice.term(name))
    phrase = (
        "squares-grow" if step.grows else "squares-total" if step.total else "squares-more" if step.more else "squares"
    )
    return voice.say(phrase, n=step.n, things=voice.term(name, step.n), increase=voice.term("increase"))


def picot(step: tree.Picot, scene: Scene) -> str:
    """A picot by its name where it is the usual one, else by its chains and where they close."""
    voice = scene.voice
    if step.n == 3 and step.close == "sl-st" and not step.into:
        return voice.stitch("picot")
    chains = voice.say("chain", ch=voice.chains(), n=step.n)
    if step.into == "hook":
        place = voice.say("from-hook", nth=scene.nth(step.n), ch=voice.chains())
    elif step.into == "first":
        place = voice.say("picot-first", ch=voice.chains())
    elif step.into == "top":
        place = voice.say("picot-top", stitch=voice.term("stitch"))
    else:
        return voice.say("picot-n", ch=voice.chains(), n=step.n, picot=voice.stitch("picot"))
    return voice.say("picot", chains=chains, close=voice.stitch(step.close), where=place)


def join(step: tree.Join, scene: Scene) -> str:
    """`join with sl st in first sc`."""
    voice = scene.voice
    if step.needle:
        return voice.say("join-needle")
    phrase = "join-in" if step.target.how is How.ANY else "join"
    return voice.say(phrase, stitch=voice.stitch(step.stitch), where=where(step.target, scene))


def ring(step: tree.Ring, scene: Scene) -> str:
    """A ring to work into: of yarn, or of chains."""
    voice = scene.voice
    if step.chains:
        return voice.say("chain-ring", ch=voice.chains(), n=step.chains, slip=voice.stitch("sl-st"))
    return voice.say("ring-make", ring=voice.language.terms["magic-ring"].name)


def foundation(step: tree.Foundation, scene: Scene) -> str:
    """`ch 21`, with its multiple where the pattern gives one."""
    voice = scene.voice
    if step.multiple == tree.ANY_LENGTH:
        return voice.say("foundation-any", ch=voice.chains())
    if step.multiple:
        a, b = step.multiple
        phrase = "foundation-multiple" if b else "foundation-multiple-of"
        return voice.say(phrase, ch=voice.chains(), n=step.chains, a=a, b=b)
    return voice.say("chain", ch=voice.chains(), n=step.chains)


def yarn(step: tree.Yarn, scene: Scene) -> str:
    """`with A`, `change to B`, `join B with sl st in any st`, `standing sc in any st`."""
    voice = scene.voice
    name = voice.yarn(step.name)
    if step.standing:
        place = where(step.target or Target(How.ANY), scene)
        phrase = "yarn-join-standing" if name else "standing"
        return voice.say(phrase, yarn=step.name, stitch=voice.stitch(step.stitch or "sc"), where=place)
    if step.how == "change":
        return voice.say("change", yarn=name) if name else voice.say("change-any", colour=voice.term("colour"))
    if step.how == "join":
        return joined_yarn(step, step.name, scene)
    return voice.say("with-yarn", yarn=name)


def joined_yarn(step: tree.Yarn, name: str, scene: Scene) -> str:
    """Fastening on a yarn, said as fully as the pattern does."""
    voice = scene.voice
    name = name or voice.term("yarn")
    stitch = voice.stitch(step.stitch) if step.stitch else ""
    if step.target is None:
        return voice.say("yarn-join-anywhere" if stitch else "yarn-join-plain", yarn=name, stitch=stitch)
    place = where(step.target, scene)
    return voice.say("yarn-join" if stitch else "yarn-join-in", yarn=name, stitch=stitch, where=place)


def along(step: tree.Along, scene: Scene) -> str:
    """An edging without a count."""
    voice = scene.voice
    phrase = "along-corners" if step.corners else "along"
    return voice.say(
        phrase, stitch=voice.stitch(step.stitch), n=step.corners, end=scene.end, corner=voice.term("corner")
    )


def shape(step: tree.Shape, scene: Scene) -> str:
    """Increases or decreases told in words."""
    voice = scene.voice
    word = voice.term("decrease" if step.by < 0 else "increase")
    if step.every:
        return voice.say(
            "shape-every", word=word, nth=scene.nth(step.every), stitch=voice.term("stitch"), end=scene.end
        )
    n = abs(step.by)
    return voice.say("shape-evenly", word=word, n=n, stitches=voice.term("stitch", n), end=scene.end)


def again(step: tree.Again, scene: Scene) -> str:
    """`rep rnds 2 and 3 twice`, `rep last row until there are 60 sts`."""
    voice = scene.voice
    text = _again_what(step, scene)
    if step.until_stitches:
        phrase = "again-stitches-each" if step.until_each else "again-stitches"
        text = voice.say(phrase, again=text, n=step.until_stitches, stitches=_counted(step, voice))
    elif step.until_length_mm:
        text = voice.say("again-length", again=text, length=measure(step.until_length_mm, voice))
    elif step.passes > 1:
        text = voice.say("again-passes", again=text, n=step.passes)
    if step.ending:
        text = voice.say("again-ending", again=text, course=scene.course(), n=step.ending)
    return text


def _counted(step: tree.Again, voice: Voice) -> str:
    """What is counted up to."""
    kind, n = step.until_kind or "stitch", step.until_stitches
    return voice.term(kind, n) if kind in voice.language.terms else voice.stitch(kind, n)


def _again_what(step: tree.Again, scene: Scene) -> str:
    voice = scene.voice
    if step.numbers:
        listed = numbers.number_list(step.numbers, voice.say("and"), voice.say("to") if voice.whole else "–")
        return voice.say("again", repeat=voice.term("repeat"), courses=scene.course(len(step.numbers)), numbers=listed)
    phrase = "again-last" if step.last == 1 else "again-last-many"
    return voice.say(phrase, repeat=voice.term("repeat"), course=scene.course(), courses=scene.course(2), n=step.last)


def measure(mm: float, voice: Voice) -> str:
    """A length inside a working line, exactly as given: centimetres, or inches where it came in quarters of them."""
    if abs(mm / 5 - round(mm / 5)) > 1e-6 and abs(mm / 6.35 - round(mm / 6.35)) < 1e-6:
        n = mm / numbers.MM_PER_INCH
        return voice.say("inches" if n > 1 else "inch", n=numbers.mixed(n))
    return voice.say("centimetres" if voice.whole else "cm", n=numbers.plain(mm / 10, 2))


def convention(step: tree.Convention, scene: Scene) -> str:
    """A rule for the whole part."""
    voice = scene.voice
    if step.name == "rounds":
        phrase = "rounds-spiral" if step.value == "spiral" else "rounds-joined"
        return voice.say(
            phrase, round=voice.term("round"), rounds=voice.term("round", 2), slip=voice.stitch("sl-st"),
            stitch=voice.term("stitch"),
        )  # fmt: skip
    if step.name == "start-chain":
        phrase = "start-chain-counts" if step.value == "counts" else "start-chain-counts-not"
        return voice.say(phrase, chain=voice.chains(), stitch=voice.term("stitch"))
    if step.name == "skipped-chains":
        phrase = "skipped-chains-count" if step.value == "counts" else "skipped-chains-count-not"
        return voice.say(phrase, chain=voice.chains(), stitch=voice.term("stitch"))
    return ""


def define(step: tree.Define, scene: Scene) -> str:
    """A stitch explained on the spot, in the author's words."""
    words = remarks.move(step.words, scene.voice)
    return scene.voice.say("define" if step.name else "aside", name=step.name, words=words)
