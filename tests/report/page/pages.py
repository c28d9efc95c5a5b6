"""A page read back: elements with their attributes, text, and what stands where."""

import base64
import hashlib
from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = {"br", "hr", "img", "input", "link", "meta", "wbr"}


@dataclass
class Element:
    name: str
    attributes: dict
    inner: list = field(default_factory=list)

    def walk(self):
        yield self
        for one in self.inner:
            if isinstance(one, Element):
                yield from one.walk()

    def all(self, *names):
        return [one for one in self.walk() if one.name in names]

    def by_id(self, name):
        (found,) = [one for one in self.walk() if one.attributes.get("id") == name]
        return found

    @property
    def text(self):
        return "".join(one if isinstance(one, str) else one.text for one in self.inner)

    def rows(self):
        """Texts of the cells of a table, row by row, heads included."""
        return [[cell.text for cell in row.all("th", "td")] for row in self.all("tr")]


class _Reader(HTMLParser):
    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.root = Element("", {})
        self.open = [self.root]

    def handle_starttag(self, name, attributes):
        one = Element(name, dict(attributes))
        self.open[-1].inner.append(one)
        if name not in VOID:
            self.open.append(one)

    def handle_endtag(self, name):
        last = self.open.pop()
        assert last.name == name, f"</{name}> ends <{last.name}>"

    def handle_data(self, text):
        self.open[-1].inner.append(text)


def read(content):
    """The elements of a page; an end tag that ends nothing, or another element, is a fault."""
    reader = _Reader()
    reader.feed(content.decode())
    reader.close()
    assert reader.open == [reader.root], f"<{reader.open[-1].name}> is never ended"
    return reader.root


def runs_only_what_it_states(page):
    """Its policy lets it fetch nothing, and names every script and style sheet by its hash."""
    (policy,) = [
        m.attributes["content"] for m in page.all("meta") if m.attributes.get("http-equiv")
    ]
    assert policy.startswith("default-src 'none'; img-src data:;") and "unsafe" not in policy
    running = [s for s in page.all("script") if s.attributes.get("type") != "application/json"]
    for one in [*running, *page.all("style")]:
        digest = base64.b64encode(hashlib.sha256(one.text.encode()).digest()).decode()
        assert f"'sha256-{digest}'" in policy
