"""The verbs of the command line: `check`, `operate`, `size`, `loads`, `draw`.

Only `draw` loads Qt.

Exit codes
----------
0. Nothing of severity danger or fault (`--strict` counts advice and unknown too); every step
   came to one steady state; the drawing is written.
1. Something was found; a step has several outcomes or no steady state.
2. A wrong call: an unknown verb, option, reference, position or fault, a reference that is not
   unique, an ending that cannot be drawn.
3. A file that cannot be read.
4. An internal error, or something this machine lacks.

Data goes to stdout, talk (warnings, errors) to stderr, an error as one sentence; `--debug` adds
the traceback. References are those of the drawing: K1, K1.86, W06. Where several parts bear one
reference, or a wire has no number, the output tells them apart as `K1 (1)`, `K1 (2)`, and a wire
by its ends, `S1.2 > K1.86`.

voltwalk check FILE [--json] [--strict] [--supply …] [--table CSV] [--keep] [--beside TABLE]
--------------------------------------------------------------------------------------------
`--supply` (resting, charging, cranking) looks at the circuit with its battery so.
`--table` uses a table of the user's own in this run (`model.file.csv_table` has its form) and
`--keep` writes it into FILE. `--beside` shows the circuit under another ampacity, bundle or copper
table as well, chosen by its id: both limits of every wire and the findings that differ.
::

    {"file": "pump.voltwalk",
     "circuit": "title of the circuit",
     "findings": [
       {"rule": "fuse-above-wire",       name of the rule
        "severity": "danger",            danger, fault, advice, unknown
        "parts": ["F1"],                 references, the main one first
        "wires": ["W05"],                numbers, the main one first
        "values": {"fuse_a": 15.0},      what the sentence was made of; SI units
        "source": "…",                   standard and table, or common practice
        "sentence": "…",                 the finding with its numbers
        "accepted": false,               true: a person took it on, it never counts
        "reason": "",                    why they did
        "assumed": [],                   its wires whose size or length is assumed
        "state": {                       the state that shows it; null: it holds in any
          "positions": {"S1": "ON"}, "engine": "stopped", "supply": "resting"}}],
     "tables": ["ampacity: vehicle"],    the published tables that were used
     "every_state": true,                false: too many combinations of positions to look at all
     "counts": {"danger": 1, "fault": 0, "advice": 0, "unknown": 0, "accepted": 0},
     "table_sources": [                  the tables with title, source, standing, conditions
       {"kind": "ampacity", "id": "vehicle", "title": "…", "source": "…",
        "standing": "verified", "conditions": "…"}],
     "wires": [                          every joined wire in the state that warms it most
       {"wire": "W05", "assumed": false, true: its size or length is assumed
        "current_a": 8.0, "may_carry_a": 21.0,   null: not known
        "copper_c": 40.9, "stands_c": 105.0,     where its copper settles, what it stands
        "surroundings_c": 30.0, "zone": "", "bundle": "", "loaded": 1, "bundle_share": 1.0,
        "table": "thin-wall", "standing": "verified"}],
     "beside": {                         with --beside: kind, chosen, other, then
       "wires": [{"wire": "W05", "assumed": false, "chosen": {}, "other": {}}],  both as in wires
       "gone": [], "new": [], "changed": []}}    findings of one only, or that say otherwise

voltwalk operate FILE [--set …] [--fault …] … [--json]
------------------------------------------------------
Each option is one step, in the order of the command line, settled before the next one; relays
remember the step before. What shall happen together stands in one option, with commas. Without
an option there is one step, everything at rest.

`--set S1=ON,S2=SET` moves controls. `engine=stopped|cranking|running` and
`supply=resting|charging|cranking` are set in the same way. A name or position with a comma or an
equals sign is put in quotes: `--set 'S3="LOW, COLD"'`. Capitals need not match.

`--fault` puts faults in place until `NAME=none`:

============================  ====================================================================
`W06=open`                    a wire broken; likewise a ground point, fuse, load, connector way
`F1=blown`                    a fuse blown
`W07=shell`, `K1.86=shell`    rubbed through to the shell, at a wire's first end or at a terminal,
                              by 5 mΩ; `W07=shell+10mohm` says by how much
`W07=supply`                  touching the battery's plus, likewise
`F1=+1ohm`                    a bad contact: so much more resistance in its path
`K1=welded`, `S1=welded`      the make contacts stay closed
`K1=stuck`, `S1=stuck`        the armature, or the control, stays where it is
`D1=short`, `K1.coil=short`   shorted inside
`K1.coil=open`, `H1.56a=open` one element of a part, by its own name or by a terminal
============================  ====================================================================

::

    {"file": "pump.voltwalk",
     "circuit": "title of the circuit",
     "steps": [
       {"set": {"S1": "ON"},             what this step moved; "engine" and "supply" too
        "faults": ["W06=open"],          every fault in place
        "settled": "steady",             steady, several (a race), none (never comes to rest)
        "engine": "stopped",             stopped, cranking, running: as it came out
        "supply": "resting",             resting, charging, cranking: as it applied
        "positions": {"S1": "ON"},       where every control stands
        "relays": {"K1": "in"},          in, out, flashing; "K1.latch" where it has several
        "loads": {"M1":                  "E1.main" where it has several
          {"state": "on",                on: above 60 % of the battery's stated voltage; weak: above
                                         8 %; off: below, or no current
           "voltage_v": 12.012,          from its first terminal to its second, negative: reversed
           "current_a": 8.008}},         without sign
        "terminals": {"K1.86": 12.358,   volts against the reference battery's minus; null: floating
                      "X1.3/b": 0.0},    the far face of a connector; X1.3 is the near one
        "wires": {"W01": 8.146},         amperes from the first end to the second
        "currents": {"F1": 8.008,        amperes through all else inside the parts, from its first
                     "K1.coil": 0.137}   terminal to its second
       }],
     "rests_on": ["…"]}                  assumed sizes and lengths, tables to be confirmed

Where `settled` is several, the step has `outcomes`, a list of each outcome with the fields from
`engine` to `currents`; where it is none, it has `states`, those it runs through for ever. Its own
fields then hold only what all of them share. The next step starts from the first of them.

voltwalk size FILE [REF …] [--json] [--table CSV]
-------------------------------------------------
The smallest fuses, wires and relays that satisfy every rule together, for the loads named or for
the whole circuit, and for each smaller one the rule that it breaks. Exit code 1 where nothing fits
for some load.
::

    {"file": "pump.voltwalk",
     "circuit": "title of the circuit",
     "loads": [
       {"load": "M1",                    reference of the load
        "current_a": 8.0,                its greatest running current
        "start_a": 24.0,                 its current while it starts
        "start_s": 0.2,                  for how long; 0: it draws no more than running
        "drop_share": 0.024,             lost on the way now, of the nominal voltage
        "fuse": "F1",                    the fuse nearest to it; "" for none
        "fuse_a": 15.0,                  its rating now; null for none
        "fits_a": 15.0,                  the smallest that fits; null where none does
        "wires": ["W01"],                the wires on its way that are sized
        "sizes": ["2.5 mm²"],            their sizes now; null where not known
        "fits_size": "1.5 mm²",          the smallest for those nearest to it; null for none
        "contacts": [                    the contacts on the way
          {"part": "K1", "current_a": 8.0, "kind": "motor", "rating_a": 40.0, "needs_a": 14.5}],
        "smaller": [                     what is smaller, the rule it breaks and the sentence
          {"what": "10 A", "rule": "fuse-below-running", "why": "…"}],
        "stuck": "",                     where nothing fits: which demands contradict each other
        "assumed": [],                   wires whose size or length had to be assumed
        "axis": [                        load, fuse, wire and short on one axis of current
          {"lane": "load", "what": "running", "low_a": 8.0, "high_a": 8.0}],
        "ampacity_table": "vehicle"}],   the published table that was used
     "choices": [                        everything that is sized, once each
       {"kind": "fuse",                  fuse, wire or relay
        "part": "F1", "wires": [],       what it is
        "loads": ["M1"],                 whose current it carries
        "current_a": 8.0,                the greatest
        "now": "15 A", "fits": "15 A",   what is there, the smallest that fits; null for none
        "changes": false,                whether they differ
        "source": "",                    table and standing that it rests on
        "smaller": [],                   as above
        "needs": "", "against": ""}],    where nothing fits: the two demands
     "rests_on": ["…"],                  assumed lengths, usual values, tables
     "left": [],                         what no size meets of rules of good practice
     "worse": [],                        what other rules would find after it
     "ampacity_table": "vehicle",
     "copper_table": "vehicle"}

voltwalk loads FILE [--use REF=SHARE …] [--json]
------------------------------------------------
What every load and coil draws, and what all of them ask of battery and alternator. `--use` tells
the share of time that a load is in use, instead of what the file states (`use_share`); where
neither does, it counts as used all the time.
::

    {"file": "pump.voltwalk",
     "circuit": "title of the circuit",
     "loads": [
       {"part": "M1", "coil": false,     a load, or a relay's coil
        "element": "",                   which of several loads in the part
        "runs_a": 8.0,                   its greatest running current
        "starts_a": 24.0,                while it starts
        "starts_s": 0.2,                 for how long; 0: it draws no more than running
        "rests_a": 0.0,                  with every control at rest
        "use": 1.0, "average_a": 8.0,    share of time it is used, and running current times that
        "assumed": []}],                 what is not stated of it and taken as usual
     "scenarios": [
       {"name": "rest",                  rest, most (together), use (on average), start
        "current_a": 0.0,                what all draw together
        "positions": {"S1": "ON"},       the state; empty for averages
        "engine": "stopped",             null for averages
        "half_lasts_h": null}],          hours to half of the batteries' charge; null: for ever
     "rests_on": ["…"],                  assumed sizes and lengths, tables to be confirmed
     "battery_ah": 60.0,                 of the batteries on the ground side
     "battery_spare_ah": 30.0,           what they hold above half of it
     "battery_assumed": true,            one of them is not stated
     "alternator_a": 0.0,                of all alternators
     "alternator_assumed": false,
     "alternator_idle_a": 0.0,           taken at idle; common practice, no source
     "supplies": [                       who gives what, each case solved by itself
       {"supply": "resting",             resting, charging or cranking
        "case": "rest",                  rest (all controls), most (the loads draw most together)
        "positions": {}, "engine": "stopped",
        "loads_a": 0.0,                  what all loads and coils draw
        "starter_a": 0.0,                what a starter's motor draws beside them
        "average_a": 0.0,                with the share of time that each is used
        "battery_a": 0.0,                what the batteries give; below 0 they are charged
        "battery_v": 12.6,               at the terminals of the first of them
        "alternator_a": 0.0,             what the alternators give
        "idle_left_a": null,             at idle less the average; null unless one charges
        "rated_left_a": null,            at speed, likewise
        "half_lasts_h": null}]}          hours to half of the charge; null: nothing is short

voltwalk draw FILE --out OUT [--json]
-------------------------------------
Draws the sheet in the light theme; the ending of OUT says how: svg, pdf or png.
::

    {"file": "pump.voltwalk", "out": "pump.pdf", "bytes": 20480}
"""
