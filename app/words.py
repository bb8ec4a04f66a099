"""Sentences of the window: how the circuit stands, and the cautions."""

from __future__ import annotations

from app.session import Session
from app.tr import tr
from checks.finding import SEVERITIES
from checks.used import assumed_wires, to_be_confirmed
from model.lookup import label

CAUTIONS = (
    "Fuel, high current and moving vehicles can hurt people. Disconnect the battery "
    "before working. Protect at the source. Keep relays and open contacts out of fuel vapour. Test "
    "with the current limited. A crash or kill circuit must be proven on the vehicle.",
    "Results are a calculation from the data entered, not an inspection. The vehicle's maker, the "
    "event's rules, local codes and a licensed person decide.",
)
"""What stands in the About box and on every paper."""
ABOUT = "draws relay-controlled 12 V and 24 V vehicle circuits and checks what they do."
OUTCOMES = {
    "several": "The relays race: {count} outcomes are possible; one of them is shown.",
    "none": "There is no steady state: the relays go on without end.",
}


def safety() -> str:
    """Return what the About box says."""
    return f"<b>Voltwalk</b> {tr(ABOUT)}<br><br>{'<br><br>'.join(map(tr, CAUTIONS))}"


def status_of(session: Session) -> str:
    """Return one line: mode, conditions, state, findings, and whether it rests on guesses."""
    words = [tr(session.mode.capitalize()), _sheet(session), _conditions(session)]
    words.append(_selection(session))
    words += [_outcome(session), _findings(session), _rests(session)]
    return "   ·   ".join(w for w in words if w)


def _sheet(session: Session) -> str:
    sheets = list(session.circuit.sheets.values())
    if len(sheets) < 2:
        return ""
    name, at = session.sheet.name or tr("Sheet"), sheets.index(session.sheet) + 1
    return tr("{name} ({at} of {count})", name=name, at=at, count=len(sheets))


def _conditions(session: Session) -> str:
    engine, supply = tr(session.setting.engine), tr(session.setting.supply)
    return tr("engine {engine}, battery {supply}", engine=engine, supply=supply)


def _selection(session: Session) -> str:
    parts, wires = session.circuit.parts, session.circuit.wires
    names = [label(parts[i]) for i in parts if i in session.selection]
    names += [wires[i].number for i in wires if i in session.selection]
    return ", ".join(names[:4]) + (" …" if len(names) > 4 else "")


def _outcome(session: Session) -> str:
    settled = session.analysis.settled
    if session.analysis.trouble:
        return tr(session.analysis.trouble)
    if settled is None or settled.settled not in OUTCOMES:
        return ""
    return tr(OUTCOMES[settled.settled], count=len(settled.states))


def _findings(session: Session) -> str:
    if not session.analysis.checked:
        return ""
    open_ones = [f.severity for f in session.analysis.findings if not f.accepted]
    counts = [f"{open_ones.count(s)} {tr(s)}" for s in SEVERITIES if s in open_ones]
    return ", ".join(counts) or tr("nothing found")


def _rests(session: Session) -> str:
    """Return what every number shown rests on that is not known."""
    count = len(assumed_wires(session.circuit))
    said = [tr("assumed: size or length of {count} wires", count=count)] if count > 1 else []
    said += [tr("assumed: size or length of one wire")] if count == 1 else []
    said += [tr("tables to be confirmed")] if to_be_confirmed(session.circuit) else []
    return "   ·   ".join(said)
