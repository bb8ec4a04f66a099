"""The actions that put the sheet in order."""

from app.actions.spec import ActionSpec

ACTIONS = (
    ActionSpec("rotate", "&Turn a quarter", "&Arrange", (".", "Ctrl+R"), "rotate"),
    ActionSpec("rotate_back", "Turn &back", "&Arrange", (",", "Ctrl+Shift+R")),
    ActionSpec("mirror", "M&irror left to right", "&Arrange", ("Ctrl+M",)),
    ActionSpec("mirror_down", "Mirror top to b&ottom", "&Arrange", ("Ctrl+Shift+M",)),
    ActionSpec("align_left", "Align &left", "&Arrange", ("Ctrl+Shift+Left",), gap=True),
    ActionSpec("align_centre", "Align &under each other", "&Arrange", ("Ctrl+Alt+C",)),
    ActionSpec("align_right", "Align &right", "&Arrange", ("Ctrl+Shift+Right",)),
    ActionSpec("align_top", "Align to&p", "&Arrange", ("Ctrl+Shift+Up",)),
    ActionSpec("align_middle", "Align be&side each other", "&Arrange", ("Ctrl+Alt+M",)),
    ActionSpec("align_bottom", "Align botto&m", "&Arrange", ("Ctrl+Shift+Down",)),
    ActionSpec("space_across", "Space &across", "&Arrange", ("Ctrl+Alt+H",), gap=True),
    ActionSpec("space_down", "Space &down", "&Arrange", ("Ctrl+Alt+V",)),
    ActionSpec("snap", "Put on the &grid", "&Arrange", ("Ctrl+Alt+G",)),
    ActionSpec("draw_apart", "Draw &coil and contacts apart", "&Arrange", ("Ctrl+B",), gap=True),
    ActionSpec("draw_as_one", "Draw as o&ne again", "&Arrange", ("Ctrl+U",)),
    ActionSpec("hold_other", "Take &hold of the other place", "&Arrange", ("Ctrl+Alt+B",)),
    ActionSpec("route_free", "Let wires &find their own way", "&Arrange"),
    ActionSpec("bend", "Bend the selected &wire", "&Arrange", ("Ctrl+W",)),
    ActionSpec("bend_before", "Bend at the pre&vious piece", "&Arrange", ("Ctrl+Shift+W",)),
    ActionSpec("tidy", "Tid&y the sheet", "&Arrange", ("Ctrl+T",), gap=True),
    ActionSpec("tidy_selected", "Tidy what is s&elected", "&Arrange", ("Ctrl+Shift+T",)),
)
