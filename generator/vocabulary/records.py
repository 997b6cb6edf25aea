"""What the vocabulary's files hold, as frozen values.

Arithmetic belongs to the stitch, words belong to the language; a stitch knows no word and a language no number.
"""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Stitch:
    """What one stitch does and how it is built.

    `identity` is language-free; by convention it is the US abbreviation (`dc`), with composed forms spelled
    `dc2tog` (closed together over 2 places), `fpdc`/`bpdc` (round the post), `dc-cluster-3` (3 unfinished stitches
    in one place closed together), `hdc-puff-3`, `dc-bobble-5`, `dc-popcorn-5`.
    """

    identity: str
    base: str
    """The stitch it is built from (`dc` for `dc2tog`); itself for a basic stitch."""
    family: str
    """`chain`, `slip`, `post` (sc and taller), `together`, `cluster`, `popcorn`, `puff`, `bobble`, `picot`, `foundation`."""
    yarn_overs: int
    """Yarn-overs before the hook goes in: 0 for sc, 1 for hdc and dc, 2 for tr."""
    consumes: int
    """Places of the round below that it takes."""
    makes: int
    """Places it offers to the next round."""
    counts: bool
    """Whether it is counted in a round's total unless the count names it."""
    height: float
    """Height in chain lengths, as in the trade's turning-chain table: sc 1, hdc 2, dc 3, tr 4."""
    turning_chain: int
    """Chains that bring the work to its height."""
    turning_chain_counts: str
    """Whether such a chain stands for a stitch when nobody says: `yes`, `no` or `either`."""
    yarn: float
    """Yarn it takes, as a multiple of one single crochet's."""
    legs: int
    """Stems in its symbol: 1 for dc, 2 for dc2tog, 3 for a 3-dc cluster."""
    symbol: tuple[str, ...]
    """Parts its symbol is composed of, from the foot up (see `charts.symbols`)."""
    source: str


@dataclass(frozen=True, slots=True)
class Words:
    """How a language says one thing."""

    abbreviation: str
    """What the house style prints (`sc`)."""
    name: str
    """The whole word (`single crochet`)."""
    plural: str
    """The whole word for several; equal to `name` where the language makes no difference."""
    also: tuple[str, ...]
    """Further forms the reader accepts, in lower case."""


@dataclass(frozen=True, slots=True)
class Language:
    """One language or dialect: its words for stitches and for the rest of the trade."""

    code: str
    """BCP 47, such as `en-US`."""
    title: str
    """What readers call it, such as `US terms`."""
    stitches: Mapping[str, Words]
    terms: Mapping[str, Words]
    phrases: Mapping[str, str]
    """Sentence patterns for `wording`, with `{named}` gaps."""
    source: str


@dataclass(frozen=True, slots=True)
class Table:
    """A published table: rows of plain values with the source and date they were taken from."""

    name: str
    rows: tuple[Mapping[str, object], ...]
    source: str
    date: str
    notes: str
    credit: str = ""
    """The line its publisher asks to see wherever the table is used; empty when none is asked for."""
