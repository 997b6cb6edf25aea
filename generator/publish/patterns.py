"""All patterns of a build: which are due, made side by side, and which of two with one address is published."""

import errno
import multiprocessing
import os
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from pathlib import Path

from generator import library
from generator.diagnostics.record import Finding, Severity
from generator.notation.pattern import Header, Pattern
from generator.publish import corrections, folders
from generator.publish.build import Built, build, start
from generator.publish.laying import Laying, Progress
from generator.publish.record import Entry, Said
from generator.publish.setting import Setting
from generator.publish.steps import READY, Step, keys
from generator.source import Span

NOT_THE_DISK = (errno.ENAMETOOLONG, errno.EILSEQ, errno.EINVAL)
"""What a disk says of one name; the others will do."""
FEW = 3
"""So few patterns are not worth a second process."""


Call = tuple[library.Text, Path, Mapping[str, Step]]
"""A text, the folder to make of it, and the steps that are kept."""


@dataclass(frozen=True, slots=True)
class Job:
    """One pattern to be made or taken over."""

    index: int
    text: library.Text
    keys: Mapping[str, str]
    """What each step is made from."""
    kept: Mapping[str, Step]
    """Steps of the last build that are as they would be made."""
    old: Entry | None
    """What the last build made of it."""

    @property
    def due(self) -> bool:
        """Whether anything has to be made."""
        return self.kept.keys() != self.keys.keys()

    @property
    def path(self) -> str:
        """Name of its source."""
        return self.text.source.path


def lay_patterns(
    texts: Sequence[library.Text], laying: Laying, jobs: int, progress: Progress | None
) -> list[corrections.Now]:
    """Every pattern made or taken over; gives what the ledger is to know of those made."""
    work = [_job(index, text, laying) for index, text in enumerate(texts)]
    due = [job for job in work if job.due]
    made = dict(zip((job.index for job in due), _made(due, laying, jobs, progress), strict=True))
    twins = library.twins(_slim(job, made) for job in work if not (job.index in made and made[job.index].held))
    now: list[corrections.Now] = []
    for job in work:
        built, twin = made.get(job.index), twins.get(job.path)
        _say(job, built, twin, laying)
        if built is None and job.old and not twin:
            laying.entries[job.path] = job.old
            laying.report.kept += 1
        elif built and built.card and not twin:
            laying.entries[job.path] = _settle(job, built, laying)
            laying.report.made += 1
            if built.record:
                now.append(corrections.Now(job.path, built.pattern.source, built.pattern.header, built.record))
        elif built and built.held:
            laying.report.held += 1
        elif job.old and _still_good(job.old, laying, made):
            # Nothing is lost: what was good stays until it is good again. Without keys it is tried again each time.
            laying.entries[job.path] = job.old.doubtful()
            laying.report.kept += 1
    return now


def _job(index: int, text: library.Text, laying: Laying) -> Job:
    wanted = keys(laying.bases, laying.text_print(text))
    path = text.source.path
    return Job(index, text, wanted, laying.kept(path, wanted), laying.before.get(path))


def _say(job: Job, built: Built | None, twin: Finding | None, laying: Laying) -> None:
    findings = (*(built.findings if built else ()), *((twin,) if twin else ()))
    if findings:
        laying.report.said.append(Said(job.text.source, findings))


def _still_good(old: Entry, laying: Laying, made: dict[int, Built]) -> bool:
    """Whether a page of the last build may stay: all there, and nobody else has taken its address."""
    taken = {entry.slug for entry in laying.entries.values()} | {one.card.slug for one in made.values() if one.card}
    return old.card is not None and old.slug not in taken and folders.whole(laying.there, old.files)


def _slim(job: Job, made: dict[int, Built]) -> Pattern:
    built = made.get(job.index)
    if built:
        return built.pattern
    assert job.old is not None
    return Pattern(job.text.source, Header(title=job.old.title, slug=job.old.slug))


def _settle(job: Job, built: Built, laying: Laying) -> Entry:
    """Move what is new of a pattern to its place."""
    assert built.card is not None
    slug, folder, waiting = built.card.slug, laying.folder, _waiting(laying.folder, job.index)
    _move(waiting, folder / "patterns" / slug)
    _move(waiting.with_name(waiting.name + READY), folder / READY / slug)
    made = {
        name: Step(job.keys[name], {_place(slug, file): size for file, size in files.items()})
        for name, files in built.made.items()
    }
    return Entry(slug, built.card.title, {name: made.get(name) or job.kept[name] for name in job.keys}, built.card)


def _move(waiting: Path, place: Path) -> None:
    """There is nothing to move where all came out as it was."""
    if waiting.exists():
        place.parent.mkdir(exist_ok=True)
        waiting.rename(place)


def _place(slug: str, file: str) -> str:
    return f"{READY}/{slug}" if file == READY else f"patterns/{slug}/{file}"


def _waiting(folder: Path, index: int) -> Path:
    return folder / ".made" / str(index)


def _made(due: Sequence[Job], laying: Laying, jobs: int, progress: Progress | None) -> list[Built]:
    """Make patterns, side by side where there are enough of them."""
    done: list[Built] = []
    calls = [(job.text, _waiting(laying.folder, job.index), job.kept) for job in due]
    for n, built in enumerate(_run(calls, laying.setting, jobs or os.cpu_count() or 1)):
        done.append(built)
        if progress:
            progress(n + 1, len(due), due[n].path)
    return done


def _run(calls: Sequence[Call], setting: Setting, jobs: int) -> Iterator[Built]:
    if jobs == 1 or len(calls) <= FEW:
        start(setting)
        for call in calls:
            yield one(call)
        return
    done = 0
    try:
        with _processes(min(jobs, len(calls)), setting) as pool:
            for built in pool.map(one, calls, chunksize=max(1, min(8, len(calls) // (jobs * 4)))):
                done += 1
                yield built
    except BrokenProcessPool:
        # The system stopped a process, for want of memory as a rule: one at a time, only the culprit is left out.
        for call in calls[done:]:
            yield _alone(call, setting)


def _processes(many: int, setting: Setting) -> ProcessPoolExecutor:
    method = "fork" if "fork" in multiprocessing.get_all_start_methods() else None
    context = multiprocessing.get_context(method)
    return ProcessPoolExecutor(many, mp_context=context, initializer=start, initargs=(setting,))


def _alone(call: Call, setting: Setting) -> Built:
    try:
        with _processes(1, setting) as pool:
            return pool.submit(one, call).result()
    except BrokenProcessPool:
        return _not_built(
            call[0], "this pattern could not be built: the system stopped it, as it does where memory runs out"
        )


def one(call: Call) -> Built:
    """Make one pattern; a fault of our own is told as such and takes nothing else along."""
    text, folder, kept = call
    try:
        return build(text, folder, kept)
    except Exception as fault:
        if isinstance(fault, OSError) and fault.errno not in NOT_THE_DISK:
            raise
        if os.environ.get("SPIRALBOUND_TRACE"):
            raise
        told = f"({type(fault).__name__}: {str(fault)[:200]})"
        return _not_built(text, f"this pattern could not be built, by a fault of our own {told}")


def _not_built(text: library.Text, message: str) -> Built:
    """Without an address, it takes nobody else's."""
    pattern = Pattern(text.source, Header(slug=text.source.path))
    return Built(pattern, (Finding("could-not-build", Severity.ERROR, message, Span(0, 0)),))
