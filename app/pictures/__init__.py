"""Pictures that the program makes: contact sheet, drawings, exports.

How the pictograms in `assets/icons` are drawn
----------------------------------------------
One file a part kind, `<kind>.svg`; the actions and the severity marks stand in `actions/`;
`app.svg` is the emblem, a current loop that walks, and alone has colours of its own.

* Grid `viewBox="0 0 64 64"`. One stroke of 4, set once on the root, with round caps and joins, so
  lines on even coordinates are crisp at 32, 64 and 128 px. Gaps between lines are 3 or more.
* Corner radius 4; 2 on small solid blocks, whose stroke adds the other 2. Contact points are
  solid dots of radius 4.5 to 6, measured without a stroke.
* Only `svg`, `g`, `path`, `line`, `rect` and `circle` with plain presentation attributes. The only
  colour is `currentColor`. QtSvg draws it with the `color` attribute of the root, black without
  one; `assets.icons.icon_svg` sets it.
* From the thing itself where it has a face of its own (fuse, lamp, injector, pedal disc), from
  IEC 60617 where the trade knows the sign (contact, coil, frame ground, diode, resistor).
* No terminal numbers and no words: the card adds those.
* The outline of a severity mark is its meaning: *danger* a solid diamond, *fault* a solid
  triangle, *advice* a circle, *unknown* a square, *accepted* a hexagon.

What moves
----------
The root of a contact's picture carries its geometry in grid units, and elements that move
have ids:

* `arm` (`arm-2`): drawn at rest. It turns about `data-pivot`; its tip is at `data-closed` when the
  first pair of the kind is closed and at `data-open` when it is not (for a change-over:
  when the other pair is). `data-rest` says which of the two the file shows. More points stand in
  one attribute, parted by blanks, one an arm.
* `link` (`link-2`): a line from a coil or a sensor. Its end `x2, y2` follows the arm by
  `data-travel` downwards (upwards when negative).
* `actuator`: a button with its stem, moves as a whole by `data-travel`.
* `data-throws`: the tips of a switch of many positions, in their order.
"""
