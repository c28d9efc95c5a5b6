"""Small parts to lay out pages of, made once a run."""

from functools import cache

from parts.families import families
from parts.folders.part_files import Order, Outputs, shown
from parts.inputs.document import parse_document
from parts.inputs.reading import read_parsed
from parts.making.model import model

FORK = """\
family: clevis
name: HC-150
title: <script>alert(1)</script> & "fork"
units: mm
material: Ti-6Al-4V annealed
edge_break: 0
root_fillet: 0
ears:
  thickness: 1/4 in
  width: 20
  edge: 14
  depth: 24
  corner: 3
  floor_thickness: 8
  throat: {type: rod end, rod_end: 3/8-24 male}
  pin:
    diameter: 3/8 in
    material: 4130 Q&T 150 ksi
    hole: {type: reamed, fit: H7}
shank:
  type: male thread
  thread: 7/16-20 UNF
  length: 30
  engagement: 5/8 in
  mate: 4130 normalized
  neck: {diameter: 18, length: 11, flats: 16}
loads:
  - name: landing
    forces: [{at: pin, force: {x: -2550 N, y: 150 N}}]
  - name: <b>rebound</b>
    forces: [{at: pin, force: {x: 350 lbf, y: 80 N, z: 60 N}}]
"""


def fork(text=FORK):
    """The part of a text, and the document it was read from."""
    written = parse_document(text.encode(), "fork.yaml")
    return read_parsed(written, families()), written


@cache
def fork_shown():
    """What the page of the fork shows, with its pictures and no drawing."""
    part, written = fork()
    outputs = Outputs(model(part), Order(written=written))
    files = {n: c for n, c in outputs.files().items() if n != "index.html"}
    return shown(outputs, files)
