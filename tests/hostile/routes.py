"""Requests made from the route map alone: ids no row has, methods nobody offers, heads and addresses of nonsense."""

import re
from collections.abc import Iterator
from pathlib import Path
from random import Random
from urllib.parse import quote

from flask import Flask
from werkzeug.routing import Rule

from tests.hostile.attempts import URLENCODED, Attempt, encoded
from tests.hostile.values import BY_KIND, ODD, RAW, bodies

PACKAGE = Path(__file__).parent.parent.parent / "webapp"
METHODS = ("GET", "HEAD", "POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "PROPFIND", "get", "X" * 40)
ASKED = re.compile(
    r"request\.(?:args|values)(?:\.get(?:list)?\(|\[)\s*\"([\w-]+)\"|\"([\w-]+)\" in request\.args|searched\(\"(\w+)\""
)
NOT_TRIED = {"static"}
IDS = (
    "0",
    "-1",
    "00001",
    "2147483647",
    "2147483648",
    "9223372036854775808",
    "9" * 400,
    "1.0",
    "1e3",
    "%EF%BC%91",
    "+1",
    "%2B1",
    "1%00",
    "%00",
    "%FF",
    "%ED%A0%80",
    "..",
    "%2e%2e",
    "..%2f..%2fetc%2fpasswd",
    "%252e%252e",
    "1;x=1",
    "1%0d%0aX:%20y",
    "null",
    "NaN",
    "%E2%80%AE1",
    "x" * 5000,
    "%27%20OR%201=1--",
    "photo-1",
    "{{7*7}}",
    "%5c..%5c",
)
HEADERS: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    ("accepts nonsense", (("Accept", "\xff;q=NaN,*/;q=-1,,,;" + "a/b," * 500),)),
    ("accepts JSON", (("Accept", "application/json"),)),
    ("accepts nothing", (("Accept", ""),)),
    (
        "languages of nonsense",
        (("Accept-Language", "x-" * 900), ("Accept-Charset", "utf-7"), ("Accept-Encoding", "br;q=9")),
    ),
    (
        "a forged cookie",
        (("Cookie", "benchtide=eyJzaWduX2luIjoiMSIsInNob3AiOjF9.aaaaaa.AAAAAAAAAAAAAAAAAAAAAAAAAAA; theme=day"),),
    ),
    ("a broken cookie", (("Cookie", 'benchtide=".eJ\xff\xfe"; ;;=;theme="\xe9<script>"; benchtide=.eJw'),)),
    (
        "a bomb of a cookie",
        (("Cookie", "benchtide=." + "eJztwTEBAAAAwqD1T20IX6AAAAAAAAAAAAAAAAAAAAAAAAA" * 60 + ".a.b"),),
    ),
    ("many cookies", (("Cookie", "; ".join(f"c{n}={n}" for n in range(900))),)),
    ("a theme of nonsense", (("Cookie", 'theme="\\"><script>bt(1)</script>"'),)),
    ("a range", (("Range", "bytes=99999999999999999999-,0-0,-1"), ("If-Range", "x"))),
    ("conditions", (("If-None-Match", '"' + "x" * 3000), ("If-Modified-Since", "31 February"), ("If-Match", "*"))),
    ("another origin of nonsense", (("Origin", "http://[::1"), ("Referer", "\xff://x"))),
    (
        "proxies",
        (("X-Forwarded-For", "1.2.3.4, \xff"), ("X-Forwarded-Proto", "javascript"), ("X-Forwarded-Host", "a b")),
    ),
    ("another method inside", (("X-HTTP-Method-Override", "DELETE"), ("X-Original-URL", "/shop"))),
    ("a user agent", (("User-Agent", "\x01\u00ff<script>bt(1)</script>" + "A" * 9000),)),
    ("no user agent", (("User-Agent", ""),)),
    ("credentials", (("Authorization", "Basic \xff\xff=="), ("Proxy-Authorization", "x"))),
    ("a bearer", (("Authorization", "Bearer " + "\u00e9" * 200),)),
    ("a digest", (("Authorization", 'Digest username="a, realm='),)),
    ("expects", (("Expect", "200-ok"), ("Upgrade", "websocket"), ("Connection", "close"))),
)


