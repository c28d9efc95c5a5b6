"""Adjustable links and turnbuckles for the tests."""

from hypothesis import HealthCheck, Phase, assume, settings
from stated import changed, is_sound, once, worst_difference

from parts.core.loads import LoadCase, PointLoad
from parts.families.links.adjustable_link import AdjustableLink
from parts.families.links.turnbuckle import Turnbuckle
from parts.inputs.reading import with_values
from parts.making.model import SHARP, SOFTENED

RIGHT = {"type": "rod end", "rod_end": "3/8-24 male RH"}
LEFT = {"type": "rod end", "rod_end": "3/8-24 male LH"}
FLATS = {"type": "flats", "across_flats": "19 mm"}
BUNG = {"shoulder": "26 mm", "spigot": "14 mm", "wrench": FLATS}
EARS = {
    "thickness": "6 mm", "width": "20 mm", "depth": "20 mm", "floor_thickness": "8 mm",
    "throat": {"type": "blade", "thickness": "6 mm", "end": "11 mm"},
    "pin": {"diameter": "8 mm", "material": "4130 Q&T 125 ksi"},
}  # fmt: skip
CLEVIS = {
    "type": "clevis", "shank_thread": "3/8-24 UNF RH", "thread_length": "36 mm",
    "material": "4130 normalized", "ears": EARS,
}  # fmt: skip
NECKED = {
    **CLEVIS,
    "shank_thread": "3/8-24 UNF LH",
    "neck": {"diameter": "15 mm", "length": "14 mm", "flats": "13 mm"},
}
SHORT_RANGE = {"minimum": "316 mm", "nominal": "320 mm", "maximum": "328 mm"}


def tube(weld=None, vent_hole=None, **bung):
    body = {"type": "tube", "tube": "7/8 in x 0.065 in", "bung": {**BUNG, **bung}}
    body |= {"weld": weld} if weld else {}
    return body | ({"vent_hole": vent_hole} if vent_hole else {})


BIG_HEX = {"type": "hex", "across_flats": "27 mm", "length": "20 mm"}
LINKS = {
    "flats on the shoulder": {"body": tube()},
    "plain shoulder, witness hole through the tube": {
        "body": tube(wrench={"type": "plain"}, shoulder="8 mm", spigot="26 mm", witness_in="spigot")
    },
    "hex on the shoulder": {
        "body": tube(wrench={"type": "hex", "across_flats": "19 mm", "length": "12 mm"}, shoulder="28 mm")
    },
    "large hex, witness hole in it, fillet weld": {
        "body": tube(
            diameter="26 mm", wrench=BIG_HEX, witness_in="wrench", shoulder="30 mm",
            weld={"type": "fillet", "leg": "1.6 mm", "filler": "ER80S-D2"},
        )
    },
    "closed bungs and a vent": {
        "body": tube(bore="closed", spigot="24 mm", thread_depth="22 mm", vent_hole="2 mm")
    },
    "tapped without relief, no witness hole": {
        "body": tube(relief=False, thread_depth="25 mm", witness_hole=None)
    },
    "another bung at end b": {
        "body": {**tube(), "bung_b": {**BUNG, "material": "4130 normalized", "shoulder": "30 mm"}}
    },
    "round bar with wrench flats": {
        "form": "bar", "material": "7075-T6",
        "body": {"type": "bar", "size": "22 mm", "thread_depth": "22 mm", "wrench_flats": "19 mm"},
    },
    "hex bar without relief": {
        "form": "bar", "material": "7075-T6",
        "body": {
            "type": "bar", "section": "hex", "size": "19 mm", "relief": False, "thread_depth": "26 mm",
            "witness_hole": None,
        },
    },
    "a clevis at end a": {"end_a": CLEVIS, "pin_to_pin": SHORT_RANGE},
    "clevises at both ends": {"end_a": CLEVIS, "end_b": NECKED, "pin_to_pin": SHORT_RANGE},
}  # fmt: skip

BODIES = {
    "hex": {"type": "hex", "across_flats": "19 mm"},
    "hex with a tommy-bar hole": {"type": "hex", "across_flats": "22 mm", "tommy_bar": "5 mm"},
    "round with wrench flats": {"type": "round", "diameter": "22 mm", "across_flats": "19 mm"},
    "round with a tommy-bar hole": {"type": "round", "diameter": "22 mm", "tommy_bar": "6 mm"},
    "flatted, no witness holes": {
        "type": "flatted", "diameter": "22 mm", "across_flats": "19 mm", "witness_hole": None,
    },
    "drilled through at the tap drill": {
        "type": "hex", "across_flats": "19 mm", "relief": "8.5 mm", "thread_depth": "26 mm",
    },
    "of a stated length": {"type": "hex", "across_flats": "19 mm", "length": "85 mm"},
}  # fmt: skip


def stated(family, **changes):
    """A part as YAML would state it; `body__bung__spigot` stands for `body.bung.spigot`."""
    return changed(family.example, **changes)


def link(**changes):
    """A link whose pins do not rub, so that what else bends it is by hand."""
    return of(AdjustableLink, changes)


def turnbuckle(**changes):
    """A turnbuckle whose balls do not rub."""
    return of(Turnbuckle, changes)


def of(family, changes):
    data = stated(family, **changes)
    return once(
        ("no friction", family, repr(data)), lambda: without_friction(family.model_validate(data))
    )


def without_friction(part):
    return with_values(part, {"end_a.friction": 0.0, "end_b.friction": 0.0})


def case_of(*forces, name="case"):
    """A load case of (point, force) or (point, force, moment)."""
    keys = ("at", "force", "moment")
    return LoadCase(
        name=name, forces=[PointLoad(**dict(zip(keys, one, strict=False))) for one in forces]
    )


def checks(part, *forces):
    return {one.name: one for one in part.modes(case_of(*forces))}


def cases(count):
    """So many links drawn at random; shrinking would build hundreds of solids to make a failure prettier."""
    phases = (Phase.explicit, Phase.reuse, Phase.generate)
    return settings(
        max_examples=count, deadline=None, phases=phases, suppress_health_check=list(HealthCheck)
    )


def assert_sound_and_checked(part, stations):
    """A part that met its rules is sound, and its sections are those that are checked; None met none."""
    assume(part is not None)
    assert is_sound(part)
    assert worst_difference(part, stations) < (SOFTENED if part.edge_break else SHARP)
