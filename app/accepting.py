"""Findings that a person accepts with a reason, or takes back, as changes of the circuit."""

from __future__ import annotations

from datetime import date

from app.analysis import Shown
from model.changes import Change
from model.circuit import Acceptance, Circuit
from model.edits import accept, remove
from model.lookup import fresh_id


def accepted(circuit: Circuit, finding: Shown, reason: str, day: date) -> Change | None:
    """Return the change that accepts a finding, None without a reason or where it is accepted."""
    if not reason.strip() or _matching(circuit, finding):
        return None
    made = Acceptance(
        fresh_id(circuit.accepted, "a"),
        finding.rule,
        finding.parts,
        finding.wires,
        reason.strip(),
        circuit.settings.author,
        day.isoformat(),
    )
    return accept(circuit, made)


def taken_back(circuit: Circuit, finding: Shown) -> Change | None:
    """Return the change that lets an accepted finding count again, None if it is not accepted."""
    found = _matching(circuit, finding)
    text = f"Take back the acceptance of {finding.rule}"
    return remove(circuit, "accepted", found, text) if found else None


def _matching(circuit: Circuit, finding: Shown) -> list[str]:
    """Return the acceptances that are about a finding: same rule, same parts and wires."""
    return [
        key
        for key, a in circuit.accepted.items()
        if a.rule == finding.rule
        and set(a.parts) == set(finding.parts)
        and set(a.wires) == set(finding.wires)
    ]
