"""Random changes one after another end in the part that the same text gives when it is read from a file."""

import random

import pytest
from calling import told

from parts.editing.answer import judged
from parts.editing.fields import fields_of, options_of, sizes_of
from parts.editing.reading import Reader
from parts.editing.typed import can_be, chosen, edits_of
from parts.families import families
from parts.inputs.edited import NotEdited, edited
from parts.inputs.problems import InputError
from parts.report.starter import starter


class Hand:
    """Changes one file at random, as a page does: types, steps, chooses, drags, leaves out, goes back."""

    def __init__(self, file, text, seed):
        self.file, self.texts = file, [text]
        self.random = random.Random(seed)
        self.reader = Reader(file)
        self.part = self.read(text)
        self.good = text
        self.counts = {"kept": 0, "refused": 0}

    def read(self, text):
        return self.reader.part({str(self.file): text})

    def step(self):
        text = self.texts[-1]
        if len(self.texts) > 1 and self.random.random() < 0.1:
            self.texts.pop()
            self.good = self.texts[-1]
            self.part = self.read(self.good)
            return
        document = self.reader.document({str(self.file): text})
        try:
            new = edited(text, self.edits(document))
            part = self.read(new)
        except (NotEdited, InputError):
            self.counts["refused"] += 1  # one that cannot be is taken back, as a builder would
            return
        self.counts["kept"] += 1
        self.texts.append(new)
        self.part, self.good = part, new

    def edits(self, document):
        field = self.random.choice(fields_of(self.part, document))
        path, kind = field["path"], field["kind"]
        if kind == "option":
            option = self.random.choice(field["choices"])
            return chosen(
                path,
                option,
                document,
                type(self.part),
                lambda e: can_be(lambda: self.read(edited(self.texts[-1], e))),
            )
        if field["choices"]:
            return edits_of({"path": path, "value": self.random.choice(field["choices"])}, document)
        sizes = sizes_of(self.part, document)
        if path in sizes["of"] and self.random.random() < 0.5:
            return edits_of(
                {"path": path, "value": self.random.choice(sizes["lists"][sizes["of"][path]])[0]},
                document,
            )
        if field["value"] is None or self.random.random() < 0.1:
            return edits_of({"path": path, "value": ""}, document)
        if kind == "length" and path.endswith("]"):
            around = path[: path.rindex("[")]
            if around.endswith("at"):
                here = [
                    one["value"]
                    for one in fields_of(self.part, document)
                    if one["path"].startswith(f"{around}[")
                ]
                to = [round(v + self.random.uniform(-4.0, 4.0)) for v in here]
                return edits_of({"path": around, "to": to}, document)
        value = field["value"] * self.random.uniform(0.85, 1.2)
        text = {"length": self.random.choice((f"{value:.2f} mm", f"{value / 25.4:.4f} in")), "force": f"{value:.0f} N",
                "angle": f"{value * 57.29577951:.1f} deg"}.get(kind)  # fmt: skip
        return edits_of({"path": path, "value": text or f"{value:.4g}"}, document, kind)


def run(name, tmp_path, seed, steps):
    text = starter(families()[name], name="HC-170")
    file = tmp_path / "part.yaml"
    file.write_text(text)
    hand = Hand(file, text, f"{name} {seed}")
    for _ in range(steps):
        hand.step()
    file.write_text(hand.good)
    from parts import load

    assert load(file).model_dump() == hand.part.model_dump(), name
    first = next(one for one in judged(Reader(file), {}) if one["stage"] == "problems")
    assert first["problems"] == []
    # Comments of what was not left out are all there.
    for line in text.splitlines():
        if line.startswith("#"):
            assert line in hand.good.splitlines()
    return hand


@pytest.mark.parametrize("name", ["clevis", "foot-control bracket", "spacer"])
def test_a_few_changes_end_in_the_part_of_the_file(name, tmp_path):
    hand = run(name, tmp_path, 1, 25)
    assert hand.counts["kept"] > 3


@pytest.mark.slow
@pytest.mark.parametrize("name", sorted(families()))
def test_a_thousand_changes_end_in_the_part_of_the_file(name, tmp_path):
    """A thousand over all families."""
    hand = run(name, tmp_path, 2, 1000 // len(families()) + 1)
    assert hand.counts["kept"] > 5 and options_of(type(hand.part)) is not None


def test_the_served_part_is_that_of_its_text(handed):
    work, _ = handed
    hand = Hand(work.file, work.text, 3)
    for _ in range(8):
        hand.step()
    for text in hand.texts[1:]:
        with work._lock:
            work._steps.append(text)
            work._at += 1
            work._ask()
    fields = told(work, "read")["fields"]
    assert fields == [
        {**one, "choices": list(one["choices"])}
        for one in fields_of(hand.part, hand.reader.document({str(work.file): hand.texts[-1]}))
    ]


@pytest.fixture(scope="module")
def stated():
    return starter(families()["clevis"], name="HC-171")
