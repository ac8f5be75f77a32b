"""A person as an outline in a view: limbs that melt into one another, solid for the student, striped for the feeder."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from xml.etree.ElementTree import Element, SubElement

from cornercue.feed.body import HEAD_RADIUS, Point
from cornercue.picture.people import BodyPart, Person
from cornercue.picture.style import COLOURS, fill

SCALE = 128
"""Units to a metre."""

EDGE = 2.0
NOSE = 0.05
INK = {"class": "ink-line", "stroke": COLOURS["ink"][0]}
GROUND = {"class": "ground-line", "stroke": COLOURS["ground"][0]}
SOLID = {"class": "water-line", "stroke": COLOURS["water"][0]}
STRIPED = {"stroke": "url(#picture-feeder)"}
Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Projection:
    """Where the student's feet are in the drawing, and which way is which: metres across and down."""

    name: str
    origin: Spot
    flat: Callable[[Point], Spot]

    def at(self, point: Point) -> Spot:
        """A point of the room in units of the drawing."""
        across, down = self.flat(point)
        return self.origin[0] + across * SCALE, self.origin[1] + down * SCALE


SIDE = Projection("side", (46.0, 310.0), lambda point: (point.x, -point.z))
ABOVE = Projection("above", (436.0, 80.0), lambda point: (point.y, point.x))


def draw_person(group: Element, view: Projection, person: Person, palms: bool) -> None:
    """Body, head and arms, the nearest to the eye last; `palms` open, or else gloves."""
    paint = SOLID if person.forward > 0 else STRIPED
    arms = [*person.arms, *(_hand(view, hand, person, palms) for hand in person.hands)]
    outline(group, view, person.body, paint)
    if view is SIDE:
        _head(group, view, person, paint)
    outline(group, view, arms, paint)
    if view is ABOVE:
        _head(group, view, person, paint)


def _hand(view: Projection, hand: Point, person: Person, palms: bool) -> BodyPart:
    """A glove is a ball, an open palm a bar across towards the stick; the feeder's hand is a fist."""
    if person.forward < 0 or not palms:
        return BodyPart(0.04 if person.forward < 0 else 0.065, (hand, hand))
    if view is SIDE:
        return BodyPart(0.022, (hand._replace(z=hand.z - 0.075), hand._replace(z=hand.z + 0.075)))
    return BodyPart(0.022, (hand._replace(y=hand.y - 0.05), hand._replace(y=hand.y + 0.05)))


def _head(group: Element, view: Projection, person: Person, paint: dict[str, str]) -> None:
    """A ball with a nose, so that it is seen which way somebody looks."""
    head = person.head
    root = head._replace(x=head.x + person.forward * 0.8 * HEAD_RADIUS)
    tip = head._replace(x=head.x + person.forward * (HEAD_RADIUS + NOSE))
    wide = Point(0.0, 0.05, 0.05)
    corners = (
        root._replace(y=root.y - wide.y, z=root.z - wide.z),
        tip,
        root._replace(y=root.y + wide.y, z=root.z + wide.z),
    )
    SubElement(group, "path", {"d": way_of(view, corners, 0), **fill("ink")})
    outline(group, view, (BodyPart(HEAD_RADIUS, (head, head)),), paint)


def outline(group: Element, view: Projection, limbs: Iterable[BodyPart], paint: dict[str, str]) -> None:
    """Limbs melt into one outline: all of them wide in ink, then all again narrower in the person's own fill."""
    by_width: dict[int, str] = {}
    for limb in limbs:
        wide = round(2 * limb.half * SCALE)
        by_width[wide] = by_width.get(wide, "") + way_of(view, limb.points, 0)
    for look, more in ((INK, EDGE), (paint, -EDGE)):
        layer = SubElement(group, "g", look)
        for wide, d in by_width.items():
            SubElement(layer, "path", {"d": d, "stroke-width": short(wide + more)})


def way_of(view: Projection, points: Iterable[Point], places: int = 1) -> str:
    """Points as a path, to so many decimals; a dot where they are one."""
    flat = [f"{short(x, places)} {short(y, places)}" for x, y in map(view.at, points)]
    return f"M{flat[0]}h0" if len(set(flat)) == 1 else "M" + "L".join(flat)


def short(value: float, places: int = 1) -> str:
    """A length in few signs."""
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
