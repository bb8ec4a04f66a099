"""Random circuits that look like vehicle wiring, for the layout's tests."""

from __future__ import annotations

from random import Random

from model.circuit import Circuit, End, Part, Sheet, Wire
from model.kinds import KINDS
from model.lookup import body_of
from model.wiresize import Size

LOADS = ("pump", "fan", "lamp", "lamp-twin", "heater", "horn", "solenoid", "module", "starter")
IN_LINE = ("fuse-blade", "switch", "push-break", "crash-switch", "breaker", "diode", "connector")
RELAYS = ("relay-make", "relay-diode", "relay-changeover", "timer", "flasher")


def random_circuit(seed: int, parts: int) -> Circuit:
    """Return a circuit of about that many parts: branches from a battery, some stray wires."""
    return _Maker(Random(seed)).make(parts)


class _Maker:
    """Adds parts and wires step by step."""

    def __init__(self, random: Random) -> None:
        self.random = random
        self.parts: dict[str, Part] = {}
        self.wires: dict[str, Wire] = {}
        self.live: list[End] = []
        self.grounds: list[End] = []

    def make(self, count: int) -> Circuit:
        """Return the circuit."""
        battery = self.add("battery")
        for _ in range(max(1, count // 12)):
            self.grounds.append(End(self.add("ground"), "g"))
        self.join(End(battery, "-"), self.grounds[0])
        self.live.append(End(battery, "+"))
        while len(self.parts) < count:
            self.step()
        self.strays(count // 10)
        return Circuit(parts=self.parts, wires=self.wires, sheets={"s1": Sheet("s1")})

    def step(self) -> None:
        """Add one part to what is live."""
        feed = self.random.choice(self.live[-6:] if self.random.random() < 0.7 else self.live)
        act = self.random.random()
        if act < 0.4:
            self.in_line(feed)
        elif act < 0.6:
            self.relay(feed)
        elif act < 0.7:
            splice = self.add(self.random.choice(("splice", "stud")))
            self.join(feed, End(splice, "s"))
            self.live.append(End(splice, "s"))
        else:
            self.load(feed)

    def in_line(self, feed: End) -> None:
        """Add a part that the feed goes through."""
        part = self.add(self.random.choice(IN_LINE))
        ends = self.ends(part)
        self.join(feed, ends[0])
        self.live.append(ends[len(ends) // 2] if len(ends) > 2 else ends[1])

    def relay(self, feed: End) -> None:
        """Add a relay fed by one and controlled by another live end."""
        part = self.add(self.random.choice(RELAYS))
        ends = self.ends(part)
        self.join(feed, ends[0])
        if len(ends) > 3:
            self.join(self.random.choice(self.live), ends[1])
        self.join(ends[-1], self.random.choice(self.grounds))
        self.live.append(ends[-2])

    def load(self, feed: End) -> None:
        """Add a load and ground it."""
        ends = self.ends(self.add(self.random.choice(LOADS)))
        self.join(feed, ends[0])
        self.join(ends[-1], self.random.choice(self.grounds))

    def strays(self, count: int) -> None:
        """Join any two ends, and leave some wires open."""
        every = [e for p in self.parts for e in self.ends(p)]
        for _ in range(count):
            first, second = self.random.sample(every, 2)
            if first.part != second.part:
                self.join(first, second)
        self.wire(Wire("", first=self.random.choice(every)))

    def add(self, kind: str) -> str:
        """Add a part and return its id."""
        key = f"p{len(self.parts) + 1}"
        name = self.random.choice(("", "left front", "a longer name of a part", "rear"))
        letter = KINDS[kind].letter
        self.parts[key] = Part(key, kind, f"{letter}{len(self.parts) + 1}", name)
        return key

    def ends(self, part: str) -> list[End]:
        """Return the ends a part offers."""
        body = body_of(Circuit(parts=self.parts), self.parts[part])
        return [End(part, t.key, t.face) for t in body.terminals]

    def join(self, first: End, second: End) -> None:
        """Wire two ends."""
        size = Size(mm2=self.random.choice((0.75, 1.5, 4.0)))
        self.wire(Wire("", first=first, second=second, size=size))

    def wire(self, wire: Wire) -> None:
        """Add a wire under the next number."""
        key = f"w{len(self.wires) + 1}"
        self.wires[key] = Wire(key, key.upper(), wire.first, wire.second, wire.size)
