"""content/ becomes site/: only what changed is made again, and the last good site stays until the new one is whole.

`shelf` reads themes, `build` makes one pattern's folder (in as many processes as there are cores) in `steps`, `record`
remembers what each step was made from, `folders` lays the new site beside the old one and swaps them, `whole` runs it all.
"""

from generator.publish.record import Report
from generator.publish.whole import publish

__all__ = ["Report", "publish"]
