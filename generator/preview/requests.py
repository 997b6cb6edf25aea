"""Which requests are answered: from this machine, to this machine's name, for a plain path. Pure rules, no sockets."""

import hmac
from collections.abc import Collection
from dataclasses import dataclass
from urllib.parse import parse_qs, unquote_to_bytes, urlsplit

LONGEST_PATH = 2000
COOKIE = "spiralbound-preview"


@dataclass(frozen=True, slots=True)
class Asked:
    """A request that may be answered: its path without the leading slash, and its query's first values."""

    path: str
    query: dict[str, str]
    token: str = ""


@dataclass(frozen=True, slots=True)
class Refused:
    """Why a request is not answered: an HTTP status and a few words."""

    status: int
    reason: str


def allowed_hosts(port: int, addresses: Collection[str] = ()) -> frozenset[str]:
    """What the Host header may say. Anything else is a foreign page trying this machine's door (DNS rebinding)."""
    names = ("127.0.0.1", "localhost", "[::1]", *addresses)
    return frozenset(f"{name}:{port}" for name in names) | (frozenset(names) if port == 80 else frozenset())


def examine(target: str, hosts: Collection[str], host: str | None) -> Asked | Refused:
    """The request's target and Host header, looked at before anything else happens."""
    if host is None or host.lower() not in hosts:
        return Refused(403, "this preview answers under its own name only")
    if not target.startswith("/") or target.startswith("//") or len(target) > LONGEST_PATH:
        return Refused(400, "not a path of this preview")
    try:
        parts = urlsplit(target)
        path = unquote_to_bytes(parts.path).decode("utf-8")
        query = {key: values[0] for key, values in parse_qs(parts.query, max_num_fields=8).items()}
    except ValueError:
        return Refused(400, "not a path of this preview")
    if any(ord(c) < 32 or c in "\\\x7f" for c in path) or "%" in path:
        return Refused(400, "not a path of this preview")
    segments = path.split("/")[1:]
    if any(segment in (".", "..") for segment in segments) or "" in segments[:-1]:
        return Refused(400, "not a path of this preview")
    return Asked("/".join(segments), query, query.get("token", ""))


def holds_token(token: str, given: str, cookies: str) -> bool:
    """Whether a request from another machine brings the token, in its address or as the cookie set from it."""
    from_cookie = next(
        (pair.strip()[len(COOKIE) + 1 :] for pair in cookies.split(";") if pair.strip().startswith(COOKIE + "=")), ""
    )
    return any(hmac.compare_digest(token.encode(), offered.encode()) for offered in (given, from_cookie) if offered)
