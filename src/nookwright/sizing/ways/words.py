"""How things are kept that do not stand, lie or lean by themselves: words of kit.json."""

from typing import Final

IN_A_BOX: Final = "in a box"
IN_A_REST: Final = "in a rest"
IN_A_DISPENSER: Final = "in a dispenser"
HEAPED: Final = "heaped"
NESTED: Final = "nested"
