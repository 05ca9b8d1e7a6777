"""The commands of benchtide, one a file: `add` says what it takes, `run` does it and returns its exit status."""

import argparse
from typing import TypeAlias

Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"
