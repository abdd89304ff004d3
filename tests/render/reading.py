"""Reads sheets back as text and, in a browser, as pages."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from html.parser import HTMLParser
from typing import Any

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
ARGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
VOID = {"meta", "input", "br", "link", "hr", "img", "wbr"}
FACE = re.compile(r"url\(data:font/woff2;base64,[A-Za-z0-9+/]{9000,}={0,2}\)")
OVERFLOW = """
() => {
  const wide = document.documentElement.clientWidth;
  return [...document.body.querySelectorAll('*')]
    .filter(e => getComputedStyle(e).position !== 'absolute' && e.getBoundingClientRect().right > wide + 0.5)
    .map(e => e.tagName + '.' + e.getAttribute('class')).slice(0, 5);
}
"""


class Sheet(HTMLParser):
    """Checks that tags close in order; keeps tags, and texts by the class of their innermost element."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.by_class: dict[str, list[str]] = {}
        self.parts: list[str] = []
        self._open: list[tuple[str, list[str]]] = []
        self.feed(html)
        self.close()
        assert self._open == []

    def handle_starttag(self, tag, attrs):
        assert len(dict(attrs)) == len(attrs), f"an attribute twice in {tag}"
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            classes = (dict(attrs).get("class") or "").split()
            self._open.append((tag, classes))
            for name in classes:
                self.by_class.setdefault(name, []).append("")

    def handle_endtag(self, tag):
        assert self._open.pop()[0] == tag

    def handle_data(self, data):
        if any(tag in {"style", "script", "title"} for tag, _ in self._open):
            return
        self.parts.append(data)
        for _, classes in self._open:
            for name in classes:
                self.by_class[name][-1] += data

    @property
    def text(self) -> str:
        """All that a reader sees, spaces evened out."""
        return flat(" ".join(self.parts))

    def texts(self, name: str) -> list[str]:
        """Texts of the elements of a class, in order."""
        return [flat(text) for text in self.by_class.get(name, [])]


def flat(text: str) -> str:
    """Text with single spaces and without invisible ones."""
    return re.sub(r"\s+", " ", text.replace("\N{ZERO WIDTH SPACE}", "")).strip()


def assert_stands_alone(html: str) -> None:
    """Nothing is asked of the network, and nothing runs; the faces are within."""
    page = Sheet(html)
    own, faces = FACE.subn("", html.replace('"@context": "https://schema.org"', ""))
    assert faces == 2
    assert not re.search(r"https?:|//[a-z]|@import|url\((?!#)", own)
    assert not {tag for tag, _ in page.tags} & {"link", "img", "iframe", "object", "embed"}
    for tag, attrs in page.tags:
        assert tag != "script" or attrs == {"type": "application/ld+json"}
        assert not {name for name in attrs if name.startswith("on") or name in {"src", "action"}}


@contextmanager
def chromium() -> Iterator[Any]:
    """A browser."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        found = play.chromium.launch(executable_path=CHROMIUM, args=ARGS)
        yield found
        found.close()


def printed_pages(page: Any, html: str) -> int:
    """Pages that the browser prints."""
    page.set_content(html)
    return len(re.findall(rb"/Type\s*/Page\b", page.pdf(prefer_css_page_size=True)))
