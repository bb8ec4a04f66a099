"""Plants one common mistake at a time in sound circuits, at every place where it can be made.

The mistakes are those that workshops meet most (common practice, no source). Each function takes
a circuit and yields a `Plant` for every place: the circuit with the mistake, where it is, which
rules have to name what, and which further findings the mistake explains. What is reckoned here
(what hangs on what, which copper is too thin) is reckoned apart from the checks it tests.
"""

from tests.planting.contacts import (
    contact_for_running_start,
    contact_for_steady_current,
    load_on_the_break_contact,
)
from tests.planting.dash import through_dash_switch
from tests.planting.feeds import fuse_missing, undersized_run
from tests.planting.plant import Plant
from tests.planting.protecting import (
    breaker_that_resets,
    fuse_at_load_end,
    fuses_doubled,
    relay_as_protection,
    relays_doubled,
    short_that_blows_nothing,
)
from tests.planting.ratings import (
    cable_misread,
    diode_for_motor,
    fuse_run_full,
    fuse_too_large,
    suppression_left_out,
    thin_without_fuse,
)
from tests.planting.relays import (
    break_for_make,
    coil_of_other_voltage,
    diode_relay_reversed,
    feed_and_make_interchanged,
    indicator_on_the_far_side,
)
from tests.planting.returns import return_forgotten_or_thin, shared_thin_ground

MISTAKES = {
    "no fuse at the battery end": fuse_missing,
    "87a used where 87 was meant": break_for_make,
    "30 and 87 interchanged on a change-over relay": feed_and_make_interchanged,
    "86 and 85 reversed on a relay with a diode": diode_relay_reversed,
    "an indicator on the far side of a coil": indicator_on_the_far_side,
    "load current through the dash switch": through_dash_switch,
    "several heavy loads on one thin shared ground": shared_thin_ground,
    "return wire forgotten, or thinner than the feed": return_forgotten_or_thin,
    "undersized long run": undersized_run,
    "coil of another voltage": coil_of_other_voltage,
    "a fuse larger than its wire stands": fuse_too_large,
    "thin wire behind thick without a fuse of its own": thin_without_fuse,
    "cable called 3 mm read as 3 mm²": cable_misread,
    "a fuse run at nearly all of its rating": fuse_run_full,
    "a coil without suppression": suppression_left_out,
    "a plain diode on a relay for a motor": diode_for_motor,
    "a contact rated for the steady current": contact_for_steady_current,
    "a contact rated for a motor running, not for its start": contact_for_running_start,
    "motors or lamps on the break contact": load_on_the_break_contact,
    "a fuse at the load's end of its wire": fuse_at_load_end,
    "no fuse because there is a relay": relay_as_protection,
    "a run so long that a short does not blow its fuse": short_that_blows_nothing,
    "a breaker that resets itself, alone": breaker_that_resets,
    "two fuses side by side": fuses_doubled,
    "two relays side by side": relays_doubled,
}

__all__ = ["MISTAKES", "Plant"]
