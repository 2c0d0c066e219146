"""What ezdxf shows for each number of the DXF colour index, 1 to 255: a JSON list of [r, g, b]."""

import json

from ezdxf.colors import aci2rgb

print(json.dumps([list(aci2rgb(number)) for number in range(1, 256)]))
