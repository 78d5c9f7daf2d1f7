"""The aircraft's own magnetism at a mounting place, in the trade's letters."""

from __future__ import annotations

from typing import Annotated, ClassVar

from gyrochalk.demonstration.section import Section, key
from gyrochalk.demonstration.values import Quantity
from gyrochalk.systems.instruments import Magnetism, Triple

Field = Annotated[float, Quantity("uT", -1000, 1000)]
Share = Annotated[float, Quantity("1", -5, 5)]


class HardIronKeys(Section):
    """A field fixed in the aircraft: P along the nose, Q along the right wing, R down."""

    p_ut: Field = key("P", "Along the nose, 1.5 uT.")
    q_ut: Field = key("Q", "Along the right wing.")
    r_ut: Field = key("R", "Down.")

    def vector(self) -> Triple:
        """(P, Q, R) [µT], 0 where nothing is written."""
        given = self.given()
        return (given.get("p_ut", 0.0), given.get("q_ut", 0.0), given.get("r_ut", 0.0))


class SoftIronKeys(Section):
    """Poisson's nine coefficients of induced magnetism."""

    a: Share = key("a", "Nose field from nose field.")
    b: Share = key("b", "Nose field from wing field.")
    c: Share = key("c", "Nose field from down field.")
    d: Share = key("d", "Wing field from nose field.")
    e: Share = key("e", "Wing field from wing field.")
    f: Share = key("f", "Wing field from down field.")
    g: Share = key("g", "Down field from nose field.")
    h: Share = key("h", "Down field from wing field.")
    k: Share = key("k", "Down field from down field.")

    def rows(self) -> tuple[Triple, Triple, Triple]:
        """((a, b, c), (d, e, f), (g, h, k)), 0 where nothing is written."""
        given = self.given()
        a, b, c, d, e, f, g, h, k = (float(given.get(name, 0.0)) for name in "abcdefghk")
        return (a, b, c), (d, e, f), (g, h, k)


class MagnetismKeys(Section):
    """The aircraft's magnetism at one mounting place."""

    target: ClassVar[type | None] = Magnetism

    hard_ut: HardIronKeys = key("hard_iron", "A field fixed in the aircraft.")
    soft: SoftIronKeys = key("soft_iron", "Fields induced in soft iron.")
    loads_ut: dict[str, HardIronKeys] = key("loads", "The field each electrical load adds while it is on, by its name.")

    def magnetism(self) -> Magnetism:
        """What is written, nothing where nothing is."""
        given = self.given()
        return Magnetism(
            given["hard_ut"].vector() if "hard_ut" in given else Magnetism().hard_ut,
            given["soft"].rows() if "soft" in given else Magnetism().soft,
            tuple((name, load.vector()) for name, load in given.get("loads_ut", {}).items()),
        )


class AircraftKeys(Section):
    """The aircraft's magnetism where the compass and the detector are mounted."""

    compass: MagnetismKeys = key("compass", "At the direct-reading compass.")
    detector: MagnetismKeys = key("detector", "At the flux detector.")

    def loads(self) -> tuple[str, ...]:
        """Names of all electrical loads."""
        places = self.given().values()
        return tuple(dict.fromkeys(name for place in places for name in place.given().get("loads_ut", {})))
