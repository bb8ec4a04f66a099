"""Acts that change how the circuit is looked at: mode, overlay, theme, zoom, docks, conditions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer

from app.windowing.layout import toggle

if TYPE_CHECKING:
    from app.window import Window

USUAL = ("tray", "details", "findings")


class LookActs(QObject):
    """Looking and operating, as menus and keys ask for it."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.session = window.session

    def do_fit(self) -> None:
        """Show the whole sheet."""
        self.window.view.fit()

    def do_zoom_in(self) -> None:
        """Show it larger."""
        self.window.view.zoom(1.25)

    def do_zoom_out(self) -> None:
        """Show it smaller."""
        self.window.view.zoom(0.8)

    def do_docks(self) -> None:
        """Hide all docks, or show those of the usual view."""
        shown = any(not d.isHidden() for d in self.window.docks.values())
        if self.window.view.shows_all():
            QTimer.singleShot(0, self._on_room)
        for key, dock in self.window.docks.items():
            dock.setVisible(not shown and key in USUAL)
        self.window.view.setFocus()

    def _on_room(self) -> None:
        """Show a sheet that was seen whole as large as it fits into the new room."""
        self.window.sheets.sights.begin()

    def do_sheet(self) -> None:
        """Give the keys to the sheet."""
        self.window.view.setFocus()

    def do_rest(self) -> None:
        """Put every control to rest and forget what the relays did."""
        self.session.to_rest()

    def do_mode_draw(self) -> None:
        """Change the circuit."""
        self.session.look_at(mode="draw")

    def do_mode_operate(self) -> None:
        """Run the circuit."""
        self.session.look_at(mode="operate")

    def do_overlay_state(self) -> None:
        """Show the state over the wires."""
        self.session.look_at(overlay="state")

    def do_overlay_findings(self) -> None:
        """Show the findings over the wires."""
        self.session.look_at(overlay="findings")

    def do_overlay_role(self) -> None:
        """Show over the wires what each is for."""
        self.session.look_at(overlay="role")

    def do_overlay_none(self) -> None:
        """Show nothing over the wires."""
        self.session.look_at(overlay="none")

    def do_theme_light(self) -> None:
        """Take the light theme."""
        self.session.look_at(theme="light")

    def do_theme_dark(self) -> None:
        """Take the dark theme."""
        self.session.look_at(theme="dark")

    def do_theme_projector(self) -> None:
        """Take the projector theme."""
        self.session.look_at(theme="projector")

    def do_engine_stopped(self) -> None:
        """Take the engine as stopped."""
        self.session.set_conditions(engine="stopped")

    def do_engine_cranking(self) -> None:
        """Take the engine as cranking."""
        self.session.set_conditions(engine="cranking")

    def do_engine_running(self) -> None:
        """Take the engine as running."""
        self.session.set_conditions(engine="running")

    def do_supply_resting(self) -> None:
        """Take the battery as resting."""
        self.session.set_conditions(supply="resting")

    def do_supply_charging(self) -> None:
        """Take the battery as charging."""
        self.session.set_conditions(supply="charging")

    def do_supply_cranking(self) -> None:
        """Take the battery as cranking."""
        self.session.set_conditions(supply="cranking")

    def do_dock_tray(self) -> None:
        """Show or hide the dock."""
        self._toggle("tray")

    def do_dock_details(self) -> None:
        """Show or hide the dock."""
        self._toggle("details")

    def do_dock_findings(self) -> None:
        """Show or hide the dock."""
        self._toggle("findings")

    def do_dock_schedule(self) -> None:
        """Show or hide the dock."""
        self._toggle("schedule")

    def _toggle(self, key: str) -> None:
        toggle(self.window, key)
