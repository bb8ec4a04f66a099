"""The smallest fuses, wires and relays that satisfy every rule, and why smaller ones do not.

The rules themselves are the judges: every candidate is put into the circuit, the circuit is
solved, and the rules of rating and protection are asked. So no advice breaks a rule that the same
program tells of, and the reason why a smaller one fails is the sentence of the rule it breaks.
"""

from checks.sizing.advice import FUSE, RELAY, WIRE, Choice, Contact, Plan, Sized, Stuck, Tried
from checks.sizing.judges import COUNT, OF_FUSES, OF_RELAYS, OF_WIRES
from checks.sizing.plan import part_of_change, plan_sizes

__all__ = [
    "COUNT",
    "FUSE",
    "OF_FUSES",
    "OF_RELAYS",
    "OF_WIRES",
    "RELAY",
    "WIRE",
    "Choice",
    "Contact",
    "Plan",
    "Sized",
    "Stuck",
    "Tried",
    "part_of_change",
    "plan_sizes",
]
