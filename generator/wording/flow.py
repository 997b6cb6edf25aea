"""Steps one after the other: lists, groups, repeats. House grammar:

- `(…) 6 times` is a repeat, the number is always all of them;
- `*…; rep from * around` goes on to the end, or to the places named;
- `[…] in next st` puts all of it into one place.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import assert_never, cast

from generator.notation import tree
from generator.notation.tree import Step
from generator.wording import remarks, steps
from generator.wording.places import POST_TERMS, Scene, where
from generator.wording.voice import Style, takes

Known = (
    tree.Work | tree.Chain | tree.Group | tree.Repeat | tree.Skip | tree.Picot | tree.Join | tree.Turn | tree.Stay
    | tree.Mesh | tree.Ring | tree.Foundation | tree.Yarn | tree.FastenOff | tree.OtherSide | tree.Along | tree.Shape | tree.Again
    | tree.Measure | tree.PartRef | tree.Convention | tree.Remark | tree.Reached | tree.Define | tree.Unread | tree.Choice
)  # fmt: skip
"""All classes of steps; a test holds it against the tree, and `assert_never` holds `say` against it."""


def say(step: Step, scene: Scene) -> str:
    """The words for one step, without capital or full stop; empty for what is not said."""
    known = cast(Known, step)
    voice = scene.voice
    match known:
        case tree.Work():
            return steps.work(known, scene)
        case tree.Chain():
            return steps.chain(known, scene)
        case tree.Group():
            return group(known, scene)
        case tree.Repeat():
            return repeat(known, scene)
        case tree.Skip():
            return steps.skip(known, scene)
        case tree.Picot():
            return steps.picot(known, scene)
        case tree.Mesh():
            return steps.squares(known, scene)
        case tree.Join():
            return steps.join(known, scene)
        case tree.Turn():
            return voice.term("turn")
        case tree.Stay():
            return voice.term("do-not-turn" if known.what == "turn" else "do-not-join")
        case tree.Ring():
            return steps.ring(known, scene)
        case tree.Foundation():
            return steps.foundation(known, scene)
        case tree.Yarn():
            return steps.yarn(known, scene)
        case tree.FastenOff():
            return voice.say("fasten-off-invisible" if known.invisible else "fasten-off")
        case tree.OtherSide():
            return voice.say("other-side", chain=voice.chains())
        case tree.Along():
            return steps.along(known, scene)
        case tree.Shape():
            return steps.shape(known, scene)
        case tree.Again():
            return steps.again(known, scene)
        case tree.Measure():
            return voice.say("until-measures", length=steps.measure(known.length_mm, voice))
        case tree.Define():
            return steps.define(known, scene)
        case tree.Remark() | tree.PartRef() | tree.Unread():
            return remarks.move(known.words, voice)
        case tree.Convention():
            return steps.convention(known, scene)
        case tree.Choice():
            return listed(known.options[0].steps, scene) if known.options else ""
    assert_never(known)


def listed(items: Sequence[Step], scene: Scene) -> str:
    """Steps as a list."""
    said = zip(items, texts(items, scene), strict=True)
    kept = [(step, text.rstrip(",;")) for step, text in said if text]
    return "".join(linked(step, text, i) for i, (step, text) in enumerate(kept))


def linked(step: Step, text: str, i: int) -> str:
    """The i-th text of a list with what ties it to the one before; the turn round the chain's end is a break."""
    if i == 0:
        return text
    if isinstance(step, tree.Remark | tree.Define) and text.startswith("("):
        return f" {text}"
    return f"; {text}" if isinstance(step, tree.OtherSide) else f", {text}"


def texts(items: Sequence[Step], scene: Scene) -> list[str]:
    """Every step in words.

    In terse style `5 sc, 2 dc in next sp` could put all seven into the space, so the `5 sc` before it name their place;
    and `sl st` alone on a line could be meant for the whole round.
    """
    said = [say(step, scene) for step in items]
    if not scene.voice.terse or scene.in_place:
        return said
    full = replace(scene, voice=replace(scene.voice, style=Style.SHORT))
    alone = not scene.inside and sum(isinstance(step, tree.Work | tree.Group | tree.Repeat) for step in items) == 1
    placed = False
    for i in reversed(range(len(items))):
        step = items[i]
        if isinstance(step, tree.Work) and takes(step.stitch) == 1:
            if (placed or alone) and steps.simply_next(step.target):
                said[i] = say(step, full)
            placed = placed or not steps.simply_next(step.target)
        elif not isinstance(step, tree.Chain | tree.Picot):
            placed = isinstance(step, tree.Group)
    return said


def group(step: tree.Group, scene: Scene) -> str:
    """`[2 dc, ch 2, 2 dc] in next ch-2 sp`."""
    if step.name in scene.voice.own:
        return scene.voice.say("what-in-where", what=scene.voice.own[step.name], where=where(step.target, scene))
    inside = listed(step.steps, replace(scene, inside=True, in_place=True))
    phrase = "group-around" if step.target.loop in POST_TERMS else "group"
    return scene.voice.say(phrase, steps=inside, where=where(step.target, scene))


def repeat(step: tree.Repeat, scene: Scene) -> str:
    """A repeat in house grammar. An asterisk can't hold another one, so inner repeats take brackets."""
    voice, times = scene.voice, step.times
    if times == tree.Times(1) and not step.stop_at:
        return listed(step.steps, scene)
    nested = any(isinstance(inner, tree.Repeat) for inner in step.steps)
    inside = listed(step.steps, inner(scene))
    if step.stop_at > 0:
        first, rest = listed(step.steps[: step.stop_at], inner(scene)), listed(step.steps[step.stop_at :], inner(scene))
        inside = voice.say("stop-mark", first=first, rest=rest)
    gaps = {"steps": inside, "repeat": voice.term("repeat"), "end": scene.end, "n": times.n}
    if times.until is not None:
        return voice.say("repeat-until", **gaps, where=where(times.until, scene))
    if times.to_end and step.stop_at:
        return voice.say("repeat-end-at" if step.stop_at > 0 else "repeat-correspond", **gaps)
    if times.to_end and times.leave:
        gaps["n"] = times.leave
        stitches = voice.term("stitch", times.leave)
        return voice.say("repeat-leave" if times.leave > 1 else "repeat-leave-one", **gaps, stitches=stitches)
    if times.to_end:
        return voice.say("repeat-end-terse" if voice.terse or scene.inside else "repeat-end", **gaps)
    if step.stop_at > 0:
        return voice.say("repeat-total-at", **gaps)
    if nested and not scene.inside:
        return voice.say("repeat-total", **gaps)
    return voice.say("repeat-count-terse" if voice.terse else "repeat-count", **gaps)


def inner(scene: Scene) -> Scene:
    """The same scene inside a repeat."""
    return replace(scene, inside=True)
