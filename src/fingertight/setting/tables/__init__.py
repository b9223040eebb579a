"""Published tables, a file each, named after their source; the first lines say edition, table and how it was read."""

import os.path

from fingertight.published import Tables

_HERE = Tables(os.path.dirname(__file__))
rows, about = _HERE.rows, _HERE.about