def asked_for() -> list[str]:
    """Return the names that views look for in an address, read from the code: a new one is tried without being told."""
    found: set[str] = set()
    for path in sorted(PACKAGE.rglob("*.py")):
        for match in ASKED.finditer(path.read_text(encoding="utf-8")):
            found.update(name for name in match.groups() if name)
    return sorted(found)


def rules(app: Flask) -> list[Rule]:
    return sorted(
        (rule for rule in app.url_map.iter_rules() if rule.endpoint not in NOT_TRIED), key=lambda one: one.rule
    )


def address_of(rule: Rule, value: str) -> str:
    """Return the rule's address with every part that varies replaced."""
    return re.sub(r"<[^>]+>", lambda _: value, rule.rule)


def of_routes(app: Flask, random: Random, each: int) -> Iterator[Attempt]:
    """Yield wrong requests to every route of the app, so many of each way."""
    names = asked_for()
    for rule in rules(app):
        methods = sorted((rule.methods or set()) & {"GET", "POST"})
        address = address_of(rule, "1")
        if rule.arguments:
            for value in random.sample(IDS, each):
                yield Attempt(f"id {value[:30]}", random.choice(methods), address_of(rule, value))
        if "GET" in methods:
            yield from _queries(address, names, random, each)
        if "POST" in methods and not ends_something(rule.rule):
            for name, body, kind in random.sample(list(bodies()), each):
                yield Attempt(f"body: {name}", "POST", address, body, kind)
        yield from _heads(address, methods, random, each)


def _heads(address: str, methods: list[str], random: Random, each: int) -> Iterator[Attempt]:
    for name, headers in random.sample(HEADERS, each):
        yield Attempt(f"head: {name}", "GET" if "GET" in methods else "HEAD", address, headers=headers)
    for method in random.sample([method for method in METHODS if method not in methods], each):
        yield Attempt("method", method, address)


def ends_something(rule: str) -> bool:
    """Whether this address takes something away by the mere asking."""
    return any(word in rule for word in ("delete", "removal", "leaving", "sign-out", "retire", "others"))


def _queries(address: str, names: list[str], random: Random, each: int) -> Iterator[Attempt]:
    for odd in random.sample(ODD, each):
        text = odd.encoded.decode("latin-1")[:60_000]
        yield Attempt(f"query {odd}", "GET", f"{address}?" + "&".join(f"{name}={text}" for name in names)[:60_000])
    name, odd = random.choice(names), random.choice(BY_KIND["number"])
    twice = encoded([(name, odd.text), (name, "1"), (name, "")]).decode()
    yield Attempt(f"query {name} three times", "GET", f"{address}?{twice}"[:60_000])
    raw = random.choice(sorted(RAW.values())).decode("latin-1")
    yield Attempt("query without a name", "GET", f"{address}?={quote(raw)}&&=&{quote(raw)}")


NOWHERE = (
    "/%",
    "/%zz",
    "//example.test/",
    "/\\example.test",
    "/%00",
    "/%ff",
    "/..%2f..%2f",
    "/static/..%2f..%2fwebapp/app.py",
    "/static/%2e%2e/%2e%2e/secret",
    "/static/../../instance/secret",
    "/static/css/%00.css",
    "/static/" + "a/" * 900,
    "/photos/../secret",
    "/" + "x" * 20_000,
    "/.git/config",
    "/instance/benchtide.db",
    "/builds/1/../../shop",
    "/builds//1",
    "/;/x",
    "/%E2%80%AE",
    "/*",
    "/static/css/base.css?v=%00",
    "/static/js%5c..%5c..%5cx",
    "/?" + "a" * 60_000,
    "/?%=%&&&==",
    "/builds/1/",
    "/BUILDS",
)


def nowhere() -> Iterator[Attempt]:
    """Yield addresses that lead to no route."""
    for address in NOWHERE:
        yield Attempt("nowhere", "GET", address)
        yield Attempt("nowhere", "POST", address, b"a=1", URLENCODED)
