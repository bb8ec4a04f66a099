"""The file of a circuit, ``NAME.voltwalk``: JSON in UTF-8 that a person can read, write and merge.

One part, wire or place stands on a line, in a stable order, and only what differs from a default
is written. Numbers are plain and in the unit their key names (``m`` metres, ``mm2`` square
millimetres, ``_a`` amperes, ``_v`` volts, ``_ohm`` ohms, ``_s`` seconds, ``_w`` watts, ``_c``
degrees Celsius). Opening a file runs nothing. A small circuit::

    {"voltwalk": 1,
    "title": "Cabin fan",
    "parts": [
    {"id": "g1", "kind": "battery", "ref": "G1"},
    {"id": "f1", "kind": "fuse-blade", "ref": "F1", "ratings": {"rating_a": 10}},
    {"id": "s1", "kind": "switch", "ref": "S1", "name": "fan switch"},
    {"id": "m1", "kind": "fan", "ref": "M1", "ratings": {"current_a": 6, "at_v": 12}},
    {"id": "x1", "kind": "ground", "ref": "X1"},
    {"id": "x2", "kind": "ground", "ref": "X2", "name": "battery to body"}
    ],
    "wires": [
    {"id": "w1", "no": "W01", "from": "g1.+", "to": "f1.1", "mm2": 2.5, "m": 0.15, "colour": "RD"},
    {"id": "w2", "no": "W02", "from": "f1.2", "to": "s1.1", "mm2": 1.5, "m": 1.2, "colour": "RD"},
    {"id": "w3", "no": "W03", "from": "s1.2", "to": "m1.+", "awg": 16, "m": 0.9, "colour": "YE"},
    {"id": "w4", "no": "W04", "from": "m1.-", "to": "x1.g", "mm2": 1.5, "m": 0.2, "colour": "BK"},
    {"id": "w5", "no": "W05", "from": "x2.g", "to": "g1.-", "mm2": 16, "m": 0.3, "colour": "BK"}
    ]
    }

Only ``voltwalk`` is required at the top, ``id`` in every record and ``kind`` in a part. Ids tie
the records together and are never shown: 1 to 64 characters without dot and slash, each once among
parts and wires. ``ref`` and ``no`` are for people and may repeat.

At the top
    ``voltwalk`` (the version, 1), ``title``, ``vehicle``, ``author``, ``revision``, ``date``,
    ``note``, ``nominal_v`` (12), ``reference_battery`` (an id), ``conditions`` (``supply``
    resting, charging or cranking; ``engine`` stopped, cranking or running; ``engine_follows``;
    ``temperature_c`` of coils and wires; ``zone_c`` around what is in no zone), ``constants``
    (values that replace the program's: ``copper_ohm_mm2_m``, ``wire_ends_ohm`` of both ends
    together, ``switch_contact_ohm``, ``relay_contact_ohm``, ``fuse_ohm_a`` divided by the rating,
    ``ground_ohm``, ``way_ohm``, ``diode_v``, ``diode_ohm``, ``pull_in_share``,
    ``drop_out_share``, ``critical_drop_share`` and ``ordinary_drop_share`` that loads may lose),
    ``tables`` (the chosen ``copper``, ``ampacity`` and
    ``bundle``).
``parts``
    ``id``, ``kind``, ``ref``, ``name``, ``ratings`` (of its kind, what was stated), ``duty``
    (``off_at_rest``, ``critical``, ``stops_in_crash``, ``runs_engine_stopped``,
    ``keeps_engine``), ``terminals``, ``table`` and ``rest`` (a control's own terminals, positions
    and rest position), ``ways`` (of a bus bar, fuse box, connector), ``markings`` (terminal to
    what is printed there), ``host`` and ``slot`` (the part it sits in), ``faces`` ([gender, view]
    of face a and b), ``location``, ``branch``, ``note``, ``zone`` (an id),
    ``type`` (of a table of types). Kinds with their terminals and ratings:
    ``assets/format/kinds.md``. A table names what each position closes:
    ``{"OFF": [], "ON": [["30", "15"]]}``; instead of the pairs an object may stand, with
    ``closed``, ``springs_to`` (a position) and ``latches``.
``wires``
    ``id``, ``no``, ``from`` and ``to`` (``ID.TERMINAL``; ``ID.WAY/a`` or ``/b`` at a connector;
    left out: an open end), ``mm2`` or ``awg`` (18, or "2/0"), ``m``, ``colour`` and ``tracer``
    (IEC 60757 letters), ``found_colour``, ``insulation``, ``circuit``, ``confidence`` (seen,
    measured, assumed), ``cable``, ``branches``, ``from_fit`` and ``to_fit`` (``terminal``,
    ``seal``, ``strip_m``, ``number``), ``ends_ohm`` (both ends, measured), ``note``, ``zone``.
``sheets``
    ``id``, ``name``, ``places`` (``id``, ``part``, ``x``, ``y`` of the centre on a grid of 10,
    ``turn`` 0, 90, 180 or 270 clockwise, ``mirrored``, ``shows`` elements by name, ``pinned``)
    and ``routes`` (``wire``, ``bends`` as [x, y]). A part without a place is laid out.
``branches``, ``cables``
    ``id``, ``name``, ``start``, ``end``, ``m``, ``zone_c``, ``wet``, ``shaking``, ``cover``,
    ``note``, ``zone`` of a stretch of harness, whose wires are one bundle; ``id``, ``name``,
    ``sheath``, ``screened``, ``note``.
``own_kinds``
    ``id`` (what parts write in ``kind``), ``title``, ``family``, ``letter``, ``terminals`` (by
    name: ``form``, ``side``, ``meaning``), ``elements`` (by name: ``type``, the nodes ``a`` and
    ``b``, and by type ``closed``, ``by``, ``rating``, ``ohm``, ``volt``, ``moves``, ``action``,
    ``prefix``, ``draws``, ``source``; ``when`` a rating has a value), ``positions`` (as
    ``table``), ``rest``, ``slots`` (by name: ``joins`` as [guest's terminal, own node],
    ``takes``), ``ratings`` (by name: ``title``, ``quantity``, ``default``, ``default_24``,
    ``source``, ``choices``, ``constant``, ``follows``, ``table``), ``duty``, ``shape``,
    ``aliases``, ``about``, ``icon``. Types: contact, coil, resistance, diode, fuse, load, source,
    bond, way, shell. Every rating an element names must be there.
``accepted``, ``promises``
    ``id``, ``rule``, ``parts``, ``wires``, ``reason``, ``by``, ``date`` of a finding accepted;
    ``id``, ``text``, ``faults`` (also under every single fault) of a promise.
``zones``
    ``id``, ``name``, ``c`` (how warm it is there at worst, 30), ``note``.
``own_tables``
    Tables of the user's: ``id``, ``sort`` (ampacity, fuse-band, bundle, types), ``title``,
    ``source``, ``edition``, ``conditions``, ``ambient_c``, ``from_a`` and ``to_a`` (fuse ratings
    of a band), ``heads``, ``rows``; the columns are those of `model.file.csv_table`.

An unknown field is kept where it was and reported. A file of a later version opens read-only with
what is understood. Anything else that does not fit is refused as a whole by one `FileError`.
Saving is atomic and keeps what was there before as ``NAME.voltwalk~``. The same as a JSON schema:
``assets/format/voltwalk-1.schema.json``.
"""

from __future__ import annotations

from model.file.disk import BACKUP, load, save
from model.file.errors import FileError
from model.file.reading import VERSION, Loaded, loads
from model.file.writing import dumps

__all__ = ["BACKUP", "VERSION", "FileError", "Loaded", "dumps", "load", "loads", "save"]
