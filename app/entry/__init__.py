"""One typed line, read into one undoable change or into a sentence that says what would fit.

A line holds one or more clauses, parted by a comma or by ``|``. A comma between two digits is a
decimal comma. Capitals do not matter where nothing depends on them.

**Place a part** with its plain name, then what is known of it in any order::

    relay                     fuse 15 A                 lamp 21 W
    pump fuse 15 A            pump 8 A left rear pump   24 V relay
    S5 switch                 BAT battery 12.6 V        2 lamps
    relay coil 85 ohm         connector 6 ways          headlamp 60/55 W
    relay: fuel pump          switch "dash, left"       switch STOP RUN

Where the first words end in a kind of part, that is the kind and all of them are the name ("pump
fuse" is a fuse); otherwise the first kind among them is it and the rest is the name. A colon or
quotation marks part a name from the kind. Names may be cut short ("cra") or misspelt a little.

**Wire two ends**, then size, colour, length and number in any order::

    S1.2 K1.86 0.75 YE 1 m    K1 86 S1 2 18 AWG RD/BU   X1.3/b open
    S1 G1                     BAT F1 S1 K1.86           S1.2 K1.86 ?

A part alone takes its free terminal, if only one fits. More than two ends make a chain: each is
wired to the next, and a part alone in between is passed through. What is not typed is taken from
the last wire typed, and shown; a wire to ground starts black. ``?`` leaves it unknown.

**Change** by naming the thing first::

    K1 coil 85 ohm            M1 8 A                    K1 diode
    W5 2.5                    W5 2.5 mm² 1.2 m RD       W5 S1.2 K1.85
    name K1 pump relay        rename K1 K7              delete W5 K1
    S1 rest ON                X1 8 ways
    duty M1 critical          note W5 found loose
    zone bay 85 °C K1 F2      bundle B1 W3 W7

A size in plain mm can mean two things, so it is asked back.
"""

from app.entry.complete import complete
from app.entry.plan import Cursor, Recent
from app.entry.read import Entry, Refusal, read
from app.entry.suggest import Suggestion

__all__ = ["Cursor", "Entry", "Recent", "Refusal", "Suggestion", "complete", "read"]
