"""Yarns as listed in the header against yarns as worked."""

import re
from collections.abc import Iterator

from generator.checks import steps, texts
from generator.checks.product import Product
from generator.notation.pattern import YarnSpec
from generator.notation.tree import Yarn


def undeclared(product: Product) -> Iterator[Yarn]:
    """The first mention of each yarn that is used but not listed; nothing where no list is."""
    met = {name.lower() for yarn in product.header.yarns for name in (yarn.key, yarn.colour)}
    for at in product.lines() if product.header.yarns else ():
        for yarn in steps.find(Yarn, at.worked.steps):
            if yarn.name and yarn.name.lower() not in met:
                met.add(yarn.name.lower())
                yield yarn


def unused(product: Product) -> tuple[YarnSpec, ...]:
    """Yarns that nothing is worked in and no sentence speaks of. A single yarn need not be named in the lines."""
    yarns = product.header.yarns
    if len(yarns) < 2 or not product.lines():
        return ()
    used = {yarn.name.lower() for at in product.lines() for yarn in steps.find(Yarn, at.worked.steps)}
    used |= {run.yarn.lower() for part in product.fabric.parts for c in part.courses for run in c.runs}
    if "" in used:  # what is worked before any yarn is named is worked in the first
        used.add(yarns[0].key.lower())
    words = " ".join(passage.text for passage in texts.passages(product))
    return tuple(
        yarn for yarn in yarns if not {yarn.key.lower(), yarn.colour.lower()} & used and not _told(yarn, words)
    )


def _told(yarn: YarnSpec, words: str) -> bool:
    key = rf"\b(?i:in|with|using|and|of|to|join|yarn|colou?r)\s+{re.escape(yarn.key)}\b"
    colour = rf"(?i)\b{re.escape(yarn.colour)}\b"
    return bool(re.search(key, words) or (yarn.colour and re.search(colour, words)))
