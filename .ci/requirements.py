"""Print what pyproject.toml asks for (with an extra, if named): only that is installed, the app runs in place."""

import sys
import tomllib
from pathlib import Path

project = tomllib.loads((Path(__file__).parent.parent / "pyproject.toml").read_text(encoding="utf-8"))["project"]
wanted = project["dependencies"] if len(sys.argv) == 1 else project["optional-dependencies"][sys.argv[1]]
sys.stdout.write("\n".join(wanted))
